// Without a network: the app opens from what the browser kept, and a newer build is taken as a whole or
// not at all.
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { button, drawn, expect, field, keptLink, now, test, title, type } from "./kit.mjs";
import { DIST, serve } from "./serve.mjs";

/** Resolves when the page's build is kept and its worker answers for the page. */
const kept = (page) => page.evaluate(async () => {
  await navigator.serviceWorker.ready;
  while (!navigator.serviceWorker.controller) await new Promise((done) => setTimeout(done, 20));
});

const asksAnew = (page) => page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update().catch(() => {}));

const newer = (page) => page.getByText("A newer version of Crenel is ready.");

/** A copy of the build under another version, with a mark in its page. */
async function nextBuild() {
  const folder = await mkdtemp(join(tmpdir(), "crenel-next-"));
  await cp(DIST, folder, { recursive: true });
  const edit = async (name, change) => writeFile(join(folder, name), change(await readFile(join(folder, name), "utf8")));
  await edit("index.html", (html) => html.replace('<html lang="en"', '<html lang="en" data-build="next"').replace("<html lang=en", "<html lang=en data-build=next"));
  await edit("service-worker.js", (script) => script.replace(/VERSION = "\w+"/, 'VERSION = "next"'));
  return folder;
}

const build = (page) => page.locator("html").getAttribute("data-build");

test("opens from a cold start without a network, with the work that was kept", async ({ profile }) => {
  const { server, url } = await serve({ under: "/some/folder/" });
  const context = await profile({ baseURL: url });
  const first = await context.newPage();
  await first.goto(url);
  await drawn(first);
  await kept(first);
  await title(first).fill("Out of reach");
  await type(first, "overlap_mm", "4");
  await keptLink(first);
  await first.close();
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
  await context.setOffline(true);

  const page = await context.newPage();
  await page.goto(url);
  await drawn(page);
  await expect(title(page)).toHaveValue("Out of reach");
  await expect(now(page, "free_angle_deg")).toHaveText("12°");
  // What runs beside the page is there too.
  await page.getByRole("button", { name: "Shift", exact: true }).click();
  await expect(page.locator(".view.outcome .straight-in").first()).toBeAttached({ timeout: 20_000 });
  await page.reload();
  await drawn(page);
  await expect(field(page, "overlap_mm")).toHaveValue("4");
});

test("can be installed: a manifest with icons of every kind", async ({ page, request }) => {
  await page.goto("./");
  const address = await page.locator('link[rel="manifest"]').getAttribute("href");
  const manifest = await (await request.get(address)).json();
  expect(manifest).toMatchObject({ short_name: "Crenel", display: "standalone", start_url: "./", scope: "./" });
  expect(manifest.icons.map(({ purpose }) => purpose)).toContain("maskable");
  for (const { src, sizes, type: kind } of manifest.icons) {
    const icon = await request.get(src);
    expect(icon.headers()["content-type"], src).toBe(kind);
    if (kind !== "image/png") continue;
    const bytes = await icon.body();
    expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`, src).toBe(sizes);
  }
});

/** A page on a server whose build can be exchanged for the next one. */
async function onServer(profile, run) {
  const next = await nextBuild();
  let folder = DIST;
  const { server, url } = await serve({ folder: () => folder });
  try {
    const context = await profile({ baseURL: url });
    const page = await context.newPage();
    await page.goto(url);
    await drawn(page);
    await kept(page);
    await run({ context, page, url, next, publish: () => { folder = next; } });
  } finally {
    server.close();
    await rm(next, { recursive: true });
  }
}

test("a newer build waits, is announced in every tab, and is taken whole with the work kept", async ({ profile }) => {
  await onServer(profile, async ({ context, page, url, publish }) => {
    const other = await context.newPage();
    await other.goto(url);
    await drawn(other);
    await type(page, "overlap_mm", "3.5");

    publish();
    await asksAnew(page);
    await expect(newer(page)).toBeVisible();
    await page.reload();
    await drawn(page);
    expect(await build(page), "a reload alone does not take it").toBeNull();
    await expect(newer(page)).toBeVisible();
    await button(page, "Take it now").click();
    await expect.poll(() => build(page).catch(() => null)).toBe("next");
    await drawn(page);
    await expect(field(page, "overlap_mm")).toHaveValue("3.5");
    await expect(newer(page)).toHaveCount(0);

    await expect(other.getByText("Another tab took a newer version")).toBeVisible();
    expect(await build(other)).toBeNull();
    await button(other, "Open anew").click();
    await expect.poll(() => build(other).catch(() => null)).toBe("next");
    const builds = await other.evaluate(() => caches.keys());
    expect(builds.length, "one build before is kept for pages that still run it").toBeLessThanOrEqual(2);
  });
});

test("a build of which a part is missing is not taken", async ({ profile }) => {
  await onServer(profile, async ({ page, next, publish }) => {
    await rm(join(next, "icon-512.png"));
    publish();
    await asksAnew(page);
    await page.reload();
    await drawn(page);
    expect(await build(page)).toBeNull();
    await expect(newer(page)).toHaveCount(0);
  });
});

// Without a network: the app opens from what the browser kept, and a newer build is taken as a whole or
// not at all.
import { createHash } from "node:crypto";
import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { button, drawn, expect, field, keptLink, linkOf, now, test, title, type, go, picture } from "./kit.mjs";
import { DIST, serve } from "./serve.mjs";

/** Resolves when the page's build is kept and its worker answers for the page. */
const kept = (page) => page.evaluate(async () => {
  await navigator.serviceWorker.ready;
  while (!navigator.serviceWorker.controller) await new Promise((done) => setTimeout(done, 20));
});

const asksAnew = (page) =>
  page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update().catch(() => {}));

const newer = (page) => page.getByText("A newer version of Crenel is ready.");

const sha256 = (content) => createHash("sha256").update(content).digest("base64");

/** Writes another file into a build, and its hash into the list of what is kept. */
async function put(folder, name, content) {
  const [at, worker] = [join(folder, name), join(folder, "service-worker.js")];
  const [before, script] = [await readFile(at), await readFile(worker, "utf8")];
  await writeFile(at, content);
  await writeFile(worker, script.replace(sha256(before), sha256(content)));
}

/** Makes a build another one: another version, with a mark in its page. */
async function mark(folder, version) {
  const worker = join(folder, "service-worker.js");
  await writeFile(worker, (await readFile(worker, "utf8")).replace(/VERSION = "\w+"/, `VERSION = "${version}"`));
  const html = await readFile(join(folder, "index.html"), "utf8");
  await put(
    folder,
    "index.html",
    html.replace(/<html lang="?en"?( data-build="\w+")?/, `<html lang="en" data-build="${version}"`),
  );
}

/** A copy of the build under another version, with a mark in its page. */
async function nextBuild() {
  const folder = await mkdtemp(join(tmpdir(), "crenel-next-"));
  await cp(DIST, folder, { recursive: true });
  await mark(folder, "next");
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
  await go(page, "Shift");
  await picture(page, "Chances");
  await expect(page.locator(".view.outcome .straight-in").first()).toBeAttached({ timeout: 20_000 });
  await page.reload();
  await drawn(page);
  await go(page, "Dogs");
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

/** A page on a server whose build can be exchanged for the next one, and what the server has sent. */
async function onServer(profile, run) {
  const next = await nextBuild();
  let folder = DIST;
  const answers = [];
  const { server, url } = await serve({ folder: () => folder, sent: (answer) => answers.push(answer) });
  try {
    const context = await profile({ baseURL: url });
    const page = await context.newPage();
    await page.goto(url);
    await drawn(page);
    await kept(page);
    await run({ context, page, url, next, answers, publish: () => { folder = next; answers.length = 0; } });
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
    await button(page, "Load it now").click();
    await expect.poll(() => build(page).catch(() => null)).toBe("next");
    await drawn(page);
    await expect(field(page, "overlap_mm")).toHaveValue("3.5");
    await expect(newer(page)).toHaveCount(0);

    await expect(other.getByText("Another tab loaded a newer version")).toBeVisible();
    expect(await build(other)).toBeNull();
    await button(other, "Reload").click();
    await expect.poll(() => build(other).catch(() => null)).toBe("next");
    const builds = await other.evaluate(() => caches.keys());
    expect(builds.length, "one build before is kept for pages that still run it").toBeLessThanOrEqual(2);
  });
});

test("a newer build is taken in the tab of the first visit", async ({ profile }) => {
  await onServer(profile, async ({ page, publish }) => {
    publish();
    await asksAnew(page);
    await expect(newer(page)).toBeVisible();
    await button(page, "Load it now").click();
    await expect.poll(() => build(page).catch(() => null)).toBe("next");
    await drawn(page);
    await expect(newer(page)).toHaveCount(0);
  });
});

test("the first visit fetches every file once, the next build only what changed, and both say so", async ({
  profile,
}) => {
  await onServer(profile, async ({ page, answers, publish }) => {
    await expect(page.getByText("✓ works offline")).toBeVisible();
    const sent = answers.filter(({ status }) => status === 200);
    const paths = sent.map(({ path }) => path);
    expect(paths.filter((path, at) => paths.indexOf(path) !== at)).toEqual([]);
    // All that is there, but for what only hosts read.
    const kept = await page.evaluate(async () => (await (await caches.open((await caches.keys())[0])).keys()).length);
    expect(kept).toBeGreaterThan(8);
    expect(paths).toHaveLength(kept + 1);

    publish();
    await asksAnew(page);
    await expect(newer(page)).toBeVisible();
    const changed = answers.filter(({ bytes }) => bytes > 0);
    expect(changed.map(({ path }) => path).sort()).toEqual(["/", "/service-worker.js"]);
    expect(changed.reduce((sum, { bytes }) => sum + bytes, 0)).toBeLessThan(10_000);
  });
});

for (const [what, spoil] of [
  ["is missing", async (next) => {
    await put(next, "icon-512.png", "another");
    await rm(join(next, "icon-512.png"));
  }],
  ["has not arrived yet", (next) => cp(join(DIST, "index.html"), join(next, "index.html"))],
]) {
  test(`a build of which a part ${what} is not taken`, async ({ profile }) => {
    await onServer(profile, async ({ page, next, answers, publish }) => {
      await spoil(next);
      publish();
      await asksAnew(page);
      await expect.poll(() => answers.length).toBeGreaterThan(1);
      await page.reload();
      await drawn(page);
      expect(await build(page)).toBeNull();
      await expect(newer(page)).toHaveCount(0);
      await expect.poll(() => page.evaluate(() => caches.keys()), "nothing is kept of it").toHaveLength(1);
    });
  });
}

// ---- what else stands on the host ----

test("two folders of one host keep a build each, whatever becomes of the other", async ({ profile }) => {
  const host = await mkdtemp(join(tmpdir(), "crenel-host-"));
  for (const folder of ["one", "two", "one/inside"]) await cp(DIST, join(host, folder), { recursive: true });
  const { server, url } = await serve({ folder: host });
  const context = await profile({ baseURL: url });
  const visit = async (page, folder) => {
    await page.goto(`${url}${folder}/index.html`);
    await drawn(page);
  };
  const page = await context.newPage();
  for (const folder of ["one", "two", "one/inside"]) {
    await visit(page, folder);
    await kept(page);
  }
  for (const version of ["second", "third", "fourth"]) {
    await mark(join(host, "two"), version);
    await visit(page, "two");
    await asksAnew(page);
    await expect(newer(page)).toBeVisible();
    await button(page, "Load it now").click();
    await expect.poll(() => build(page).catch(() => null)).toBe(version);
    await drawn(page);
  }
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
  await context.setOffline(true);
  for (const [folder, version] of [["one", null], ["two", "fourth"], ["one/inside", null]]) {
    await visit(page, folder);
    expect(await build(page)).toBe(version);
  }
  await rm(host, { recursive: true });
});

// These are about pages that are not there, which a browser complains of.
test.describe("in the same folder", () => {
  let host, server, url;
  test.beforeAll(async () => {
    host = await mkdtemp(join(tmpdir(), "crenel-host-"));
    await cp(DIST, host, { recursive: true });
    await mkdir(join(host, "notes"));
    await writeFile(join(host, "notes", "index.html"), "<h1>Notes</h1>");
    await writeFile(join(host, "price.html"), "<h1>Prices</h1>");
    ({ server, url } = await serve({ folder: host, under: "/some/folder/" }));
  });
  test.afterAll(async () => {
    server.close();
    await rm(host, { recursive: true });
  });

  test("other pages are not hidden behind the app that is kept", async ({ browser }) => {
    const page = await browser.newPage();
    await page.goto(url);
    await drawn(page);
    await kept(page);
    for (const [name, words] of [
      ["notes/index.html", "Notes"],
      ["price.html", "Prices"],
      ["nowhere", "There is no page here"],
    ]) {
      await page.goto(url + name);
      await expect(page.getByRole("heading")).toHaveText(words);
    }
    await page.goto(`${url}icon.svg`);
    expect(await page.evaluate(() => document.documentElement.nodeName)).toBe("svg");
    for (const name of ["?from=mail", "index.html", "index.html?from=mail"]) {
      await page.goto(url + name);
      await drawn(page);
    }
    await page.close();
  });

  test("a link whose # was coded on the way opens: from the host, and from what is kept", async ({ browser }) => {
    const link = linkOf({ crenel: 1, title: "Coded" });
    const ways = [`%23${link}`, `index.html%23${link}`, `%2523${link}`, `%23${link}&utm_source=mail`, `?a=b%23${link}`];
    for (const way of ways) {
      const page = await browser.newPage();
      await page.goto(url + way);
      await expect(title(page), way).toHaveValue("Coded");
      await kept(page);
      await page.context().setOffline(true);
      await page.goto("about:blank");
      await page.goto(url + way);
      await expect(title(page), `${way} without a network`).toHaveValue("Coded");
      await page.close();
    }
  });
});

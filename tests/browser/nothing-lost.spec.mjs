// A full or forbidden store, two tabs, a crash in the middle of a drag: nothing is lost, and it is said.
import { by, button, drawn, expect, field, hash, keptLink, notice, open, pull, test, title, type } from "./kit.mjs";

test("two tabs on one design keep a work each, and each says so once", async ({ page, context }) => {
  await open(page);
  await type(page, "A.outer_diameter_mm", "61");
  const link = await keptLink(page);
  const other = await context.newPage();
  await open(other, `./#${link}`);
  await type(other, "A.outer_diameter_mm", "62");
  await expect(notice(page)).toContainText("Each tab keeps its own work");
  await type(page, "A.outer_diameter_mm", "63");
  await keptLink(page);
  await keptLink(other);
  for (const [tab, size] of [[page, "63"], [other, "62"]]) {
    await tab.reload();
    await drawn(tab);
    await expect(field(tab, "A.outer_diameter_mm")).toHaveValue(size);
  }
  // Both closed and opened anew without an address: the last one is there, the other one kept.
  await page.close();
  await other.close();
  const fresh = await context.newPage();
  await open(fresh);
  await expect(notice(fresh)).toContainText("One other work is kept too: see Designs.");
  const sizes = [await field(fresh, "A.outer_diameter_mm").inputValue()];
  await button(fresh, "Designs").click();
  await fresh.getByRole("dialog", { name: "Designs" }).locator(".kept").getByRole("button", { name: "Open" }).first().click();
  sizes.push(await field(fresh, "A.outer_diameter_mm").inputValue());
  expect(sizes.sort()).toEqual(["62", "63"]);
});

test("a copied tab does not write over the one it was copied from", async ({ page, context }) => {
  await open(page);
  await type(page, "A.outer_diameter_mm", "61");
  await keptLink(page);
  const names = await page.evaluate(() => ({ ...sessionStorage }));
  const copy = await context.newPage();
  await copy.addInitScript((names) => {
    if (sessionStorage.length === 0) for (const [key, value] of Object.entries(names)) sessionStorage.setItem(key, value);
  }, names);
  await open(copy, page.url());
  await type(copy, "A.outer_diameter_mm", "64");
  await keptLink(copy);
  await page.reload();
  await drawn(page);
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("61");
  expect(await page.evaluate(() => sessionStorage.getItem("crenel.tab"))).not.toBe(
    await copy.evaluate(() => sessionStorage.getItem("crenel.tab")));
});

test("a crash in the middle of a drag takes the drag only", async ({ page, context }) => {
  await open(page);
  await title(page).fill("Before the crash");
  await title(page).press("Enter");
  await pull(page, "Unrolled view", "overlap_mm", by(0, -14));
  const client = await context.newCDPSession(page);
  const crashed = page.waitForEvent("crash");
  // A page that crashes does not answer.
  client.send("Page.crash").catch(() => {});
  await crashed;
  const fresh = await context.newPage();
  await open(fresh);
  await expect(title(fresh)).toHaveValue("Before the crash");
  await expect(field(fresh, "overlap_mm")).toHaveValue("4.5");
  await expect(notice(fresh)).toContainText("Brought back from this browser");
});

test("the store fills up in the middle of the work: it is said, and the address still holds everything", async ({ page }) => {
  await open(page);
  await page.evaluate(() => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; });
  await type(page, "A.outer_diameter_mm", "61");
  await expect(notice(page)).toContainText("does not let the page keep your work");
  await type(page, "A.outer_diameter_mm", "62");
  await page.waitForTimeout(400);
  const link = await hash(page);
  await page.goto("about:blank");
  await open(page, `./#${link}`);
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("62");
});

// These two are about errors, so they run in a profile where errors are not complained of.
test("a trap inside the module is said plainly, and the work is there when opened again", async ({ browser, baseURL }) => {
  const page = await browser.newPage({ baseURL });
  await open(page);
  await title(page).fill("Before it stopped");
  await title(page).press("Enter");
  await keptLink(page);
  // A module that only traps: what a fault or lack of memory inside ours does.
  await page.evaluate(() => {
    const bytes = [0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 7, 5, 1, 1, 116, 0, 0, 10, 5, 1, 3, 0, 0, 11];
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(bytes)));
    addEventListener("pointermove", exports.t, { once: true });
  });
  await page.mouse.move(300, 300);
  await page.mouse.move(310, 300);
  const alert = page.getByRole("alert").filter({ hasText: "Crenel has stopped" });
  await expect(alert).toBeVisible();
  await expect(alert).toContainText("Your work is kept in this browser up to the last finished change");
  await alert.getByRole("link", { name: "Open it again" }).click();
  await drawn(page);
  await expect(title(page)).toHaveValue("Before it stopped");
  await page.close();
});

test("a module that cannot be fetched is said plainly", async ({ browser, baseURL }) => {
  const page = await browser.newPage({ baseURL });
  await page.route(/_bg\.wasm$/, (route) => route.abort());
  await page.goto("./");
  await expect(page.getByRole("alert").filter({ hasText: "could not be loaded" })).toBeVisible();
  await page.close();
});

test("what fails before the page has a body is said too", async ({ browser, baseURL }) => {
  const page = await browser.newPage({ baseURL });
  const errors = [];
  page.on("pageerror", ({ message }) => errors.push(message));
  await page.addInitScript(() => {
    const listen = window.addEventListener;
    window.addEventListener = (kind, ...rest) => {
      listen.call(window, kind, ...rest);
      // The page has just begun to listen, in its head.
      if (kind === "unhandledrejection") dispatchEvent(new ErrorEvent("error", { error: new WebAssembly.RuntimeError("early") }));
    };
  });
  await page.goto("./");
  await expect(page.getByRole("alert").filter({ hasText: "Crenel has stopped" })).toBeVisible();
  expect(errors).toEqual([]);
  await page.close();
});

test("somebody else's fault while the page opens is no longer told as ours once it is open", async ({ browser, baseURL }) => {
  const page = await browser.newPage({ baseURL });
  const waiting = [];
  let go = false;
  await page.route(/_bg\.wasm$/, (route) => (go ? route.fallback() : waiting.push(route)));
  await page.goto("./", { waitUntil: "commit" });
  await page.waitForSelector("#opening");
  // As of an extension of the browser.
  await page.evaluate(() => dispatchEvent(new ErrorEvent("error", { error: new Error("not ours") })));
  await expect(page.getByText("could not be loaded")).toBeVisible();
  go = true;
  for (const route of waiting) await route.fallback();
  await drawn(page);
  await expect(page.getByText("could not be loaded")).toHaveCount(0);
  await page.close();
});

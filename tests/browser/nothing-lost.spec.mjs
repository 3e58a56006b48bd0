// A full or forbidden store, two tabs, a crash in the middle of a drag: nothing is lost, and it is said.
import {
  board, by, button, drawn, expect, field, go, hash, keptLink, linkOf, notice, open, openDesigns, PLANNED, pull,
  test, title, type, works,
} from "./kit.mjs";

const designs = (page) => page.getByRole("dialog", { name: "Designs" });

/** A work as it is kept, with some design. */
const keptWork = (design, at = 1) => JSON.stringify({ at, design: { crenel: 1, ...design }, opened: null });

/** The overlaps of all works that a fresh tab finds. */
async function overlapsFound(context) {
  const fresh = await context.newPage();
  await open(fresh);
  const found = [await field(fresh, "overlap_mm").inputValue()];
  await openDesigns(fresh);
  const others = await designs(fresh).locator(".kept li").count();
  await button(designs(fresh), "Close").click();
  for (let at = 0; at < others; at += 1) {
    await openDesigns(fresh);
    await button(designs(fresh).locator(".kept"), "Open").first().click();
    found.push(await field(fresh, "overlap_mm").inputValue());
  }
  return [...new Set(found)].sort();
}

test("looking through the whole gallery leaves one's own work where it is, and takes no room", async ({
  page,
  context,
}) => {
  await open(page);
  expect(await works(page), "the example is nobody's work").toEqual([]);
  await title(page).fill("MY OWN WORK");
  await title(page).press("Enter");
  await openDesigns(page);
  const examples = designs(page).getByRole("button", { name: /^Open: / });
  const count = await examples.count();
  expect(count).toBeGreaterThan(12);
  for (let at = 0; at < count; at += 1) {
    await examples.nth(at).click();
    await expect(notice(page)).toContainText("Undo returns to your earlier work.");
    await openDesigns(page);
  }
  await expect(designs(page).locator(".kept li")).toHaveCount(1);
  await expect(designs(page).locator(".kept li")).toContainText("MY OWN WORK");
  expect((await works(page)).map(({ design }) => design.title)).toEqual(["MY OWN WORK"]);
  await page.close();
  const fresh = await context.newPage();
  await open(fresh);
  await expect(title(fresh)).toHaveValue("MY OWN WORK");
});

test("an example that was changed is a work, and none again once that is undone", async ({ page }) => {
  await open(page);
  await type(page, "overlap_mm", "3.21");
  await expect.poll(async () => (await works(page)).length).toBe(1);
  await button(page, "Undo").click();
  await expect.poll(async () => (await works(page)).length).toBe(0);
});

for (const edited of ["first", "second"]) {
  test(`two tabs on one address, of which the ${edited} is edited: both are found after a restart`, async ({
    page,
    context,
  }) => {
    await open(page);
    await title(page).fill("MINE");
    await type(page, "overlap_mm", "3.21");
    const link = await keptLink(page);
    const other = await context.newPage();
    await open(other, `./#${link}`);
    await keptLink(other);
    const tab = edited === "first" ? page : other;
    await type(tab, "overlap_mm", "2.5");
    await keptLink(tab);
    await page.close();
    await other.close();
    expect(await overlapsFound(context)).toEqual(["2.5", "3.21"]);
  });
}

test("what two tabs hold alike is shown once, and is one work when one of them is closed", async ({
  page,
  context,
}) => {
  await open(page);
  await type(page, "overlap_mm", "3.21");
  const link = await keptLink(page);
  const other = await context.newPage();
  await open(other, `./#${link}`);
  await keptLink(other);
  await openDesigns(other);
  await expect(designs(other)).toContainText("Invented examples");
  await expect(designs(other).locator(".kept")).toBeHidden();
  expect(await works(other)).toHaveLength(2);
  await page.close();
  const third = await context.newPage();
  await open(third, `./#${link}`);
  // That of the closed tab is taken over, that of the open one stays.
  await expect.poll(async () => (await works(third)).length).toBe(2);
  await other.close();
  const fresh = await context.newPage();
  await open(fresh);
  await expect(field(fresh, "overlap_mm")).toHaveValue("3.21");
  await third.close();
  await fresh.reload();
  await drawn(fresh);
  await expect.poll(async () => (await works(fresh)).length).toBe(1);
});

test("many works of the form before this one all stay, whatever is opened and changed", async ({
  page,
  context,
  baseURL,
}) => {
  await page.goto(new URL("icon.svg", baseURL).href);
  const kept = Object.fromEntries(
    Array.from({ length: 13 }, (_, at) => [
      `crenel.work.${1000 + at}`,
      keptWork({ title: `Work ${at}`, overlap_mm: 2 + at / 10 }, at),
    ]),
  );
  await page.evaluate((kept) => Object.assign(localStorage, kept), kept);
  await open(page);
  await expect(title(page), "the newest is on the board").toHaveValue("Work 12");
  await title(page).fill("Mine");
  await title(page).press("Enter");
  const other = await context.newPage();
  await open(other, `./#${linkOf({ crenel: 1, title: "A friend's" })}`);
  await type(other, "overlap_mm", "1.5");
  await keptLink(other);
  await openDesigns(other);
  const items = designs(other).locator(".kept li");
  await expect(items).toHaveCount(13);
  for (let at = 0; at < 12; at += 1)
    await expect(
      items.filter({ hasText: `Work ${at}2` }).or(items.filter({ hasText: new RegExp(`Work ${at}\\D`) })),
    ).toHaveCount(1);
  const mine = items.filter({ hasText: "Mine" });
  await expect(mine).toContainText("Open in another tab.");
  await expect(button(mine, "Open a copy")).toBeVisible();
  await expect(mine.getByRole("button")).toHaveCount(1);
});

test("undo across an opened example comes back to the work in its own place", async ({ page }) => {
  await open(page);
  await title(page).fill("Mine");
  await title(page).press("Enter");
  await openDesigns(page);
  await button(page, "Open: Flanks worn round").click();
  await button(page, "Undo").click();
  await go(page, "Dogs");
  await type(page, "overlap_mm", "3.5");
  await keptLink(page);
  expect((await works(page)).map(({ design }) => [design.title, design.overlap_mm])).toEqual([["Mine", 3.5]]);
});

test("a full store is said with its numbers, takes nothing away, and is cleared from there", async ({
  page,
  baseURL,
}) => {
  await page.goto(new URL("icon.svg", baseURL).href);
  await page.evaluate(
    (text) => localStorage.setItem("crenel.work.7", text),
    keptWork({ title: "A heavy one", notes: "x".repeat(1_999_900) }),
  );
  await open(page, `./#${linkOf({ crenel: 1, title: "A friend's" })}`);
  await button(page, "Dismiss").click();
  await type(page, "overlap_mm", "3.21");
  await expect(notice(page)).toContainText(
    "There is no room left in this browser for your changes: 1 design takes 2000 kB. Nothing was deleted.",
  );
  expect((await works(page)).map(({ design }) => design.title)).toEqual(["A heavy one"]);
  await button(page, "Show kept designs").click();
  await button(designs(page), "Delete A heavy one").click();
  await expect(notice(page)).toHaveCount(0);
  expect((await works(page)).map(({ design }) => design.overlap_mm)).toEqual([3.21]);
  // There is no way back into a room that is taken.
  await button(designs(page), "Restore A heavy one").click();
  await expect(designs(page)).toContainText("No room left to restore A heavy one.");
  await button(designs(page), "Close").click();
});

test("a full store is said once, and again when it is full after there was room", async ({ page }) => {
  await open(page);
  const full = (is) => page.evaluate((is) => {
    globalThis.put ??= Storage.prototype.setItem;
    Storage.prototype.setItem = is ? () => { throw new DOMException("full", "QuotaExceededError"); } : globalThis.put;
  }, is);
  await type(page, "overlap_mm", "3.1");
  await full(true);
  await type(page, "overlap_mm", "3.2");
  await expect(notice(page)).toContainText("There is no room left in this browser");
  await button(page, "Dismiss").click();
  await type(page, "overlap_mm", "3.3");
  await page.waitForTimeout(100);
  await expect(notice(page), "whoever dismissed it has read it").toHaveCount(0);
  await full(false);
  await type(page, "overlap_mm", "3.4");
  await keptLink(page);
  await full(true);
  await type(page, "overlap_mm", "3.5");
  await expect(notice(page)).toContainText("There is no room left in this browser");
  await full(false);
});

// ---- typed and not left ----

test("a number typed but not left is there after a reload and after closing", async ({ page, context }) => {
  await open(page);
  await field(page, "A.outer_diameter_mm").fill("61");
  await page.reload();
  await drawn(page);
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("61");
  await field(page, "A.outer_diameter_mm").fill("62");
  await title(page).fill("Typed and left alone");
  await page.goto("about:blank");
  await page.close();
  const fresh = await context.newPage();
  await open(fresh);
  await expect(field(fresh, "A.outer_diameter_mm")).toHaveValue("62");
  await expect(title(fresh)).toHaveValue("Typed and left alone");
});

test("a text that is no number stays in its field over a reload and over another part of the job", async ({ page }) => {
  await open(page);
  const size = field(page, "A.outer_diameter_mm");
  const before = await size.inputValue();
  await size.fill("61 or so");
  const heights = page.getByLabel("Height pattern").first();
  await heights.fill("1 and 2");
  await heights.press("Tab");
  await size.fill("61 or so");
  for (const again of [
    () => page.reload().then(() => drawn(page)),
    () => go(page, "Shift").then(() => go(page, "Dogs")),
  ]) {
    await again();
    await expect(size).toHaveValue("61 or so");
    await expect(size).toHaveAttribute("aria-invalid", "true");
    await expect(heights).toHaveValue("1 and 2");
  }
  expect((await board(page)).opened, "the design is as it was").toBe(null);
  await size.press("Escape");
  await expect(size).toHaveValue(before);
  await page.reload();
  await drawn(page);
  await expect(size).toHaveValue(before);
});

test("what stands in the inspection tables outlives a reload", async ({ page }) => {
  await open(page, `./#${linkOf(PLANNED)}`);
  await go(page, "Sheets");
  const cell = page.getByLabel("Dog A1: measured dog width");
  await cell.fill("23.7");
  await page.reload();
  await expect(page.locator("main")).toBeVisible();
  await go(page, "Sheets");
  await expect(cell).toHaveValue("23.7");
});

/** Takes the page out of sight or back, as another window in front of it does. */
const sight = (page, state) => page.evaluate((state) => {
  Object.defineProperty(document, "visibilityState", { configurable: true, get: () => state });
  document.dispatchEvent(new Event("visibilitychange"));
}, state);

test("a page out of sight has kept what is typed, and goes on with it when it is back", async ({ page }) => {
  await open(page);
  const size = field(page, "A.outer_diameter_mm");
  await size.fill("61.");
  await sight(page, "hidden");
  await expect.poll(async () => (await works(page)).map(({ design }) => design.a.outer_diameter_mm)).toEqual([61]);
  await sight(page, "visible");
  await expect(size).toHaveValue("61.");
  await expect(button(page, "Undo")).toBeDisabled();
  await size.pressSequentially("5");
  await size.press("Enter");
  await expect(size).toHaveValue("61.5");
  await button(page, "Undo").click();
  await expect(button(page, "Undo")).toBeDisabled();
});

// ---- undo ----

test("undo and redo outlive a reload", async ({ page }) => {
  await open(page);
  const size = field(page, "A.outer_diameter_mm");
  const first = await size.inputValue();
  await type(page, "A.outer_diameter_mm", "61");
  await type(page, "A.outer_diameter_mm", "62");
  await page.reload();
  await drawn(page);
  await button(page, "Undo").click();
  await expect(size).toHaveValue("61");
  await page.reload();
  await drawn(page);
  await expect(size).toHaveValue("61");
  await button(page, "Redo").click();
  await expect(size).toHaveValue("62");
  await button(page, "Undo").click();
  await button(page, "Undo").click();
  await expect(size).toHaveValue(first);
  await expect(button(page, "Undo")).toBeDisabled();
});

test("another link in the same tab is a step that is undone", async ({ page }) => {
  await open(page);
  await title(page).fill("Mine");
  await title(page).press("Enter");
  await keptLink(page);
  await page.goto("about:blank");
  await open(page, `./#${linkOf({ crenel: 1, title: "A friend's" })}`);
  await expect(title(page)).toHaveValue("A friend's");
  await button(page, "Undo").click();
  await expect(title(page)).toHaveValue("Mine");
});

test("that the oldest step has gone is said once", async ({ page }) => {
  await open(page);
  await title(page).fill("Mine");
  await title(page).press("Enter");
  await keptLink(page);
  // A past that takes nearly all there is room for, put in place of this one on the way.
  await page.addInitScript(() => {
    if (sessionStorage.getItem("test.filled")) return;
    const history = JSON.parse(sessionStorage.getItem("crenel.history"));
    history.past = [[0, 0, "x".repeat(499_000)], ...history.past];
    sessionStorage.setItem("crenel.history", JSON.stringify(history));
    sessionStorage.setItem("test.filled", "yes");
  });
  await page.reload();
  await drawn(page);
  const said = page.getByText("The oldest Undo steps were deleted");
  const notes = page.getByLabel("Notes");
  await notes.fill("n".repeat(3900));
  await notes.blur();
  await expect(said).toHaveCount(0);
  await notes.fill("short");
  await notes.blur();
  await expect(page.locator(".flash")).toContainText("The oldest Undo steps were deleted");
  await expect(page.locator(".flash")).toHaveCount(0);
  await notes.fill("shorter");
  await notes.blur();
  await page.waitForTimeout(300);
  await expect(page.locator(".flash")).toHaveCount(0);
  for (let step = 0; step < 4; step += 1) await button(page, "Undo").click();
  await expect(button(page, "Undo")).toBeDisabled();
});

test("the browser is asked once not to clear what is kept, and only when there is something of one's own", async ({
  page,
}) => {
  await page.addInitScript(() => {
    StorageManager.prototype.persist = async () => {
      localStorage.setItem("test.asked", String(Number(localStorage.getItem("test.asked")) + 1));
      return true;
    };
  });
  const asked = () => page.evaluate(() => localStorage.getItem("test.asked"));
  await open(page, `./#${linkOf({ crenel: 1, title: "A friend's" })}`);
  await openDesigns(page);
  await button(page, "Open: Flanks worn round").click();
  await keptLink(page);
  expect(await asked()).toBe(null);
  await go(page, "Dogs");
  await type(page, "overlap_mm", "3.21");
  await expect.poll(asked).toBe("1");
  await page.reload();
  await drawn(page);
  await type(page, "overlap_mm", "3.22");
  await keptLink(page);
  expect(await asked()).toBe("1");
});

test("a page back out of the browser's memory does not write over the one that took its place", async ({ page }) => {
  await open(page);
  await title(page).fill("Of the first page");
  await title(page).press("Enter");
  await keptLink(page);
  const pass = (name) =>
    page.evaluate((name) => dispatchEvent(new PageTransitionEvent(name, { persisted: true })), name);
  await pass("pagehide");
  // What the next page of the tab does: it takes the place up and works there.
  const name = await page.evaluate((work) => {
    const tab = sessionStorage.getItem("crenel.tab");
    sessionStorage.removeItem("crenel.tab.left");
    localStorage.setItem(`crenel.work.${tab}`, work);
    return tab;
  }, keptWork({ title: "Of the second page" }));
  await pass("pageshow");
  await type(page, "overlap_mm", "3.21");
  await keptLink(page);
  expect(await page.evaluate(() => sessionStorage.getItem("crenel.tab"))).not.toBe(name);
  expect((await works(page)).map(({ design }) => design.title).sort()).toEqual([
    "Of the first page",
    "Of the second page",
  ]);
});

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
  await expect(notice(fresh)).toContainText("1 other design is kept too: see Designs in the menu.");
  const sizes = [await field(fresh, "A.outer_diameter_mm").inputValue()];
  await openDesigns(fresh);
  await fresh
    .getByRole("dialog", { name: "Designs" })
    .locator(".kept")
    .getByRole("button", { name: "Open" })
    .first()
    .click();
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
    if (sessionStorage.length === 0)
      for (const [key, value] of Object.entries(names)) sessionStorage.setItem(key, value);
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
  await pull(page, "Developed view", "overlap_mm", by(0, -14));
  const client = await context.newCDPSession(page);
  const crashed = page.waitForEvent("crash");
  // A page that crashes does not answer.
  client.send("Page.crash").catch(() => {});
  await crashed;
  const fresh = await context.newPage();
  await open(fresh);
  await expect(title(fresh)).toHaveValue("Before the crash");
  await expect(field(fresh, "overlap_mm")).toHaveValue("4.5");
  await expect(notice(fresh)).toContainText("Restored from this browser");
});

test("the store fills up in the middle of the work: it is said, and the address still holds everything", async ({
  page,
}) => {
  await open(page);
  await type(page, "A.outer_diameter_mm", "60.5");
  await page.evaluate(() => {
    Storage.prototype.setItem = () => {
      throw new DOMException("full", "QuotaExceededError");
    };
  });
  await type(page, "A.outer_diameter_mm", "61");
  await expect(notice(page)).toContainText("There is no room left in this browser");
  await type(page, "A.outer_diameter_mm", "62");
  await page.waitForTimeout(400);
  const link = await hash(page);
  await page.goto("about:blank");
  await open(page, `./#${link}`);
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("62");
});

// These two are about errors, so they run in a profile where errors are not complained of.
test("a trap inside the module is said plainly, and the work is there when opened again", async ({
  browser,
  baseURL,
}) => {
  const page = await browser.newPage({ baseURL });
  await open(page);
  await button(page, "Try the example").click();
  await title(page).fill("Before it stopped");
  await title(page).press("Enter");
  await keptLink(page);
  // A module that only traps: what a fault or lack of memory inside ours does.
  await page.evaluate(() => {
    const bytes = [
      0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 7, 5, 1, 1, 116, 0, 0, 10, 5, 1, 3, 0, 0, 11,
    ];
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(bytes)));
    addEventListener("pointermove", exports.t, { once: true });
  });
  await page.mouse.move(300, 300);
  await page.mouse.move(310, 300);
  const alert = page.getByRole("alert").filter({ hasText: "Crenel has stopped" });
  await expect(alert).toBeVisible();
  await expect(alert).toContainText("Your work is kept in this browser up to the last finished change");
  await alert.getByRole("link", { name: "Reload" }).click();
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
      if (kind === "unhandledrejection")
        dispatchEvent(new ErrorEvent("error", { error: new WebAssembly.RuntimeError("early") }));
    };
  });
  await page.goto("./");
  await expect(page.getByRole("alert").filter({ hasText: "Crenel has stopped" })).toBeVisible();
  expect(errors).toEqual([]);
  await page.close();
});

test("somebody else's fault while the page opens is no longer told as ours once it is open", async ({
  browser,
  baseURL,
}) => {
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

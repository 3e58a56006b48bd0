// A machinist asks for the smallest cut with ceilings, weighs what is offered, and sees what tolerances do.
import {
  board, dogButton, expect, field, figure, go, keptLink, linkOf, now, open, PAPER_AND_SLATE, pull, putUp,
  sideways, test, turned, type, violations, violationsIn,
} from "./kit.mjs";

/** A search takes longer where page, worker and other tests share two cores. */
const SEARCHED = { timeout: 20_000 };

const targets = (page) => page.getByRole("group", { name: "Smallest cut for a target", exact: true });
const table = (page) => targets(page).getByRole("table", { name: "Offers", exact: true });
const offers = (page) => table(page).locator("tbody");
const search = (page) => targets(page).getByRole("button", { name: "Find the smallest cut" });
const cancel = (page) => targets(page).getByRole("button", { name: "Cancel the search" });
const progress = (page) => targets(page).getByRole("progressbar", { name: "Searching for the smallest cut" });
const head = (page, name) => table(page).getByRole("columnheader", { name });
const column = async (page, name) =>
  (await table(page).locator(`td[data-head="${name}"]`).allTextContents()).map((text) =>
    Number.parseFloat(text.replace("▲ ", "")));
const up = (numbers) => [...numbers].sort((a, b) => a - b);
const said = (page, words) => page.getByRole("status").filter({ hasText: words });

async function openPlan(page, design = { crenel: 1, wished_window_ms: 10 }) {
  await open(page, `./#${linkOf(design)}`);
  await go(page, "Plan");
}

/** Lets the search offer cuts past a limit, too. */
const anyCut = (page) => targets(page).getByRole("checkbox", { name: "No limit crossed" }).uncheck();

/** Six dogs of six widths on either ring: every dog is searched by itself, which takes a while. */
const UNEVEN = {
  crenel: 1,
  wished_window_ms: 20,
  ...Object.fromEntries(["a", "b"].map((ring, of) => [ring, {
    dogs: Array.from({ length: 12 }, (_, at) => ({
      centre_deg: 30 * at + 0.4 * Math.sin(7 * at + of),
      tip_width_deg: 10 + Math.sin(3 * at + of),
      height_mm: 5 + 0.05 * Math.cos(5 * at + of),
    })),
  }])),
};

test("the search runs beside the page, says how far it is, and is cancelled", async ({ page }) => {
  await openPlan(page, UNEVEN);
  await page.evaluate(() => {
    window.longest = 0;
    let last = performance.now();
    const look = (at) => {
      window.longest = Math.max(window.longest, at - last);
      last = at;
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  await search(page).click();
  await expect(progress(page)).toBeVisible();
  await expect(targets(page)).toContainText(/\d+ of \d+ ways of cutting tried/);
  await expect(cancel(page), "the button that was pressed").toBeFocused();
  await cancel(page).click();
  await expect(progress(page)).toHaveCount(0);
  await expect(search(page)).toBeVisible();
  await expect(table(page)).toHaveCount(0);

  await search(page).click();
  await expect(progress(page)).toBeVisible();
  await type(page, "wished_window_ms", "21");
  await expect(said(page, "Search ended: the design or the target changed.")).toHaveCount(1);
  await expect(progress(page), "a change ends it").toHaveCount(0);
  await search(page).click();
  await expect(offers(page).first()).toBeVisible({ timeout: 30_000 });
  await expect(progress(page)).toHaveCount(0);
  expect(await page.evaluate(() => window.longest), "no frame waits for it, ms").toBeLessThan(600);
});

test("offers are a table that is sorted by a press on a head", async ({ page }) => {
  await openPlan(page);
  await search(page).click();
  await expect(offers(page).nth(2)).toBeVisible(SEARCHED);
  for (const name of ["Metal", "Lash", "Worst stress"]) {
    await head(page, name).getByRole("button").click();
    await expect(head(page, name)).toHaveAttribute("aria-sort", "ascending");
    const values = await column(page, name);
    expect(values, name).toEqual(up(values));
    await head(page, name).getByRole("button").press("Enter");
    await expect(head(page, name)).toHaveAttribute("aria-sort", "descending");
    expect(await column(page, name), name).toEqual(up(values).reverse());
  }
  await expect(head(page, "Metal")).toHaveAttribute("aria-sort", "none");
  await head(page, "Window time").getByRole("button").click();
  const times = await column(page, "Window time");
  expect(times, "the longest first").toEqual(up(times).reverse());
  await expect(targets(page)).toContainText("Searched: each dog on its own");
  await expect(targets(page)).toContainText("in steps of 0.05 mm");
});

test("a wish has ceilings and a step, which the tab remembers", async ({ page }) => {
  await openPlan(page);
  const ceiling = (name) => targets(page).getByRole("textbox", { name });
  const set = async (name, text) => {
    await ceiling(name).fill(text);
    await ceiling(name).press("Enter");
  };
  await anyCut(page);
  await search(page).click();
  await expect(offers(page).first()).toBeVisible(SEARCHED);
  const [lightest] = await column(page, "Metal");
  const free = await column(page, "Lash");
  expect(Math.max(...free), "without a ceiling").toBeGreaterThan(13);

  await set("Lash, at most", "13");
  await expect(table(page), "the answer to another wish is gone").toHaveCount(0);
  await targets(page).getByRole("combobox", { name: "Smallest step my machine can cut" }).selectOption({ label: "0.01 mm" });
  await search(page).click();
  await expect(offers(page).first()).toBeVisible(SEARCHED);
  for (const lash of await column(page, "Lash")) expect(lash).toBeLessThanOrEqual(13);
  await expect(targets(page)).toContainText("in steps of 0.01 mm");

  await page.reload();
  await putUp(page);
  await expect(ceiling("Lash, at most")).toHaveValue("13");
  await expect(targets(page).getByRole("combobox", { name: "Smallest step my machine can cut" })).toContainText("0.01 mm");
  const saved = await keptLink(page);
  await set("Lash, at most", "");
  await set("Metal removed, at most", String(lightest / 10));
  await search(page).click();
  await expect(targets(page)).toContainText(/within these ceilings/, SEARCHED);
  expect(await keptLink(page), "a wish is no part of the design").toBe(saved);

  await set("Metal removed, at most", "a bit");
  await expect(targets(page).locator(".wrong").filter({ hasText: "a bit" })).toBeVisible();
  await expect(ceiling("Metal removed, at most")).toHaveValue("a bit");
  await set("Metal removed, at most", "-1");
  await expect(targets(page)).toContainText("Enter 0 or more, or leave it empty.");
});

test("no limit crossed leaves out what is not advisable, and nominal sizes take less", async ({ page }) => {
  await openPlan(page);
  const least = async () => {
    await search(page).click();
    await expect(offers(page).first()).toBeVisible(SEARCHED);
    return (await column(page, "Metal"))[0];
  };
  const tick = (name) => targets(page).getByRole("checkbox", { name });
  await expect(tick("No limit crossed")).toBeChecked();
  await least();
  await expect(targets(page).locator(".harmful")).toHaveCount(0);
  await expect(offers(page).locator(".past").filter({ hasText: "past the limit" })).toHaveCount(0);
  await tick("No limit crossed").uncheck();
  const holding = await least();
  await expect(targets(page).locator(".harmful")).toHaveCount(1);
  await tick("Still meets the target at worst sizes").uncheck();
  expect(await least()).toBeLessThan(holding);
  await expect(offers(page).first()).toContainText("No tolerance to spare");
});

test("offers can be read and taken by everybody", async ({ page }) => {
  await openPlan(page);
  await anyCut(page);
  await search(page).click();
  await expect(offers(page).first()).toBeVisible(SEARCHED);
  await offers(page).first().getByRole("button", { name: "Details" }).press("Enter");
  await targets(page).locator(".harmful > summary").press("Enter");
  expect.soft(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
  const before = await now(page, "window_time_ms").textContent();
  await offers(page).first().getByRole("button", { name: "Add to the plan" }).press("Enter");
  await expect(said(page, "Added to the plan.")).toHaveCount(1);
  await expect(now(page, "window_time_ms")).not.toHaveText(before);
});

// ---- ranges over tolerances ----

const range = (page, key) => figure(page, key).locator("summary span.range");
const ends = async (page, key) =>
  (await range(page, key).textContent()).split(" … ").map((text) => Number.parseFloat(text));
const limits = (page, key) => page.locator(`[data-limits="${key}"]`);
const tolerances = async (page) => (await board(page)).design.tolerances;

test("figures show their range beside the nominal, and what drives it in the opened row", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1 })}`);
  await expect(range(page, "lash_deg")).toHaveText(/^[\d.]+ … [\d.]+$/);
  const nominal = Number.parseFloat(await now(page, "lash_deg").textContent());
  const [least, greatest] = await ends(page, "lash_deg");
  expect(least).toBeLessThan(nominal);
  expect(greatest).toBeGreaterThan(nominal);
  await expect(range(page, "window_time_ms")).not.toBeEmpty();
  await expect(range(page, "full_depth_mm"), "it has none").toHaveCount(1);
  await expect(range(page, "full_depth_mm")).toBeEmpty();
  await figure(page, "lash_deg").locator("summary").click();
  const told = figure(page, "lash_deg").locator(".spans");
  await expect(told).toContainText(/Worst case\s*[\d.]+° … [\d.]+°/);
  await expect(told).toContainText(/5 · 50 · 95 % of parts\s*[\d.]+° · [\d.]+° · [\d.]+°/);
  await expect(told.locator("li")).toHaveCount(3);
  await expect(told.locator("li").first()).toContainText(/^Ring [AB], dog \d, .*[\d.]+° … [\d.]+°$/);

  // A finer grade makes them narrower.
  await page.getByRole("combobox", { name: "General tolerance (ISO 2768-1)" }).selectOption({ label: "f (fine)" });
  await expect.poll(async () => (await tolerances(page))?.grade).toBe("f");
  await expect(range(page, "lash_deg")).toHaveText(/^[\d.]+ … [\d.]+$/);
  const [finer] = await ends(page, "lash_deg");
  expect(finer).toBeGreaterThan(least);
});

test("a drag is not held up by ranges, which come once it is still", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1 })}`);
  await expect(range(page, "lash_deg")).not.toBeEmpty();
  await pull(page, "Face view", "phase_deg", turned(4));
  await expect(range(page, "lash_deg"), "what is known of another design is gone or new").toHaveCount(1);
  await page.mouse.up();
  const began = Date.now();
  await type(page, "A.height_mm", "4.6");
  await expect(range(page, "lash_deg")).toHaveText(/…/);
  expect(Date.now() - began, "soon, ms").toBeLessThan(2500);
});

test("rows of results stay where they are while their ranges are found anew", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1 })}`);
  await expect(range(page, "lash_deg")).not.toBeEmpty();
  await page.evaluate(() => {
    window.heights = new Set();
    window.wasEmpty = false;
    const look = () => {
      const row = document.querySelector('[data-key="lash_deg"] summary');
      window.wasEmpty ||= row.querySelector(".range").textContent === "";
      // The row of a changed figure has a line more: what it was.
      if (!row.querySelector(".was").textContent) window.heights.add(row.offsetHeight);
      requestAnimationFrame(look);
    };
    look();
  });
  // The lash does not follow from how far the rings are turned, but its range is found again.
  await pull(page, "Face view", "phase_deg", turned(4));
  await page.mouse.up();
  await expect.poll(() => page.evaluate(() => window.wasEmpty)).toBe(true);
  await expect(range(page, "lash_deg")).toHaveText(/…/);
  expect(await page.evaluate(() => [...window.heights])).toHaveLength(1);
});

test("a tolerance is typed behind its size, or for all dogs of a ring", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1 })}`);
  await type(page, "A.height_mm", "4.8 +0/-0.12");
  await expect(field(page, "A.height_mm")).toHaveValue("4.8");
  await expect(limits(page, "A.height_mm")).toHaveValue("+0/−0.12");
  await expect.poll(async () => JSON.stringify((await tolerances(page))?.planned)).toContain("0.12");
  await type(page, "A.height_mm", "±0.05");
  await expect(field(page, "A.height_mm"), "a tolerance alone leaves the size").toHaveValue("4.8");
  await expect(limits(page, "A.height_mm")).toHaveValue("±0.05");
  await expect(range(page, "window_time_ms")).not.toBeEmpty();
  const before = await ends(page, "window_time_ms");
  await limits(page, "A.tip_width_deg").fill("1");
  await limits(page, "A.tip_width_deg").press("Enter");
  await expect(limits(page, "A.tip_width_deg")).toHaveValue("±1");
  await expect.poll(async () => (await ends(page, "window_time_ms"))[0]).toBeLessThan(before[0]);
  await limits(page, "A.tip_width_deg").fill("a bit");
  await limits(page, "A.tip_width_deg").press("Enter");
  await expect(page.locator(".tolerances .wrong:not(:empty)")).toContainText("a bit");
  await type(page, "A.height_mm", "4.8 ±9");
  await expect(page.locator(".wrong:not(:empty)").filter({ hasText: "±9" })).toContainText("is not a tolerance from 0 to 5 mm");
  await page.keyboard.press("Control+z");
  expect.soft(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test("offers are rows of two lines that fit a finger", async ({ page }) => {
    await openPlan(page);
    await anyCut(page);
    await search(page).tap();
    await expect(offers(page).first()).toBeVisible(SEARCHED);
    await targets(page).locator(".harmful > summary").tap();
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    const low = await targets(page).locator("button, summary, input[type=text], select, .tick").evaluateAll((all) => all
      .map((at) => [at.textContent.slice(0, 40) || at.className, at.getBoundingClientRect()])
      .filter(([, { width, height }]) => height < 44 || width < 44)
      .map(([name, { width, height }]) => `${name}: ${width} × ${height}`));
    expect(low, "fits a finger").toEqual([]);
    expect.soft(await violations(page)).toEqual([]);
    await offers(page).first().getByRole("button", { name: "Add to the plan" }).tap();
    await expect(said(page, "Added to the plan.")).toHaveCount(1);
    await expect(dogButton(page, "A1")).toBeVisible();
  });

  test("ranges and tolerances do not run off the side", async ({ page }) => {
    await open(page, `./#${linkOf({ crenel: 1 })}`);
    await expect(range(page, "lash_deg")).not.toBeEmpty();
    await figure(page, "lash_deg").locator("summary").tap();
    await type(page, "A.height_mm", "4.8 +0/-0.12");
    await expect(limits(page, "A.height_mm")).toHaveValue("+0/−0.12");
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    const low = await page.locator(".tolerances input").evaluateAll((all) => all
      .map((at) => at.getBoundingClientRect()).filter(({ height, width }) => height < 44 || width < 44).length);
    expect(low, "fits a finger").toBe(0);
    expect.soft(await violations(page)).toEqual([]);
  });
});

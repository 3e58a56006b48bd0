// A number and what it measures on the drawings are lit together.
import { expect, figure, go, open, test } from "./kit.mjs";

const lit = (page) => page.locator("body").getAttribute("data-lit");
const marks = (page, measure) => page.locator(`.board .view [data-measure="${measure}"]`);

/** The width of the line of the first mark of a class. */
const width = (page, name) =>
  page.locator(`.board .view .${name}`).first().evaluate((mark) => parseFloat(getComputedStyle(mark).strokeWidth));

test("pointing at a number lights its geometry in every view", async ({ page }) => {
  await open(page);
  await expect(marks(page, "window").first()).toBeAttached();
  const thin = await width(page, "open-entry");
  await figure(page, "window_time_ms").locator("summary").hover();
  await expect.poll(() => lit(page)).toBe("window");
  expect(await width(page, "open-entry")).toBeGreaterThan(thin);
  // The face view and the phase map show it.
  const views = await marks(page, "window").evaluateAll((all) => new Set(all.map((mark) => mark.closest("svg"))).size);
  expect(views).toBeGreaterThanOrEqual(2);
  await page.locator("header").hover();
  await expect.poll(() => lit(page)).toBe(null);
  expect(await width(page, "open-entry")).toBe(thin);
});

test("a number that has the focus lights its geometry", async ({ page }) => {
  await open(page);
  await figure(page, "lash_deg").locator("summary").focus();
  await expect.poll(() => lit(page)).toBe("lash");
  expect(await width(page, "open-deep")).toBeGreaterThan(4);
});

test("pointing at a mark of the drawing lights its number", async ({ page }) => {
  await open(page);
  const row = figure(page, "lash_deg");
  const plain = await row.evaluate((row) => getComputedStyle(row).backgroundColor);
  await marks(page, "lash").and(page.locator("text")).first().hover();
  await expect.poll(() => lit(page)).toBe("lash");
  await expect.poll(() => row.evaluate((row) => getComputedStyle(row).backgroundColor)).not.toBe(plain);
});

test("overlap is a dimension on the developed view, and is lit with its number", async ({ page }) => {
  await open(page);
  const drawn = page.locator('.view.unrolled [data-measure="depth"]');
  await expect(drawn.and(page.locator("text"))).toHaveText(/^overlap [\d.]+ mm$/);
  const line = drawn.and(page.locator("path")).first();
  const thin = await line.evaluate((mark) => parseFloat(getComputedStyle(mark).strokeWidth));
  await figure(page, "full_depth_mm").locator("summary").focus();
  await expect.poll(() => lit(page)).toBe("depth");
  expect(await line.evaluate((mark) => parseFloat(getComputedStyle(mark).strokeWidth))).toBeGreaterThan(thin);
});

test("forces under load are lit with the pressure that they make", async ({ page }) => {
  await open(page);
  await go(page, "Load");
  await figure(page, "flank_pressure_mpa").locator("summary").hover();
  await expect.poll(() => lit(page)).toBe("force");
  expect(await marks(page, "force").count()).toBeGreaterThan(2);
});

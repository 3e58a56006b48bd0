// The frame of the page, counted as a newcomer sees it: how much is in sight, how large, and how far away the rest is.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { AREAS, expect, go, linkOf, openPlain, picture, putUp, sideways, test, walk } from "./kit.mjs";

/** What may and must be in the first screen. */
const SCREENS = [
  { width: 1440, height: 900, controls: 36, words: 150, drawn: 0.45 },
  { width: 1024, height: 768, controls: 34, words: 110, drawn: 0.37 },
  { width: 390, height: 844, controls: 24, words: 60, drawn: 0.30 },
];

/** What is in the first screen, measured where it can be seen. */
const measure = (page) => page.evaluate(() => {
  // What is behind the bar of a phone is not in sight.
  const bar = document.querySelector(".stage-bar");
  const foot = getComputedStyle(bar).position === "fixed" ? bar.getBoundingClientRect().top : innerHeight;
  /** The part of an element that is on the screen and that nothing around it cuts off. */
  const seen = (at, own = at.getBoundingClientRect()) => {
    let [left, top, right, bottom] = [
      Math.max(own.left, 0),
      Math.max(own.top, 0),
      Math.min(own.right, innerWidth),
      Math.min(own.bottom, bar.contains(at) ? innerHeight : foot),
    ];
    for (let up = at.parentElement; up; up = up.parentElement) {
      const { display, overflowX, overflowY, clipPath } = getComputedStyle(up);
      if (display === "contents") continue;
      if (clipPath !== "none") return 0;
      const box = up.getBoundingClientRect();
      if (overflowX !== "visible") [left, right] = [Math.max(left, box.left), Math.min(right, box.right)];
      if (overflowY !== "visible") [top, bottom] = [Math.max(top, box.top), Math.min(bottom, box.bottom)];
    }
    return Math.max(0, right - left) * Math.max(0, bottom - top);
  };
  const shown = (at) => at.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const inSight = (at, own) => shown(at) && seen(at, own) > 4;
  const all = (what) => [...document.querySelectorAll(what)];
  const controls = all("button, input, select, textarea, summary, a[href]").filter((at) => inSight(at));
  const texts = [];
  const sizes = new Set();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const at = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !shown(at)) continue;
    if (at.closest("script, noscript, style, option, .sr, .skip")) continue;
    const range = document.createRange();
    range.selectNodeContents(walker.currentNode);
    if (![...range.getClientRects()].some((own) => inSight(at, own))) continue;
    if (getComputedStyle(at).clipPath !== "none") continue;
    // Letters of a drawing are as large as the drawing makes them.
    if (!at.closest("svg")) sizes.add(getComputedStyle(at).fontSize);
    if (!at.closest("header, svg")) texts.push(walker.currentNode.data);
  }
  const area = (what) => all(what).reduce((sum, at) => sum + seen(at), 0);
  return {
    controls: controls.length,
    words: texts.join(" ").split(/\s+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length,
    drawn: area(".fit") / (innerWidth * innerHeight),
    field: all("input[data-slot]").some((at) => inSight(at)),
    result: all(".headline output, #results .figure .now").some((at) => inSight(at)),
    sizes: [...sizes].sort(),
    scrolls: document.scrollingElement.scrollHeight - innerHeight,
  };
});

for (const { width, height, controls, words, drawn } of SCREENS) {
  test(`the first screen at ${width} × ${height} shows the work, and little else`, async ({ page }, info) => {
    await page.setViewportSize({ width, height });
    await openPlain(page);
    // Ranges are words, too, and come a moment later.
    await expect(page.locator("#results .range:not(:empty)").first()).toBeAttached();
    const told = await measure(page);
    info.annotations.push({ type: "measured", description: JSON.stringify(told) });
    expect.soft(told.controls, "controls").toBeLessThanOrEqual(controls);
    expect.soft(told.words, "words below the header").toBeLessThanOrEqual(words);
    expect.soft(told.drawn, "share that is drawing").toBeGreaterThanOrEqual(drawn);
    expect.soft(told.field, "a size can be typed").toBe(true);
    expect.soft(told.result, "a result is read").toBe(true);
    expect.soft(told.sizes.length, told.sizes.join()).toBeLessThanOrEqual(6);
    if (width >= 1024) expect.soft(told.scrolls, "the page does not scroll").toBeLessThanOrEqual(0);
  });
}

// A design that has something in every part of the job.
const WHOLE = readFileSync(fileURLToPath(new URL("../../examples/designs/kicks-back.json", import.meta.url)), "utf8");

/** The narrowest and the widest screen, phones, and each side of every border between two frames. */
const WIDTHS = [
  [320, 640], [360, 640], [390, 844], [600, 900], [601, 900], [768, 1024], [800, 1000], [840, 1000], [844, 390],
  [1023, 768], [1024, 768], [1100, 800], [1440, 900], [2560, 1440],
];

for (const [width, height] of WIDTHS) {
  test(`nothing scrolls sideways at ${width} × ${height}`, async ({ page }) => {
    test.setTimeout(120_000);
    await page.setViewportSize({ width, height });
    await openPlain(page);
    await walk(page, async (where) => expect.soft(await sideways(page), where).toBeLessThanOrEqual(0));
  });
}

test("the page itself scrolls nowhere at 1024 × 640 and above", async ({ page }) => {
  for (const [width, height] of [[1024, 640], [1440, 900], [2560, 1440]]) {
    await page.setViewportSize({ width, height });
    await openPlain(page);
    for (const area of AREAS) {
      await go(page, area);
      const over = await page.evaluate(() => document.scrollingElement.scrollHeight - innerHeight);
      expect.soft(over, `${area} at ${width} × ${height}`).toBeLessThanOrEqual(0);
    }
  }
});

/** The numbers that can be typed in a part of the page. */
async function slotsIn(page, part) {
  await putUp(page);
  return page.locator(`${part} input[data-slot]`).evaluateAll((all) => all.map((at) => at.dataset.slot));
}

test("every picture and every size of an area is two steps away", async ({ page }) => {
  test.setTimeout(120_000);
  await page.setViewportSize({ width: 1440, height: 900 });
  await openPlain(page, `./#${linkOf(WHOLE)}`);
  for (const area of AREAS) {
    await go(page, area);
    // One step: the button of the picture. It is in sight, and what it shows is too.
    for (const one of await page.locator(".pictures button").allTextContents()) {
      await expect(page.locator(".pictures").getByRole("button", { name: one, exact: true })).toBeInViewport();
      await picture(page, one);
      const heights = await page.locator(".picture .fit").evaluateAll((all) => all.map((at) => at.clientHeight));
      for (const height of heights) expect.soft(height, `${area}: ${one}, height of a drawing`).toBeGreaterThan(100);
      // Without a gearbox there is no table of shifts.
      if (one !== "All shifts") await expect(page.locator(".picture > *").first(), `${area}: ${one}`).toBeVisible();
    }
    const drawer = page.locator(".handle-row > [aria-expanded]");
    if ((await drawer.count()) === 0) continue;
    // Every panel is named in the menu of the inspector, and is with all the others in the drawer.
    const menu = page.locator(".inspector > .head details.menu");
    await drawer.click();
    const below = await slotsIn(page, "#all-sizes");
    await drawer.click();
    const beside = new Set();
    await menu.locator("summary").click();
    const panels = await menu.getByRole("button").allTextContents();
    await page.keyboard.press("Escape");
    for (const panel of panels) {
      await menu.locator("summary").click();
      await menu.getByRole("button", { name: panel, exact: true }).click();
      for (const one of await slotsIn(page, ".inspector")) beside.add(one);
    }
    expect.soft(below.filter((one) => !beside.has(one)), area).toEqual([]);
  }
});

test("points and units of the results stand below one another", async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await openPlain(page);
  await go(page, "Shift");
  const edges = (part) => page.locator(`.numbers .figure summary .now .${part}`).evaluateAll((all) =>
    [...new Set(all.map((one) => Math.round(one.getBoundingClientRect().left)))]);
  for (const part of ["tail", "unit"]) expect(await edges(part), part).toHaveLength(1);
});

// A whole gearbox: from a link to the gear and the part at fault, and from a pair to five gears.
import { readFileSync } from "node:fs";
import { board, button, expect, field, hash, inLink, keptLink, linkOf, more, open, openPlain, putUp, sideways, test, title, type } from "./kit.mjs";

const bent = readFileSync(new URL("../../examples/designs/six-speed-bent-fork.json", import.meta.url), "utf8");

const gears = (page) => page.locator(".gear-bar .gear");
const gear = (page, number) => gears(page).nth(number - 1);
const worst = (page) => page.locator(".box-worst");

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test("a link leads to the bent fork and the dogs of its gear in under ten taps", async ({ page }) => {
    await openPlain(page, `./#${linkOf(bent)}`);
    await expect(worst(page)).toContainText("Gears 1 and 4 can be in at once");
    await expect(gears(page)).toHaveCount(6);
    await expect(page.locator(".gear-bar .gear.worst")).toHaveText(/^4/);
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    // First tap: the part.
    await worst(page).getByRole("button", { name: "Show fork 2" }).tap();
    await expect(page.locator(".drum-reading")).toContainText("gear 4 holds");
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    // Second tap: the gear.
    await gear(page, 4).tap();
    await expect(gear(page, 4)).toHaveAttribute("aria-pressed", "true");
    expect((await board(page)).design.box.open).toBe(4);
  });
});

test("a shift of the table opens its pair, and edits go into that gear", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await page.getByRole("button", { name: "Open shift 2→3" }).click();
  await expect(gear(page, 3)).toHaveAttribute("aria-pressed", "true");
  await type(page, "A.outer_diameter_mm", "63");
  await keptLink(page);
  await gear(page, 1).click();
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("60");
  await page.reload();
  await putUp(page);
  await expect(gear(page, 1)).toHaveAttribute("aria-pressed", "true");
  await gear(page, 3).click();
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("63");
  // One history over the gearbox: looking at another gear is no step of it.
  await gear(page, 5).click();
  await page.keyboard.press("Control+z");
  await expect(gear(page, 1)).toHaveAttribute("aria-pressed", "false");
  await expect(gear(page, 3)).toHaveAttribute("aria-pressed", "true");
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("60");
  await page.locator("main").click({ position: { x: 2, y: 2 } });
  await page.keyboard.press("g");
  await expect(gear(page, 4)).toHaveAttribute("aria-pressed", "true");
  const { design } = inLink(`#${await keptLink(page)}`);
  expect(design.box.open).toBe(4);
  expect(design.box.gears).toHaveLength(6);
});

test("the drum says at every angle which gears are in", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await page.locator(".pictures").getByRole("button", { name: "Drum", exact: true }).click();
  const cursor = page.getByRole("slider", { name: "Drum angle" });
  await cursor.fill("15");
  await expect(page.locator(".drum-reading")).toContainText("gear 1 holds");
  // The bent fork leaves the dogs of fourth touching in neutral.
  await expect(page.locator(".drum-reading")).toContainText("gear 4 touches");
  await cursor.fill("37.5");
  await expect(page.locator(".drum-reading")).toContainText("37.5°: gear 4 touches");
  await cursor.press("ArrowRight");
  await expect(page.locator(".drum-reading")).toContainText("38°");
  await page.locator(".view.drum").scrollIntoViewIfNeeded();
  const box = await page.locator(".view.drum").boundingBox();
  await page.mouse.move(box.x + 0.9 * box.width, box.y + 0.3 * box.height);
  await page.mouse.down();
  await page.mouse.move(box.x + 0.95 * box.width, box.y + 0.3 * box.height);
  await page.mouse.up();
  await expect(page.locator(".drum-reading")).toContainText("gear 6 holds");
});

test("a pair becomes a five-speed, and Undo returns to the pair", async ({ page }) => {
  await open(page);
  const pair = (await board(page)).design;
  await more(page);
  await button(page, "Make this a whole gearbox").click();
  await button(page, "5 gears").click();
  await expect(gears(page)).toHaveCount(5);
  await expect(page.getByRole("region", { name: /^Table of all shifts/ }).locator("tbody tr")).toHaveCount(8);
  const made = (await board(page)).design;
  expect(made.box.gears).toHaveLength(5);
  expect(made.title).toBe(pair.title);
  expect(await hash(page)).not.toBe("");
  await page.keyboard.press("Control+z");
  await expect(gears(page)).toHaveCount(0);
  await expect(title(page)).toHaveValue(pair.title);
  expect((await board(page)).design).toEqual(pair);
});

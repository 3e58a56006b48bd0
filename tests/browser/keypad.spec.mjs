// A size is typed with a finger, on a keypad that takes the lower part of the screen.
import { button, expect, go, open, openPlain, putUp, test } from "./kit.mjs";

/** What a keypad takes of the height. */
const KEYPAD = 336;

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

/** What no headless browser has: a keypad that makes less of the page seen. The page is told as by a phone. */
const keypad = (page, px) => page.evaluate((px) => {
  const seen = window.visualViewport;
  const whole = Object.getOwnPropertyDescriptor(VisualViewport.prototype, "height").get.call(seen);
  Object.defineProperty(seen, "height", { configurable: true, get: () => whole - px });
  seen.dispatchEvent(new Event("resize"));
}, px);

const entry = (page, slot) => page.locator(`.inspector input[data-slot="${slot}"]`);
const frame = (page) => page.locator(".keypad");
const key = (page, name) => frame(page).getByRole("button", { name });
const value = (page) => page.evaluate(() => document.activeElement.value);

/** Puts the focus into a size of the inspector, and the keypad up. */
async function typeInto(page, slot) {
  await entry(page, slot).tap();
  await keypad(page, KEYPAD);
  await expect(frame(page)).toBeVisible();
  await putUp(page);
}

/** What of an element is above the keypad, as a share of it. */
const inSight = (page, selector) => page.evaluate(([selector, keypad]) => {
  const boxes = [...document.querySelectorAll(selector)].map((at) => at.getBoundingClientRect());
  const shares = boxes.filter(({ width, height }) => width * height > 0).map(({ left, right, top, bottom, width, height }) => {
    const across = Math.min(right, innerWidth) - Math.max(left, 0);
    const down = Math.min(bottom, innerHeight - keypad) - Math.max(top, 0);
    return (Math.max(0, across) * Math.max(0, down)) / (width * height);
  });
  return shares.length > 0 ? Math.min(...shares) : 0;
}, [selector, KEYPAD]);

for (const [width, height] of [[360, 640], [390, 844]]) {
  test(`figures, dog and field are above the keypad at ${width} × ${height}`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openPlain(page);
    await typeInto(page, "A.tip_width_deg");
    await expect(page.locator(".keypad-figure")).toHaveCount(3);
    for (const part of [".keypad-figure", ".keypad button", ".field:focus-within input"]) {
      expect.soft(await inSight(page, part), part).toBeGreaterThan(0.99);
    }
    // The drawing lies over the frame, and nothing over the drawing.
    const seen = await page.evaluate(() => {
      const own = document.querySelector('.view.face path.tip[data-dog="A1"]').getBoundingClientRect();
      const [x, y] = [own.left + own.width / 2, own.top + own.height / 2];
      return { inside: document.elementFromPoint(x, y)?.closest(".view.face") !== null, width: own.width };
    });
    expect(seen.inside, "a dog of the ring").toBe(true);
    expect(seen.width).toBeGreaterThan(16);
    const fit = await page.locator(".view.face .fit").boundingBox();
    expect(fit.height).toBeGreaterThan(height === 640 ? 130 : 300);
    const small = await frame(page).locator("button").evaluateAll((all) =>
      all.filter((at) => at.getBoundingClientRect().height < 44).map((at) => at.textContent));
    expect(small).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);

    // Figures follow what is typed, and say what they were.
    await entry(page, "A.tip_width_deg").fill("20");
    await expect(page.locator(".keypad-figure").first()).toContainText("→");
    await key(page, "Done").tap();
    await keypad(page, 0);
    await expect(frame(page)).toBeHidden();
    await expect(entry(page, "A.tip_width_deg")).toHaveValue("20");
    await button(page, "Undo").tap();
    await expect(entry(page, "A.tip_width_deg")).toHaveValue("24");
    await expect(button(page, "Undo"), "one step").toBeDisabled();
  });
}

test("an angle that leans the other way is typed without a minus on the keypad", async ({ page }) => {
  await openPlain(page);
  await page.locator('.view.face path[data-dog="A2"]').first().tap();
  await typeInto(page, "A.back_cut_drive_deg");
  const field = entry(page, "A.back_cut_drive_deg");
  await field.fill("3");
  await key(page, "Minus").tap();
  await expect(field, "the focus stays, and so does the keypad").toBeFocused();
  expect(await value(page)).toBe("−3");
  await key(page, "Minus").tap();
  expect(await value(page)).toBe("3");
  await key(page, "Minus").tap();
  await key(page, "Degrees").tap();
  await page.keyboard.type("30");
  await key(page, "Minutes").tap();
  expect(await value(page)).toBe("−3°30′");
  await key(page, "Next size").tap();
  await expect(entry(page, "A.back_cut_coast_deg")).toBeFocused();
  await key(page, "Previous size").tap();
  await expect(field).toBeFocused();
  await expect(field).toHaveValue("-3.5");
  await key(page, "Minus").tap();
  expect(await value(page), "the number was selected").toBe("−");
  await key(page, "Cancel typing").tap();
  await keypad(page, 0);
  await expect(field).toHaveValue("-3.5");
  await expect(field).not.toBeFocused();
});

test("fractions of an inch, a point and a slip of the finger", async ({ page }) => {
  await openPlain(page);
  await typeInto(page, "A.inner_diameter_mm");
  const field = entry(page, "A.inner_diameter_mm");
  await field.fill("1");
  await key(page, "One half").tap();
  expect(await value(page)).toBe("1 1/2");
  await key(page, "One half").tap();
  expect(await value(page)).toBe("1/");
  await key(page, "Delete").tap();
  expect(await value(page)).toBe("1");
  await key(page, "Decimal point").tap();
  await page.keyboard.type("75");
  await key(page, "Seconds").tap();
  await key(page, "Done").tap();
  await expect(field).toHaveValue("44.45");
});

test("what was previewed goes with Escape, and a text that is no number is told", async ({ page }) => {
  await openPlain(page);
  await typeInto(page, "A.tip_width_deg");
  const field = entry(page, "A.tip_width_deg");
  await field.fill("30");
  await expect(page.locator(".keypad-figure").first()).toContainText("→");
  await key(page, "Cancel typing").tap();
  await expect(field).toHaveValue("24");
  await expect(field).not.toBeFocused();
  await keypad(page, 0);
  await expect(button(page, "Undo")).toBeDisabled();

  await typeInto(page, "A.tip_width_deg");
  await field.fill("30");
  await field.fill("30°°");
  await key(page, "Done").tap();
  await keypad(page, 0);
  await expect(field).toHaveValue("30°°");
  await expect(field).toHaveAttribute("aria-invalid", "true");
  await expect(button(page, "Undo"), "the number on the way to it is not kept").toBeDisabled();
});

test("the frame comes for a finger, a size and a keypad, and for nothing less", async ({ page }) => {
  await openPlain(page);
  await page.getByRole("textbox", { name: "Title of the design" }).tap();
  await keypad(page, KEYPAD);
  await expect(frame(page), "a title is no size").toHaveCount(0);
  await keypad(page, 0);
  await entry(page, "A.tip_width_deg").tap();
  await keypad(page, 60);
  await expect(frame(page), "bars of the browser").toHaveCount(0);
  await keypad(page, KEYPAD);
  await expect(frame(page)).toBeVisible();
  await keypad(page, 0);
  await expect(frame(page), "the keypad alone is put away").toHaveCount(0);
  await expect(entry(page, "A.tip_width_deg")).toBeFocused();
});

test("on its side, the drawing is beside the field", async ({ page }) => {
  await page.setViewportSize({ width: 844, height: 390 });
  await openPlain(page);
  await entry(page, "A.tip_width_deg").tap();
  await keypad(page, 190);
  await expect(frame(page)).toBeVisible();
  await putUp(page);
  const [fit, size] = await Promise.all(
    [".view.face .fit", ".field:focus-within input"].map((part) => page.locator(part).boundingBox()),
  );
  expect(fit.height).toBeGreaterThan(190);
  expect(fit.x + fit.width).toBeLessThanOrEqual(size.x);
  expect(size.y + size.height).toBeLessThan(200);
});

test("an area without a drawing goes on above the keys", async ({ page }) => {
  await open(page);
  await go(page, "Checks");
  const field = page.locator(".whole-page input[data-slot]:visible").first();
  await field.tap();
  await keypad(page, KEYPAD);
  await expect(frame(page)).toBeVisible();
  const { height } = await frame(page).boundingBox();
  expect(height).toBeLessThan(100);
  expect(await page.evaluate(() => document.activeElement.matches("input[data-slot]"))).toBe(true);
});

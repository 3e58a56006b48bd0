// A machinist's whole job in one go: a worn pair measured in chords, a target with ceilings, three variants, the sheets
// and files for the machine, and an inspection with one bad dog, from the first visit to the saved file.
import {
  button, dogButton, download, expect, go, more, now, openFile, openPlain, test, title, type,
} from "./kit.mjs";

const cell = (page, column, dog) => page.locator(`[data-reading="${column}-dog${dog}"]`);
const follows = (page) => page.getByRole("region", { name: "Dogs from these readings" });
const targets = (page) => page.getByRole("group", { name: "Smallest cut for a target", exact: true });
const offers = (page) => targets(page).getByRole("table", { name: "Offers", exact: true }).locator("tbody");
const figureOf = (way, head) => way.locator(`td[data-head="${head}"]`);
const variants = (page) => page.getByRole("group", { name: "Variants", exact: true });
const names = (page) => variants(page).getByRole("listitem").getByRole("textbox");
const inspected = (page, dog, size) =>
  page.getByRole("textbox", { name: `Dog ${dog}: measured ${size}`, exact: true });

/** A file from the menu More. */
async function take(page, words) {
  await more(page);
  return download(page, () => button(page, words).click());
}

const sheet = (page) => page.getByRole("article", { name: "Set-up sheet of ring A", exact: true });

async function rename(page, at, name) {
  await names(page).nth(at).fill(name);
  await names(page).nth(at).press("Enter");
  await expect(names(page).nth(at)).toHaveValue(name);
}

async function typeDown(page, column, texts) {
  await cell(page, column, 1).focus();
  for (const text of texts) {
    await page.keyboard.type(text);
    await page.keyboard.press("Enter");
  }
}

/** Measures a ring as chords over its dogs and over gauge pins between them, and its heights. */
async function measure(page, ring, chords, heights) {
  await page.getByRole("button", { name: `Ring ${ring}`, exact: true }).first().click();
  await button(page, "Chord, pins and height").click();
  await typeDown(page, 1, chords);
  await typeDown(page, 3, heights);
  await button(page, "Use these dogs").click();
  await expect(follows(page)).toContainText(`Ring ${ring} has these dogs, and follows every further reading.`);
}

test("from a worn pair to the saved file", async ({ page }) => {
  test.slow();
  await openPlain(page);
  await title(page).fill("Worn second gear (invented)");
  await title(page).press("Enter");

  await test.step("measured in chords", async () => {
    await go(page, "Measured");
    await measure(page, "A", ["12.40", "12.42", "12.41", "12.40", "12.43", "12.41"], Array(6).fill("4.95"));
    await measure(page, "B", ["12.44", "12.43", "12.44", "12.42", "12.44", "12.43"], Array(6).fill("4.9"));
  });

  await test.step("a target with ceilings, as a variant", async () => {
    await go(page, "Plan");
    await button(page, "All sizes").click();
    await button(page, "Add a variant").click();
    await rename(page, 1, "smallest cut");
    await type(page, "wished_window_ms", "6");
    await targets(page).getByLabel("Metal removed, at most").fill("12");
    await targets(page).getByLabel("Lash, at most").fill("20");
    await targets(page).getByRole("checkbox", { name: "No limit crossed" }).uncheck();
    await targets(page).getByRole("button", { name: "Find the smallest cut" }).click();
    const first = offers(page).first();
    await expect(figureOf(first, "Window time")).toHaveText(/target 6 ms$/);
    expect(Number.parseFloat(await figureOf(first, "Metal").textContent())).toBeLessThanOrEqual(12);
    expect(Number.parseFloat(await figureOf(first, "Lash").textContent())).toBeLessThanOrEqual(20);
    await first.getByRole("button", { name: "Add to the plan" }).click();
    const reached = async () => Number.parseFloat(await now(page, "window_time_ms").textContent());
    await expect.poll(reached).toBeGreaterThanOrEqual(6);
  });

  await test.step("a third variant, cut by hand", async () => {
    await button(page, "Copy As found").click();
    await rename(page, 1, "half-height");
    for (const dog of ["A2", "A4", "A6"]) {
      await dogButton(page, dog).click();
      await page.keyboard.press("s");
    }
    await expect(variants(page).locator("li.current")).toContainText("every second dog of ring A to 2.475 mm");
    await expect(names(page)).toHaveCount(3);
  });

  await test.step("the sheets", async () => {
    await go(page, "Sheets");
    await expect(sheet(page).getByRole("region", { name: "Operations" })).toContainText("Shorten to 2.475 mm");
    await expect(sheet(page).locator(".chords li").first()).toContainText("of ring A: 12.4");
    await expect(sheet(page).locator(".gaps li").first()).toContainText("of ring A: ");
    await expect(sheet(page).locator(".carrying li").first()).toContainText(/^A\d drive: .*° ±/);
  });

  await test.step("files for the machine", async () => {
    const dxf = await take(page, "Ring A, machining drawing (DXF)");
    expect(dxf.text).toMatch(/SECTION[\s\S]*EOF\s*$/);
    const positions = await take(page, "Ring A, index positions for a rotary axis (ISO 6983)");
    expect(positions.text).toMatch(/A\d/);
    expect(positions.text).not.toMatch(/^[^(]*[FZ]\d/m);
  });

  await test.step("an inspection with one bad dog", async () => {
    await go(page, "Sheets");
    await inspected(page, "A2", "dog height").fill("2.475");
    await inspected(page, "A4", "dog height").fill("2.275");
    await inspected(page, "A6", "dog height").fill("2.675");
    const judged = (dog) => inspected(page, dog, "dog height").locator("xpath=..");
    await expect(judged("A2")).toContainText("good");
    await expect(judged("A4")).toContainText("under by 0.2 mm");
    await expect(judged("A6")).toContainText("over: take another 0.2 mm off A6");
    await button(page, "Use measured sizes, ring A").click();
    await expect(page.getByRole("status").filter({ hasText: "Ring A now has the measured sizes" })).toHaveCount(1);
  });

  await test.step("the saved file has all of it", async () => {
    await more(page);
    const { name, text } = await download(page, () => button(page, "Save file").click());
    expect(name).toMatch(/\.json$/);
    const saved = JSON.parse(text);
    expect(saved.variants.length).toBeGreaterThanOrEqual(4);
    expect(saved.title).toBe("Worn second gear (invented)");
    await openFile(page, name, text);
    await go(page, "Plan");
    await expect(names(page).filter({ visible: true }).first()).toHaveValue("As found");
  });
});

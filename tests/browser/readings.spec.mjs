// What a machinist measured on a ring is typed, pasted and filled down, and its dogs are used.
import {
  board, button, download, expect, field, go, keptLink, more, open, openFile, PAPER_AND_SLATE, putUp, sideways, test,
  violationsIn,
} from "./kit.mjs";

const cell = (page, column, dog) => page.locator(`[data-reading="${column}-dog${dog}"]`);
const setAt = (page, column) => page.locator(`[data-reading="${column}-at"]`);
const follows = (page) => page.getByRole("region", { name: "Dogs from these readings" });
const values = async (page, column) =>
  Promise.all([1, 2, 3, 4, 5, 6].map((dog) => cell(page, column, dog).inputValue()));

async function addColumn(page, gauge) {
  await page.getByLabel("Gauge", { exact: true }).selectOption({ label: gauge });
  await button(page, "Add column").click();
}

/** Types a column from its first dog on, each text followed by Enter. */
async function typeDown(page, column, texts) {
  await cell(page, column, 1).focus();
  for (const text of texts) {
    await page.keyboard.type(text);
    await page.keyboard.press("Enter");
  }
}

/** Pastes a text into a cell, as a browser does with what was copied elsewhere. */
const paste = (locator, text) => locator.evaluate((at, text) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData("text/plain", text);
  at.focus();
  at.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
}, text);

test("a mixed table is typed, judged and used, and outlives reload and file", async ({ page }) => {
  await open(page);
  await go(page, "Dogs");
  await button(page, "Enter gauge readings").first().click();
  await expect(page.getByText("Nothing has been entered yet.")).toBeVisible();
  await addColumn(page, "Chord over dog");
  await addColumn(page, "Pin centre radius, gap after dog");
  await addColumn(page, "Drive flank on table");
  await setAt(page, 2).fill("16");
  await setAt(page, 2).press("Enter");

  // 24° at Ø60 is a chord of 12.475; a pin of 16 between dogs 36° apart is at 25.889.
  await typeDown(page, 1, ["12,47", "12.48", "12.475 mm", "12.47", "12.48", "12.475"]);
  await typeDown(page, 2, Array(6).fill("25.889"));
  await typeDown(page, 3, ["0", "60", "120°", "180", "240", "300°0′"]);
  await expect(follows(page)).toContainText(/Dogs and gaps together are .* 360°/);
  await expect(follows(page)).toContainText("Spread: equally.");
  await expect(page.locator(".off.marked")).toHaveCount(0);

  // One flank read a degree wrong is told in words, and what cannot be read stays in its cell.
  await cell(page, 3, 3).fill("121");
  await cell(page, 3, 3).press("Enter");
  await expect(page.locator(".off.marked").filter({ hasText: "beyond 3σ" }).first()).toBeVisible();
  await expect(cell(page, 3, 3)).toHaveAccessibleDescription(/away from what the other readings say/);
  await cell(page, 1, 2).fill("12.4x");
  await cell(page, 1, 2).press("Enter");
  await expect(cell(page, 1, 2)).toHaveValue("12.4x");
  await expect(cell(page, 1, 2)).toHaveAccessibleDescription(/The unit “x” does not fit/);
  await page.reload();
  await putUp(page);
  await expect(cell(page, 1, 2), "after a reload").toHaveValue("12.4x");
  await cell(page, 1, 2).focus();
  await page.keyboard.press("Escape");
  await expect(cell(page, 1, 2)).toHaveValue("12.48");
  await cell(page, 3, 3).fill("120");
  await cell(page, 3, 3).press("Enter");
  await expect(page.locator(".off.marked")).toHaveCount(0);

  await expect(follows(page)).toContainText("Ring A does not have these dogs yet.");
  await button(page, "Use these dogs").click();
  await expect(follows(page)).toContainText("Ring A has these dogs, and follows every further reading.");
  await expect(button(page, "Use these dogs")).toBeDisabled();
  const used = (await board(page).then(({ now, design }) => now ?? design)).a;
  expect(used.readings.columns).toHaveLength(3);
  await keptLink(page);
  await page.reload();
  await putUp(page);
  await expect(follows(page)).toContainText("follows every further reading");

  await more(page);
  const { text } = await download(page, () => button(page, "Save file").click());
  await button(page, "Undo").click();
  await expect(follows(page), "using them is one step").toContainText("does not have these dogs yet");
  await openFile(page, "ring.json", text);
  await go(page, "Measured");
  await expect(follows(page)).toContainText("follows every further reading");
  expect(await values(page, 2)).toEqual(Array(6).fill("25.889"));
  await go(page, "Dogs");
  await expect(field(page, "A2.centre_deg")).toBeVisible();
});

test("a block with decimal commas is pasted, and a reading is filled down, by keyboard alone", async ({ page }) => {
  await open(page);
  await go(page, "Measured");
  await button(page, "Rotary table and height").focus();
  await page.keyboard.press("Enter");
  await expect(cell(page, 1, 1)).toBeFocused();
  const block = "drive\tcoast\n0\t23,8\n60,1\t84\n120\t143,9\n180\tabc\n240\t264,1\n300\t324\n";
  await paste(cell(page, 1, 1), block);
  expect(await values(page, 1)).toEqual(["0", "60.1", "120", "180", "240", "300"]);
  expect(await values(page, 2)).toEqual(["23.8", "84", "143.9", "abc", "264.1", "324"]);
  await expect(cell(page, 2, 4)).toHaveAccessibleDescription(/“abc” is not a number/);

  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await expect(cell(page, 3, 1)).toBeFocused();
  await page.keyboard.type("4,95");
  await page.keyboard.press("Control+d");
  expect(await values(page, 3)).toEqual(Array(6).fill("4.95"));
  await page.keyboard.press("ArrowDown");
  await expect(cell(page, 3, 2)).toBeFocused();
  await page.keyboard.press("Shift+Enter");
  await page.keyboard.press("ArrowLeft");
  await expect(cell(page, 2, 1)).toBeFocused();
  await button(page, "Undo").click();
  expect(await values(page, 3), "filling down is one step").toEqual(["4.95", "", "", "", "", ""]);
});

test("marks on one side are told from one dog out of place", async ({ page }) => {
  await open(page);
  await go(page, "Measured");
  for (const dog of [1, 2, 3]) await page.getByLabel(`Dog ${dog} shows marking blue or polish`).check();
  await expect(follows(page)).toContainText("Only the dogs on one side carry");
  for (const dog of [1, 3]) await page.getByLabel(`Dog ${dog} shows marking blue or polish`).uncheck();
  await expect(follows(page)).toContainText("Dog 2 carries alone: it is out of its place.");
});

test("the sheet says what it is, and shows the ring beside what to enter", async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await open(page);
  await go(page, "Measured");
  const sheet = page.locator(".measured-read");
  await expect(sheet.locator("p").first()).toContainText("Measure the dogs of one ring one by one");
  await expect(page.locator(".measured-picture .view").getByText("A1", { exact: true })).toBeInViewport();
  // A set of gauges is the first choice.
  await expect(sheet.getByRole("button").first()).toHaveText("Chord, pins and height");
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test("readings are typed and used by touch", async ({ page }) => {
    await open(page);
    await go(page, "Measured");
    await button(page, "Chord, pins and height").tap();
    await cell(page, 3, 1).tap();
    await page.keyboard.type("4.9");
    await cell(page, 3, 2).tap();
    await page.keyboard.type("4.8");
    await cell(page, 3, 3).tap();
    await expect(follows(page)).toContainText("4.8 ±0.04");
    await button(page, "Use these dogs").tap();
    await expect(follows(page)).toContainText("Ring A has these dogs");
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    expect(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
  });

  test("on 360 px the table fits, the keypad has its keys, and the table is copied", async ({ page }) => {
    await page.setViewportSize({ width: 360, height: 740 });
    await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
    await open(page);
    await go(page, "Measured");
    await button(page, "Chord, pins and height").tap();
    expect(await sideways(page), "only the table itself scrolls").toBeLessThanOrEqual(0);
    await cell(page, 3, 1).tap();
    // No headless browser has a keypad: the page is told as by a phone.
    await page.evaluate(() => {
      const seen = window.visualViewport;
      const whole = Object.getOwnPropertyDescriptor(VisualViewport.prototype, "height").get.call(seen);
      Object.defineProperty(seen, "height", { configurable: true, get: () => whole - 336 });
      seen.dispatchEvent(new Event("resize"));
    });
    const keys = page.locator(".keypad");
    await expect(keys).toBeVisible();
    expect(await sideways(page), "with the keys").toBeLessThanOrEqual(0);
    await page.keyboard.type("4.9");
    await keys.getByRole("button", { name: "Next" }).tap();
    await expect(cell(page, 3, 1)).toHaveValue("4.9");
    await page.evaluate(() => document.activeElement.blur());
    await button(page, "Copy table").tap();
    const copied = () => page.evaluate(() => navigator.clipboard.readText());
    await expect.poll(copied, "with what was typed").toContain("\t4.9");
    const rows = (await copied()).split("\n");
    expect(rows.length, "a row for each dog").toBeGreaterThanOrEqual(6);
  });
});

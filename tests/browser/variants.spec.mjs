// A builder keeps three plans for one pair, goes from one to another, compares them, and hands them on.
import {
  button, dogButton, download, expect, field, go, linkOf, more, notice, open, openFile, PAPER_AND_SLATE, test, type, violationsIn,
} from "./kit.mjs";

const list = (page) => page.getByRole("group", { name: "Variants", exact: true });
const rows = (page) => list(page).getByRole("listitem");
const names = (page) => rows(page).getByRole("textbox");
const current = (page) => list(page).locator("li.current");
const chosen = (page) => page.locator(".menu.variants > summary");
const said = (page, words) => page.getByRole("status").filter({ hasText: words });
const columns = (page) => page.locator(".columns figure figcaption");

const THREE = {
  crenel: 1,
  title: "Second gear, to be cut (invented)",
  slip_rpm: 300,
  a: { plan: [{ do: "recut_drive", recut_to_deg: 3, dogs: [1, 2, 3, 4, 5, 6] }] },
  variants: [
    { name: "As found" },
    { name: "half-height", a: { cuts: { 2: 2.5, 4: 2.5, 6: 2.5 } }, b: { cuts: { 2: 2.5, 4: 2.5, 6: 2.5 } } },
    { name: "re-cut 3°", current: true },
  ],
};

async function rename(page, at, name) {
  await names(page).nth(at).fill(name);
  await names(page).nth(at).press("Enter");
  await expect(names(page).nth(at)).toHaveValue(name);
}

test("three variants are made, named, switched by key, compared, saved and sent", async ({ page, profile }) => {
  test.slow();
  await open(page, `./#${linkOf({ crenel: 1, title: "Worn box (invented)", slip_rpm: 300 })}`);
  await go(page, "Plan");
  await expect(list(page)).toContainText("There is one plan so far.");
  await expect(chosen(page)).toHaveCount(0);
  await button(page, "Add a variant").click();
  await expect(names(page).nth(0)).toHaveValue("As found");
  await expect(names(page).nth(1), "it can be named at once").toBeFocused();
  await rename(page, 1, "half-height");
  await expect(chosen(page)).toContainText("half-height");
  await expect(current(page)).toContainText("no work planned");
  await dogButton(page, "A2").click();
  await page.keyboard.press("s");
  await expect(current(page)).toContainText("A2 to 2.5 mm");
  await button(page, "Copy As found").click();
  await expect(names(page).nth(1)).toHaveValue("As found, copy");
  await rename(page, 1, "removed");
  await dogButton(page, "A4").click();
  await page.keyboard.press("Delete");
  await expect(current(page)).toContainText("A4 removed");
  await expect(rows(page).nth(2), "edits go to the current one alone").toContainText("A2 to 2.5 mm");

  // V goes on, round to the first; with Shift back. In a field it is a letter.
  await page.keyboard.press("v");
  await expect(chosen(page)).toContainText("half-height");
  await expect(said(page, "Current variant: half-height.")).toHaveCount(1);
  await page.keyboard.press("v");
  await expect(chosen(page)).toContainText("As found");
  await page.keyboard.press("Shift+V");
  await expect(chosen(page)).toContainText("half-height");
  await names(page).nth(2).focus();
  await page.keyboard.press("v");
  await expect(chosen(page)).toContainText("half-height");
  await rename(page, 2, "half-height");

  // Undo goes over switches, and brings back what was removed.
  await button(page, "Remove removed").click();
  await expect(rows(page)).toHaveCount(2);
  await page.keyboard.press("Control+z");
  await expect(rows(page)).toHaveCount(3);
  await expect(names(page).nth(1)).toHaveValue("removed");
  await rows(page).nth(1).getByRole("button", { name: "Switch to removed" }).click();
  await expect(current(page)).toContainText("A4 removed");
  await page.keyboard.press("Control+z");
  await expect(chosen(page)).toContainText("half-height");

  // A size of the pair is one for all.
  await go(page, "Dogs");
  await type(page, "A.tip_width_deg", "23");
  await chosen(page).click();
  await page.locator(".menu.variants .sheet").getByRole("button", { name: "As found" }).click();
  await expect(field(page, "A.tip_width_deg")).toHaveValue("23");

  await go(page, "Compare");
  await expect(columns(page)).toHaveText(["1 As found – current variant", "2 removed", "3 half-height"]);
  const left = page.getByRole("group", { name: "Variants compared" });
  await expect(left.getByRole("button", { name: "As found" })).toBeDisabled();
  await left.getByRole("button", { name: "removed" }).click();
  await expect(columns(page)).toHaveText(["1 As found – current variant", "2 half-height"]);
  await left.getByRole("button", { name: "removed" }).click();
  await page.keyboard.press("v");
  await expect(columns(page)).toHaveText(["1 As found", "2 removed – current variant", "3 half-height"]);

  await more(page);
  const { text: saved } = await download(page, () => button(page, "Save file").click());
  expect(JSON.parse(saved).variants.map((one) => one.name)).toEqual(["As found", "removed", "half-height"]);
  const friend = await (await profile()).newPage();
  await open(friend);
  await openFile(friend, "variants.json", saved);
  await go(friend, "Plan");
  await expect(chosen(friend)).toContainText("removed");
  await expect(names(friend).nth(2)).toHaveValue("half-height");
  const other = await (await profile()).newPage();
  await open(other, `./#${linkOf(saved)}`);
  await go(other, "Plan");
  await expect(chosen(other)).toContainText("removed");
  await expect(rows(other)).toHaveCount(3);
});

test("measured sizes leave the plan and the planned ring behind as a variant", async ({ page }) => {
  const cuts = { 2: 2.5, 4: 2.5, 6: 2.5 };
  await open(page, `./#${linkOf({ crenel: 1, title: "Cut (invented)", a: { cuts } })}`);
  await go(page, "Sheets");
  await page.getByRole("textbox", { name: "Dog A2: measured dog height", exact: true }).fill("2.45");
  await button(page, "Use measured sizes, ring A").click();
  await expect(notice(page)).toContainText("kept as variant “As planned”; the current one is “A as measured”.");
  await go(page, "Plan");
  await expect(rows(page).nth(0)).toContainText("every second dog of ring A to 2.5 mm");
  await expect(rows(page).nth(0)).toContainText("Begins with other rings than the current variant.");
  await go(page, "Dogs");
  await expect(field(page, "A2.height_mm")).toHaveValue("2.45");
  await page.keyboard.press("v");
  await expect(field(page, "A.count"), "the ring as it was planned").toHaveValue("6");
});

test("a comparison is held at a typed value within its range, and saved as tables", async ({ page }) => {
  await open(page, `./#${linkOf(THREE)}`);
  await go(page, "Compare");
  await expect(columns(page)).toHaveText(["1 As found", "2 half-height", "3 re-cut 3° – current variant"]);
  await page.getByRole("combobox", { name: "Keep equal", exact: true }).selectOption({ label: "dog width" });
  await expect(page.locator(".held-at")).toContainText(/Possible in every layout: [\d.]+° to [\d.]+°\./);
  await page.getByLabel("Kept at").fill("22");
  await page.getByLabel("Kept at").press("Enter");
  await expect(page.locator(".held")).toContainText("Dog width is kept at 22° in every layout.");
  const folded = page.locator(".compare .fold button[aria-expanded=false]");
  while ((await folded.count()) > 0) await folded.first().click();
  await expect(page.locator('[data-row="free_angle_deg"] td').first()).toContainText("16°");
  for (const [name, head] of [["Save table as CSV", /^"key",/m], ["Save curves as CSV", /^speed_difference_rpm,/m]]) {
    const { text } = await download(page, () => button(page, name).click());
    expect(text).toMatch(head);
    expect(text).toContain("# Speed difference: 300 rpm");
    expect(text).toContain('"2 half-height"');
  }
});

test("nobody is shut out of variants", async ({ page }) => {
  await open(page, `./#${linkOf(THREE)}`);
  await go(page, "Plan");
  expect.soft(await violationsIn(page, PAPER_AND_SLATE), "Plan").toEqual([]);
  await go(page, "Compare");
  await page.getByRole("combobox", { name: "Keep equal", exact: true }).selectOption({ label: "window width" });
  await expect(page.locator(".held-at")).toBeVisible();
  expect.soft(await violationsIn(page, PAPER_AND_SLATE), "Compare").toEqual([]);
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test("a variant is added, renamed and switched by finger, and nothing runs off the side", async ({ page }) => {
    const sideways = () => page.evaluate(() => document.scrollingElement.scrollWidth - innerWidth);
    await open(page, `./#${linkOf(THREE)}`);
    await go(page, "Plan");
    await chosen(page).tap();
    await page.locator(".menu.variants .sheet").getByRole("button", { name: "half-height" }).tap();
    await expect(chosen(page)).toContainText("half-height");
    await button(page, "Add a variant").tap();
    await expect(rows(page)).toHaveCount(4);
    await rename(page, 3, "A name as long as a name of a variant can be, sixty letters");
    expect(await sideways(), "Plan").toBeLessThanOrEqual(0);
    await go(page, "Compare");
    await expect(columns(page)).toHaveCount(4);
    expect(await sideways(), "Compare").toBeLessThanOrEqual(0);
  });
});

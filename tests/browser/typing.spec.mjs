// Numbers as people type them.
import {
  button, dogButton, expect, field, hash, keptLink, handle, now, open, outwards, panel, pull, select, test, title,
  type, menu,
} from "./kit.mjs";

const OUTER = "A.outer_diameter_mm";

test("understands a comma, fractions of an inch, units, and minutes", async ({ page }) => {
  await open(page);
  for (const [slot, typed, shown] of [
    ["A.height_mm", "12,5", "12.5"],
    ["A.height_mm", "1/2 in", "12.7"],
    ["A.height_mm", " 6 mm ", "6"],
    ["A.height_mm", "0.7cm", "7"],
    ["A.tip_width_deg", "11°30'", "11.5"],
    ["A.tip_width_deg", "11:30:36", "11.51"],
    ["A.back_cut_drive_deg", "30'", "0.5"],
    ["A.back_cut_drive_deg", "2° 45″", "2.013"],
    ["A.back_cut_drive_deg", "45’", "0.75"],
    ["A.height_mm", '0.25"', "6.35"],
    ["overlap_mm", "−0.5", "-0.5"],
    ["A.count", "5", "5"],
  ]) {
    await type(page, slot, typed);
    await expect(field(page, slot), typed).toHaveValue(shown);
    await expect(field(page, slot), typed).toHaveAttribute("aria-invalid", "false");
  }
  await button(page, "Shift").click();
  await type(page, "gear1.shift_up_rpm", "9100 rpm");
  await expect(field(page, "gear1.shift_up_rpm")).toHaveValue("9100");
});

test("keeps a wrong text, says what is wrong, and leaves the design alone", async ({ page }) => {
  await open(page);
  const before = await keptLink(page);
  for (const [slot, typed, why] of [
    [OUTER, "abc", /“abc” is not a number/],
    [OUTER, "1.2.3", /“1\.2\.3” is not a number/],
    [OUTER, "", /This field is empty/],
    [OUTER, "600", /Ring A, outer diameter: 600 mm is outside the range 6 mm to 500 mm\./],
    [OUTER, "60 kg", /The unit “kg” does not fit here\. Use mm or in\./],
    [OUTER, "2'", /“2'” is in feet, which are not accepted here\. Use mm or in/],
    [OUTER, "1.234,5", /both a point and a comma/],
    ["A.tip_width_deg", "11°75′", /Minutes and seconds run from 0 to 59/],
    ["A.count", "5.5", /5\.5 is not a whole number/],
    ["A.count", "97", /97 is outside the range 1 to 96/],
    ["overlap_mm", "-21", /Overlap in gear: −21 mm is outside the range −20 mm to 50 mm/],
  ]) {
    const input = field(page, slot);
    await type(page, slot, typed);
    await expect(input, typed).toHaveValue(typed);
    await expect(input, typed).toHaveAttribute("aria-invalid", "true");
    await expect(input, typed).toHaveAccessibleDescription(why);
    await input.press("Escape");
    await expect(input, "Escape brings the number back").toHaveAttribute("aria-invalid", "false");
    await expect(input).not.toHaveValue(typed);
  }
  expect(await keptLink(page)).toBe(before);
  await expect(button(page, "Undo")).toBeDisabled();
});

test("a wrong text gives way when it is mended or the number changes", async ({ page }) => {
  await open(page);
  const outer = field(page, OUTER);
  await type(page, OUTER, "sixty");
  await type(page, OUTER, "62");
  await expect(outer).toHaveAttribute("aria-invalid", "false");
  await expect(outer).toHaveAccessibleDescription("Across the outer ends of the dogs, through the shaft axis.");

  await type(page, OUTER, "sixty");
  await select(page);
  await pull(page, "Face view", "outer_diameter_mm", outwards(-10));
  await page.mouse.up();
  const value = await handle(page, "Face view", "outer_diameter_mm").getAttribute("aria-valuenow");
  await expect.poll(() => outer.inputValue().then(Number)).toBeCloseTo(Number(value), 6);
  await expect(outer).toHaveAttribute("aria-invalid", "false");
});

test("what is wrong is told in the units that are shown", async ({ page }) => {
  await open(page);
  await type(page, OUTER, "600");
  await menu(page, "Units");
  await button(page, "inch").click();
  const outer = field(page, OUTER);
  // Either the text is put aside, or it is read again in the new unit.
  await expect(outer).toHaveAccessibleDescription(/^(?!.* mm)/);
});

test("a wrong text in one field does not stand in the way of others", async ({ page }) => {
  await open(page);
  await type(page, OUTER, "abc");
  await type(page, "A.count", "3");
  await type(page, "B.count", "3");
  await expect(now(page, "free_angle_deg")).toHaveText("72°");
  await expect(field(page, OUTER)).toHaveValue("abc");
});

test("inch and minutes change what is shown and not the design", async ({ page }) => {
  await open(page);
  await select(page);
  const before = await keptLink(page);
  await menu(page, "Units");
  await button(page, "inch").click();
  await expect(field(page, OUTER)).toHaveValue("2.3622");
  await expect(now(page, "lash_mm")).toHaveText(/ in$/);
  await expect(handle(page, "Face view", "outer_diameter_mm")).toHaveAttribute("aria-valuetext", "2.3622 in");
  await page.getByRole("button", { name: /degrees.* minutes/ }).click();
  await expect(field(page, "A.tip_width_deg")).toHaveValue("24°00′00″");
  await expect(now(page, "free_angle_deg")).toHaveText("12°00′");

  // Walking through the fields without typing rounds nothing.
  await field(page, OUTER).focus();
  for (let step = 0; step < 8; step += 1) await page.keyboard.press("Tab");
  expect(await keptLink(page)).toBe(before);
  await expect(button(page, "Undo")).toBeDisabled();

  await type(page, OUTER, "2 3/8");
  await type(page, "A.tip_width_deg", "23 30");
  await expect(field(page, "A.tip_width_deg")).toHaveValue("23°30′00″");
  await keptLink(page);
  await page.reload();
  await expect(field(page, "A.tip_width_deg"), "the units are remembered").toHaveValue("23°30′00″");
  await menu(page, "Units");
  await expect(button(page, "inch")).toHaveAttribute("aria-pressed", "true");
  await menu(page, "Units");
  await button(page, "mm").click();
  await page.getByRole("button", { name: /decimal degrees/ }).click();
  await expect(field(page, OUTER)).toHaveValue("60.325");
  await expect(field(page, "A.tip_width_deg")).toHaveValue("23.5");
});

test("a height pattern leaves every second dog at half height", async ({ page }) => {
  await open(page);
  for (const ring of ["A", "B"]) {
    const pattern = panel(page, ring).getByRole("textbox", { name: "Height pattern" });
    await pattern.fill("1 0.5");
    await pattern.press("Enter");
    await expect(pattern).toHaveValue("1 0.5");
  }
  await expect(now(page, "free_angle_deg")).toHaveText("72°");
  await expect(now(page, "entry_windows")).toHaveText("3");

  const pattern = panel(page, "A").getByRole("textbox", { name: "Height pattern" });
  for (const wrong of ["1 x", "2", "0 0", ""]) {
    await pattern.fill(wrong);
    await pattern.press("Enter");
    await expect(pattern, wrong).toHaveValue(wrong);
    await expect(pattern, wrong).toHaveAttribute("aria-invalid", "true");
    await expect(panel(page, "A").getByText(/Enter fractions of full height from 0 to 1/), wrong).toBeVisible();
  }
  await expect(now(page, "entry_windows")).toHaveText("3");
  await pattern.fill("1 0");
  await pattern.press("Enter");
  await expect(dogButton(page, "A2")).toHaveAccessibleName(/empty position$/);
});

test("texts keep their own undo while they are typed", async ({ page }) => {
  await open(page);
  await title(page).fill("Third gear");
  await title(page).press("Enter");
  await expect.poll(() => hash(page)).not.toBe("");
  await button(page, "Undo").click();
  await expect(title(page)).toHaveValue("Hill-climb single, second gear (invented)");
  const notes = page.getByRole("textbox", { name: "Notes" });
  await notes.pressSequentially("Measured. ");
  await page.keyboard.press("Control+z");
  await expect(title(page)).toHaveValue("Hill-climb single, second gear (invented)");
  await expect(notes).toHaveValue(/^(?!Measured)Invented example/);
});

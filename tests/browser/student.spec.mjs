// A student compares rings and reads where the numbers come from.
import { button, expect, field, figure, finding, now, open, panel, test, verdict, was } from "./kit.mjs";

const startFrom = (page, ring) => panel(page, ring).getByLabel("Start from");

test("starts both rings from the list and compares them", async ({ page }) => {
  await open(page);
  for (const [start, free, windows] of [
    ["3 dogs", "72°", "3"],
    ["4 dogs", "42°", "4"],
    ["5 dogs", "24°", "5"],
    ["6 dogs", "12°", "6"],
    ["6 dogs, every second half-height", "72°", "3"],
    ["6 slots", "16°", "6"],
    ["Fine spline, 30 teeth", "0.8°", "30"],
  ]) {
    for (const ring of ["A", "B"]) await startFrom(page, ring).selectOption({ label: start });
    await expect(now(page, "free_angle_deg"), start).toHaveText(free);
    await expect(now(page, "entry_windows"), start).toHaveText(windows);
    await expect(panel(page, "A").locator(".start"), "it is explained").not.toBeEmpty();
  }
  await expect(was(page, "free_angle_deg")).toHaveText("12° →");
  await expect(verdict(page, "free_angle_deg")).toHaveText("worse");
  await expect(verdict(page, "lash_deg")).toHaveText("better");
});

test("keeps the diameters when a ring is started anew", async ({ page }) => {
  await open(page);
  await field(page, "A.outer_diameter_mm").fill("66");
  await field(page, "A.outer_diameter_mm").press("Enter");
  await startFrom(page, "A").selectOption({ label: "3 dogs" });
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("66");
  await expect(field(page, "A.count")).toHaveValue("3");
});

test("the list says what was started from only as long as it is so", async ({ page }) => {
  await open(page);
  await startFrom(page, "A").selectOption({ label: "3 dogs" });
  await button(page, "Undo").click();
  await expect(startFrom(page, "A")).toHaveValue("");
  await startFrom(page, "A").selectOption({ label: "3 dogs" });
  await expect(field(page, "A.count")).toHaveValue("3");
});

test("learns that few dogs on one ring gain nothing, and makes the other like it", async ({ page }) => {
  await open(page);
  await startFrom(page, "A").selectOption({ label: "3 dogs" });
  await expect(finding(page, "fewer_on_one_ring")).toBeVisible();
  await expect(now(page, "free_angle_deg")).toHaveText("12°");
  await panel(page, "B").getByRole("button", { name: "Copy ring A" }).click();
  await expect(finding(page, "fewer_on_one_ring")).toHaveCount(0);
  await expect(now(page, "free_angle_deg")).toHaveText("72°");
  await expect(field(page, "B.count")).toHaveValue("3");
  await button(page, "Undo").click();
  await expect(field(page, "B.count")).toHaveValue("6");
});

test("compares with another design from here on", async ({ page }) => {
  await open(page);
  for (const ring of ["A", "B"]) await startFrom(page, ring).selectOption({ label: "3 dogs" });
  await button(page, "Set as baseline").click();
  await expect(was(page, "free_angle_deg")).toBeEmpty();
  for (const ring of ["A", "B"]) await startFrom(page, ring).selectOption({ label: "4 dogs" });
  await expect(was(page, "free_angle_deg")).toHaveText("72° →");
  await expect(now(page, "free_angle_deg")).toHaveText("42°");
  await expect(verdict(page, "free_angle_deg")).toHaveText("worse");
});

test("opens a figure to formula, numbers, result and source, and every one has them", async ({ page }) => {
  await open(page);
  await figure(page, "straight_in_limit_rpm").locator("summary").click();
  const terms = figure(page, "straight_in_limit_rpm").locator("dl:not(.spans)");
  await expect(terms.locator("dt")).toHaveText(["Meaning", "Formula", "Working", "Result", "Source"]);
  await expect(terms.locator("dd")).toHaveText([/speed/, /Δn_max = b\/τ/, /b 13\.76°, τ 8\.33 ms/, "275 rpm", /.+/]);
  await expect(terms).toBeVisible();
  const figures = await page.locator("details[data-key]").count();
  expect(figures).toBeGreaterThan(40);
  await page.locator("details[data-key]").evaluateAll((all) => all.forEach((details) => { details.open = true; }));
  await expect(page.locator("[data-key] dl:not(.spans)")).toHaveCount(figures);
  const every = await page.locator("[data-key] dl:not(.spans) dd").allTextContents();
  expect(every.length).toBe(5 * figures);
  for (const text of every) expect(text).toMatch(/\S/);
});

test("reads what a number means while it is chosen", async ({ page }) => {
  await open(page);
  await field(page, "A.back_cut_drive_deg").focus();
  await expect(page.locator(".explain")).toContainText(
    "Ring A, drive-side undercut. Angle of the flank that carries power",
  );
  await expect(page.locator(".explain")).toBeInViewport();
  await page.getByRole("slider", { name: "Overlap in gear" }).first().focus();
  await expect(page.locator(".explain")).toContainText("How far the tallest tips, as found, have passed each other");
});

test("lists the dogs as measured, and spoils one", async ({ page }) => {
  await open(page);
  await panel(page, "B").getByRole("button", { name: /^List each dog/ }).click();
  const list = page.getByRole("region", { name: "Dogs of ring B, as measured" });
  await expect(list.getByRole("row")).toHaveCount(7);
  const width = page.getByRole("textbox", { name: "Ring B, dog 3, dog width" });
  await width.fill("25.5");
  await width.press("Enter");
  await expect(now(page, "free_angle_narrowest_deg")).not.toHaveText("12°");
  await expect(verdict(page, "free_angle_narrowest_deg")).toHaveText("worse");
  await list.getByRole("button", { name: "Remove dog 3 from the list" }).click();
  await expect(list.getByRole("row")).toHaveCount(6);
  await panel(page, "B").getByRole("button", { name: "Add dog" }).click();
  await expect(list.getByRole("row")).toHaveCount(7);
  await expect(page.getByRole("textbox", { name: "Ring B, dog 6, centre angle" })).toHaveValue("120");
});

// From what the rider feels to the cause, by keyboard alone.
import { button, expect, field, go, linkOf, now, open, openPlain, picture, test, type } from "./kit.mjs";

const PARTS = {
  crenel: 1,
  linkage: {},
  claw: { claw_travel_lift_mm: 10, claw_travel_press_mm: 10 },
  detent: {},
  track: {},
  depth: {
    this: [{ size_mm: 1.2, tolerance_mm: 0.1, way: "opens" }],
    other: [{ size_mm: 1.3, tolerance_mm: 0.1, way: "opens" }],
  },
};

const card = (page, check) => page.locator(`[data-check="${check}"]`);
const verdict = (page, check) => card(page, check).locator(".judged");

/** Goes on with the Tab key until what has the focus is wanted. */
async function tabTo(page, wanted) {
  for (let presses = 0; presses < 250; presses += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(wanted.read, wanted.given)) return;
  }
  throw new Error(`the Tab key never came to ${wanted.given}`);
}

const labelled = (text) => ({
  given: text,
  read: (text) => document.activeElement.closest("label")?.textContent.trim() === text,
});
const slot = (key) => ({ given: key, read: (key) => document.activeElement.dataset?.slot === key });

test("a wrong text is told and nothing is lost", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1, felt: ["jumps_power"], measured: { measured_overlap_mm: 4 } })}`);
  await go(page, "Checks");
  await expect(verdict(page, "engaged_depth")).toHaveText("within limits");
  await type(page, "measured_overlap_mm", "two");
  await expect(card(page, "engaged_depth").locator(".wrong")).not.toBeEmpty();
  await expect(verdict(page, "engaged_depth")).toHaveText("within limits");
  await type(page, "measured_overlap_mm", "99");
  await expect(card(page, "engaged_depth").locator(".wrong")).toContainText(
    "outside the range −20 mm to 50 mm",
  );
  await type(page, "measured_overlap_mm", "3,2");
  await expect(verdict(page, "engaged_depth")).toHaveText("out of limits");
});

for (const [width, height] of [[1440, 900], [1024, 768], [390, 844]]) {
  test(`at ${width} px the first check is in sight once a symptom is ticked`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openPlain(page, `./#${linkOf({ crenel: 1 })}/trace`);
    await page.getByRole("checkbox", { name: "It grinds on the way in" }).check();
    const now = page.locator(".check.now");
    await expect(now.locator("h4")).toBeInViewport();
    await expect(now.locator("input").first()).toBeInViewport();
    await expect(now.locator(".where")).toBeInViewport();
    // One more can be ticked.
    if (width < 1024) {
      await expect(page.locator(".felt > summary")).toBeFocused();
      await page.locator(".felt > summary").click();
    }
    await expect(page.getByRole("checkbox", { name: "It grinds on the way in" })).toBeChecked();
    await page.getByRole("checkbox", { name: "The shift hangs halfway" }).check();
    await expect(page.locator(".felt > summary")).toContainText("The shift hangs halfway");
  });
}

test("polishing the faces alone is one click, and undo takes it back", async ({ page }) => {
  const design = {
    crenel: 1,
    slip_rpm: 60,
    felt: ["hangs"],
    measured: { measured_tip_friction: 0.22, measured_edge_a_mm: 0.3 },
  };
  await open(page, `./#${linkOf(design)}`);
  await go(page, "Checks");
  await button(page, "What if only tips are polished?").click();
  await picture(page, "As found and as cut");
  await expect(page.getByRole("heading", { name: "As found and as cut" })).toBeVisible();
  await expect(page.getByRole("group", { name: "Work on ring A" }).locator(".operations li")).toHaveCount(1);
  await expect(page.getByRole("group", { name: "Work on ring B" }).locator(".operations li")).toHaveCount(1);
  await go(page, "Shift");
  await expect(field(page, "tip_friction")).toHaveValue("0.22");
  // Nothing but the friction is taken over.
  await go(page, "Dogs");
  await expect(field(page, "A.edge_break_mm")).toHaveValue("0");
  await button(page, "Undo").click();
  await go(page, "Shift");
  await expect(field(page, "tip_friction")).not.toHaveValue("0.22");
});

test("what was measured on the dogs goes into the design in one click", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1, measured: { measured_overlap_mm: 3.9, measured_flank_drive_deg: 2 } })}`);
  await go(page, "Checks");
  const take = button(page, "Apply the dog measurements");
  await take.click();
  await expect(take).toBeDisabled();
  await go(page, "Dogs");
  await expect(field(page, "overlap_mm")).toHaveValue("3.9");
  await expect(field(page, "B.back_cut_drive_deg")).toHaveValue("2");
  await expect(now(page, "full_depth_mm")).toHaveText("3.9 mm");
});

test("it prints as an inspection report", async ({ page }) => {
  const design = {
    ...PARTS,
    title: "T (invented)",
    initials: "AB",
    felt: ["jumps_power"],
    measured: { measured_overlap_mm: 3 },
  };
  await open(page, `./#${linkOf(design)}`);
  await go(page, "Checks");
  await page.emulateMedia({ media: "print" });
  await expect(page.getByText("Inspection report. Inspected by AB on")).toBeVisible();
  await expect(page.locator(".trace .block h3")).toHaveText("T (invented)");
  await expect(card(page, "engaged_depth")).toBeVisible();
  await expect(field(page, "measured_overlap_mm")).toBeVisible();
  await expect(page.getByText("hardened", { exact: false }).first()).toBeVisible();
  for (const hidden of [
    page.getByRole("navigation", { name: "Parts of the job" }),
    page.locator(".trace .flow"),
    page.locator("#results"),
  ]) {
    await expect(hidden).toBeHidden();
  }
  const paper = await page.pdf({ preferCSSPageSize: true });
  expect(paper.length).toBeGreaterThan(10_000);
});

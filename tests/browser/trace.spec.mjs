// From what the rider feels to the cause, by keyboard alone.
import { button, expect, field, go, linkOf, now, open, test, type } from "./kit.mjs";

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
const named = (text) => ({ given: text, read: (text) => document.activeElement.textContent.trim() === text });

// For each symptom: a number to measure that is past its limit, the check it belongs to, and its place.
const WALKS = [
  [
    "The shift hangs halfway",
    "measured_tip_friction",
    "0.7",
    "tip_faces",
    "of all shifts at 60 rpm rub to a standstill",
    { slip_rpm: 60 },
  ],
  [
    "The gear jumps out under power",
    "measured_flank_drive_deg",
    "-4",
    "drive_flanks",
    "The flank leans 4° the wrong way and pushes the gears apart with 69.9 N for each 1000 N",
  ],
  ["The gear jumps out on the overrun", "measured_flank_coast_deg", "-2", "coast_flanks", "leans 2° the wrong way"],
  ["It overshoots into a false neutral", "measured_gap_press_mm", "0.1", "stop_gap", "Pressing, the gap is 0.1 mm."],
  ["The pedal kicks back and the gear does not engage", "measured_gap_lift_mm", "2.6", "stop_gap", "Lifting, the gap is 2.6 mm."],
  ["It clunks when the throttle is opened or closed", "measured_lash_deg", "25", "lash", "25° measured, 12° as drawn"],
  [
    "It crunches only between first and second",
    "measured_spare_lift_mm",
    "-6",
    "pedal_reach",
    "Lifting, the foot is 6 mm short of the stop.",
  ],
];

for (const [symptom, key, text, check, says, more = {}] of WALKS) {
  test(`by keyboard alone: ${symptom}`, async ({ page }) => {
    await open(page, `./#${linkOf({ ...PARTS, ...more })}`);
    await tabTo(page, named("Checks"));
    await page.keyboard.press("Enter");
    await expect(page.getByRole("heading", { name: "Checks", exact: true })).toBeVisible();
    await tabTo(page, labelled(symptom));
    await page.keyboard.press("Space");
    const before = await verdict(page, check).textContent();
    expect(before).not.toBe("out of limits");
    await tabTo(page, slot(key));
    await page.keyboard.type(text);
    await page.keyboard.press("Tab");
    await expect(verdict(page, check)).toHaveText("out of limits");
    await expect(card(page, check)).toContainText(says);
    await expect(card(page, check)).toContainText("Measured.");
    await expect(card(page, check)).toContainText("Next:");
    const causes = page.getByRole("region", { name: "Causes" });
    await expect(causes.locator("li").first()).toContainText(symptom);
    // Outside in: the stations stand in their order.
    const stations = await page.locator(".station:not(.hidden) > h3").allTextContents();
    const order = [
      "Pedal linkage",
      "Claw, stop and detent",
      "Depth and shims",
      "Tips, edges and flanks",
      "Dog layout",
    ];
    expect(stations).toEqual(order.filter((name) => stations.includes(name)));
    // What is taken back is open or as worked out again, and no cause any more.
    await field(page, key).focus();
    await page.keyboard.press("ControlOrMeta+A");
    await page.keyboard.press("Delete");
    await page.keyboard.press("Enter");
    await expect(verdict(page, check)).toHaveText(before);
  });
}

test("what is not measured stays open and says so", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1, felt: ["jumps_power"] })}`);
  await go(page, "Checks");
  await expect(page.getByText("Nothing is measured yet, so there is no verdict.")).toBeVisible();
  const verdicts = await page.locator(".judged").allTextContents();
  expect(verdicts.length).toBeGreaterThan(5);
  expect(new Set(verdicts)).toEqual(new Set(["not measured"]));
});

test("a wrong text is told and nothing is lost", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1, felt: ["jumps_power"], measured: { measured_overlap_mm: 4 } })}`);
  await go(page, "Checks");
  await expect(verdict(page, "engaged_depth")).toHaveText("within limits");
  await type(page, "measured_overlap_mm", "two");
  await expect(card(page, "engaged_depth").locator(".wrong")).not.toBeEmpty();
  await expect(verdict(page, "engaged_depth")).toHaveText("within limits");
  await type(page, "measured_overlap_mm", "99");
  await expect(card(page, "engaged_depth").locator(".wrong")).toContainText(
    "it must be from −20 mm to 50 mm",
  );
  await type(page, "measured_overlap_mm", "3,2");
  await expect(verdict(page, "engaged_depth")).toHaveText("out of limits");
});

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

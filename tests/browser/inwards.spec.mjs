// From the pedal inwards: linkage, claw, detent, track and the chains along the shaft.
import {
  button, by, drawn, expect, field, finding, go, handle, keptLink, linkOf, markup, now, open, picture, pull, shown,
  test, type, view, violations, walk,
} from "./kit.mjs";

const GIVEN = { crenel: 1, linkage: {}, claw: {}, detent: {}, track: {} };
const CHAINS = {
  this: [
    { name: "wall to tips", size_mm: 31.4, tolerance_mm: 0.05, way: "opens" },
    { name: "wall to fork", size_mm: 20, tolerance_mm: 0.05 },
    { name: "groove to tips", size_mm: 10.2, tolerance_mm: 0.03 },
  ],
  other: [{ name: "as measured", size_mm: 1.4, tolerance_mm: 0.02, way: "opens" }],
};

async function openAt(page, area, design) {
  await open(page, `./#${linkOf(design)}`);
  await go(page, area);
}

const number = async (page, key) => Number.parseFloat((await now(page, key).textContent()).replace("−", "-"));
const choose = (page, label, option) =>
  page.getByRole("combobox", { name: label, exact: true }).selectOption({ label: option });

test("each part is given by a button, drawn, and taken away by undo", async ({ page }) => {
  await openAt(page, "Pedal to fork", { crenel: 1 });
  await expect(page.locator(".empty-state")).toContainText("Nothing between pedal and fork is entered yet.");
  for (const [name, drawing, key] of [
    ["Start with an example linkage", "Pedal and linkage", "shaft_swing_lift_deg"],
    ["Start with an example claw", "Claw, drum and detent", "gap_lift_mm"],
    ["Start with an example detent", "Claw, drum and detent", "detent_hold_nmm"],
    ["Start with an example drum track", "Drum track", "fork_at_home_mm"],
  ]) {
    await button(page, name).last().click();
    await expect(now(page, key)).toBeVisible();
    await expect(view(page, drawing)).not.toContainText("entered yet");
  }
  await button(page, "Undo").click();
  await expect(now(page, "fork_at_home_mm")).toHaveCount(0);
  await expect(page.locator(".view.track .missing")).toContainText("No drum track has been entered yet.");
});

test("a rod that does not reach is said with its limits, and drawn", async ({ page }) => {
  await openAt(page, "Pedal to fork", GIVEN);
  await type(page, "rod_mm", "60");
  // Lever end at 125 and 52 mm, arm of 35 mm.
  const far = Math.hypot(125, 52);
  // Limits are rounded inwards, so that both of them reach.
  const [least, most] = [Math.ceil((far - 35) * 100) / 100, Math.floor((far + 35) * 100) / 100];
  await expect(finding(page, "rod_does_not_reach")).toContainText(`A rod of 60 mm does not fit`);
  await expect(finding(page, "rod_does_not_reach")).toContainText(`${least} mm to ${most} mm long`);
  await expect(view(page, "Pedal and linkage")).toContainText("The rod does not reach");
  expect((await markup(page, "Pedal and linkage")).match(/<path/g).length).toBeGreaterThan(4);
  // The pair is still worked out.
  await expect(now(page, "lash_deg")).toHaveText("12°");
  await type(page, "rod_mm", "126");
  await expect(finding(page, "rod_does_not_reach")).toHaveCount(0);
});

test("the peg is dragged and stepped, and the rod follows", async ({ page }) => {
  await openAt(page, "Pedal to fork", GIVEN);
  const rod = () => field(page, "rod_mm").inputValue().then(Number);
  await pull(page, "Pedal and linkage", "rod_mm", by(0, -40));
  await page.mouse.up();
  const dragged = await rod();
  expect(dragged).toBeGreaterThan(126);
  const knob = handle(page, "Pedal and linkage", "rod_mm");
  await knob.focus();
  await knob.press("ArrowUp");
  expect(await rod()).toBeCloseTo(dragged + 0.1, 6);
  await expect(knob).toHaveAttribute("aria-valuetext", `${await rod()} mm`);
  await button(page, "Undo").click();
  await button(page, "Undo").click();
  expect(await rod()).toBe(126);
});

test("every handle of the four drawings moves its own number", async ({ page }) => {
  await openAt(page, "Pedal to fork", GIVEN);
  for (const [drawing, keys] of [
    [
      "Pedal and linkage",
      [
        "shaft_lever_at_deg",
        "shaft_lever_mm",
        "shaft_ahead_mm",
        "shaft_above_mm",
        "pedal_arm_mm",
        "foot_arm_mm",
        "foot_lift_mm",
        "foot_press_mm",
      ],
    ],
    ["Claw, drum and detent", ["pin_radius_mm", "shaft_to_drum_mm", "stop_radius_mm", "star_radius_mm"]],
    ["Drum track", ["track_start_deg", "track_end_deg", "fork_throw_mm"]],
  ]) {
    for (const key of keys) {
      const before = Number(await field(page, key).inputValue());
      await handle(page, drawing, key).focus();
      await page.keyboard.press("ArrowUp");
      expect(Number(await field(page, key).inputValue()), key).toBeGreaterThan(before);
    }
  }
});

test("another pedal height says what it costs and is taken in one click", async ({ page }) => {
  await openAt(page, "Pedal to fork", GIVEN);
  await picture(page, "Effect of pedal height");
  const table = page.getByRole("region", { name: "Table: effect of pedal height" });
  const row = table.locator("tbody tr").filter({ hasText: "10 mm higher" });
  const told = Number.parseFloat(await row.locator("td").first().textContent());
  expect(told).toBeGreaterThan(126);
  await row.getByRole("button").click();
  await expect(field(page, "rod_mm")).toHaveValue(String(told));
  await expect(table.locator('tr[aria-current="true"]')).toContainText(`${told} mm`);
});

test("a pedal on the shaft needs no rod", async ({ page }) => {
  await openAt(page, "Pedal to fork", GIVEN);
  await choose(page, "Connected by", "no rod: pedal on the shaft");
  await expect(field(page, "rod_mm")).toHaveCount(0);
  // 36 mm on an arm of 130 mm.
  await expect(now(page, "shaft_swing_lift_deg")).toHaveText("15.9°");
  await expect(now(page, "peg_per_spline_mm")).toHaveText(`${shown("length", (130 * 2 * Math.PI) / 36)} mm`);
});

test("the eccentric makes both gaps the same in one click, and they are what the drawing says", async ({ page }) => {
  await openAt(page, "Pedal to fork", GIVEN);
  expect(await number(page, "gap_lift_mm")).not.toBeCloseTo(await number(page, "gap_press_mm"), 1);
  await expect(finding(page, "gaps_unequal")).toBeVisible();
  await page.getByRole("button", { name: /^Turn the eccentric to 23\.5°/ }).click();
  await expect(finding(page, "gaps_unequal")).toHaveCount(0);
  expect(await number(page, "gap_lift_mm")).toBeCloseTo(await number(page, "gap_press_mm"), 2);
  await button(page, "To the stop").click();
  const gap = (await number(page, "gap_lift_mm")).toFixed(2);
  await expect(view(page, "Claw, drum and detent")).toContainText(`gap at the stop ${Number(gap)} mm`);
});

test("a stroke is played, and says where the drum ends up", async ({ page }) => {
  await openAt(page, "Pedal to fork", GIVEN);
  const told = page.getByRole("region", { name: "Play a stroke" }).locator(".told");
  const still = await markup(page, "Claw, drum and detent");
  await button(page, "Play stroke").click();
  await expect.poll(() => markup(page, "Claw, drum and detent")).not.toBe(still);
  await expect(told).toContainText("drum 60°.", { timeout: 10_000 });
  await expect(told).toContainText("The drum reaches the next position");
  await type(page, "claw_travel_lift_mm", "4");
  await expect(told).toContainText("falls back");
  await expect(finding(page, "drum_falls_back")).toContainText("With the pedal lifted, the claw turns the drum");
  await button(page, "At rest").click();
  expect(await markup(page, "Claw, drum and detent")).not.toContain("gap at the stop");
});

test("the track is given point by point, and a point out of order is named", async ({ page }) => {
  await openAt(page, "Pedal to fork", GIVEN);
  await button(page, "Enter point by point").click();
  await button(page, "Add point").click();
  await expect(field(page, "point2.track_at_deg")).toHaveValue("33");
  await type(page, "point3.track_at_deg", "20");
  await expect(finding(page, "track_out_of_order")).toContainText("track point 3");
  await type(page, "point3.track_at_deg", "59");
  await expect(finding(page, "track_out_of_order")).toHaveCount(0);
  // Home at 60° ± half of 1°: a tenth of the last flank is lost.
  expect(await number(page, "rocking_costs_mm")).toBe(0);
  await type(page, "drum_slack_deg", "10");
  expect(await number(page, "rocking_costs_mm")).toBeGreaterThan(0.1);
});

test("chains say clearance, overlap and shim, and the shim is fitted in one click", async ({ page }) => {
  await openAt(page, "Depth", { crenel: 1, depth: CHAINS });
  await expect(now(page, "clearance_this_mm")).toHaveText("1.2 mm");
  await expect(now(page, "least_clearance_this_mm")).toHaveText("0.97 mm");
  await expect(now(page, "pushed_in_this_mm")).toHaveText("4.5 mm");
  await expect(view(page, "Tolerance stack-up")).toContainText("Clearance 1.2 ±0.13, likely ±0.08");
  await expect(
    page.getByText("To centre the sliding gear, move it 0.1 mm away from this pair with shims."),
  ).toBeVisible();
  await button(page, "Fit shim").click();
  await expect(now(page, "clearance_this_mm")).toHaveText("1.3 mm");
  await expect(now(page, "clearance_other_mm")).toHaveText("1.3 mm");
  await expect(button(page, "Fit shim")).toBeDisabled();
  await expect(finding(page, "overlap_differs_from_depth")).toContainText(
    "the stack-up under Depth gives 4.4 mm, pushed in by the fork",
  );
});

test("a depth changes every number of the pair, and is taken over", async ({ page }) => {
  await openAt(page, "Depth", { crenel: 1, depth: CHAINS, a: { heights: [1, 0.5] } });
  await picture(page, "Effect on the pair");
  const table = page.getByRole("region", { name: "Results: as drawn and from the stack-up" });
  await choose(page, "Overlap in gear", "smallest, worst case");
  await expect(table.locator("tr").filter({ hasText: "Overlap in gear" })).toContainText("4.37 mm");
  await button(page, "Use this overlap").click();
  await expect(now(page, "full_depth_mm")).toHaveText("4.37 mm");
  await expect(page.getByText("Nothing changes.")).toBeVisible();
});

test("sizes are added, named, turned round and taken out", async ({ page }) => {
  await openAt(page, "Depth", { crenel: 1 });
  await button(page, "Start with example stack-ups").first().click();
  const chain = page.getByRole("group", { name: "Stack-up to this pair" });
  await chain.getByRole("button", { name: "Add part" }).click();
  await page.getByRole("textbox", { name: "Stack-up to this pair, part 4: name" }).fill("<b>washer</b> =1+1");
  await page.keyboard.press("Tab");
  await type(page, "This4.size_mm", "0.4");
  const effect = page.getByRole("combobox", { name: "Stack-up to this pair, part 4: effect on clearance" });
  await effect.selectOption("takes");
  await expect(now(page, "clearance_this_mm")).toHaveText("0.8 mm");
  await expect(view(page, "Tolerance stack-up")).toContainText("<b>washer</b>");
  await chain.getByRole("button", { name: "Stack-up to this pair, part 4: remove" }).click();
  await expect(now(page, "clearance_this_mm")).toHaveText("1.2 mm");
});

test("nothing of a drawing is left behind in another area", async ({ page }) => {
  await openAt(page, "Depth", { ...GIVEN, depth: CHAINS });
  await expect(view(page, "Developed view").locator("[data-dog]").first()).toBeVisible();
  await go(page, "Pedal to fork");
  await expect(view(page, "Shaft swing")).toContainText("stop, lifting");
  await expect(view(page, "Shaft swing").locator("[data-dog]")).toHaveCount(0);
  await expect(view(page, "Pedal and linkage")).not.toContainText("Clearance");
});

test("everything given travels in the link", async ({ page, profile }) => {
  await openAt(page, "Pedal to fork", { ...GIVEN, depth: CHAINS, felt: ["hangs"], measured: { measured_gap_lift_mm: 0.4 } });
  await type(page, "rod_mm", "127.5");
  const link = await keptLink(page);
  expect(link.length).toBeLessThan(2000);
  const other = await (await profile()).newPage();
  await other.goto(`./#${link}`);
  await drawn(other);
  await go(other, "Pedal to fork");
  await expect(field(other, "rod_mm")).toHaveValue("127.5");
  await go(other, "Depth");
  await expect(now(other, "clearance_this_mm")).toHaveText("1.2 mm");
  await go(other, "Checks");
  await expect(other.getByRole("checkbox", { name: "The shift hangs halfway" })).toBeChecked();
  await expect(field(other, "measured_gap_lift_mm")).toHaveValue("0.4");
});

for (const [width, colorScheme] of [[1440, "light"], [390, "dark"], [360, "light"]]) {
  test.describe(`${width} px, ${colorScheme}`, () => {
    test.use({ viewport: { width, height: 800 }, colorScheme });
    test("nobody is shut out, and nothing runs over the edge", async ({ page }) => {
      await openAt(page, "Pedal to fork", { ...GIVEN, depth: CHAINS });
      await walk(page, async (where) => {
        expect.soft(await violations(page), where).toEqual([]);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect.soft(over, where).toBeLessThanOrEqual(0);
      }, ["Pedal to fork", "Depth", "Checks"]);
    });
  });
}

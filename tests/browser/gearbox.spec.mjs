// A restorer gives the gearbox and sees what the same dogs come to in every shift.
import { button, expect, field, finding, go, linkOf, now, open, picture, shown, test, type, menu, view } from "./kit.mjs";

const from = (page) => page.getByLabel("Conditions from");
const clutch = (page) => page.getByRole("combobox", { name: "Clutch", exact: true });
const taken = (page) => page.locator(".taken");
const table = (page) => page.getByRole("region", { name: "Table of shifts" });
const lashTable = (page) => page.getByRole("region", { name: "Lash in every gear" });
const gears = (page) => page.getByRole("region", { name: "Gears", exact: true }).locator("tbody tr");
const hardest = (page, way) => page.locator(".hardest").filter({ hasText: `Hardest ${way}shift` });
const chosen = (select) => select.evaluate((at) => at.selectedOptions[0]?.textContent);

/** The row that begins with this. */
const row = (region, head) =>
  region.locator("tbody tr").filter({ has: region.page().getByRole("rowheader", { name: head, exact: true }) });

async function openShift(page, given = {}) {
  await open(page, `./#${linkOf({ crenel: 1, ...given })}`);
  await go(page, "Shift");
}

/** Clicks a thing that must be one step, and gives back what undoes it. */
async function oneStep(page, act) {
  const undone = await button(page, "Undo").isDisabled();
  expect(undone, "nothing was done before").toBe(true);
  await act();
  await expect(button(page, "Undo")).toBeEnabled();
  return async () => {
    await button(page, "Undo").click();
    await expect(button(page, "Undo")).toBeDisabled();
  };
}

const NUMBERS = [
  ["primary_driving_teeth", "30"], ["primary_driven_teeth", "30"],
  ["gear1.driving_teeth", "10"], ["gear1.driven_teeth", "26"], ["gear1.shift_up_rpm", "6000"],
  ["gear2.driving_teeth", "10"], ["gear2.driven_teeth", "19"],
];

/** A gearbox of 10/26 and 10/19 teeth behind a primary drive of 1:1, typed in. */
async function twoGears(page) {
  await openShift(page);
  await picture(page, "All shifts");
  await expect(table(page)).toHaveCount(0);
  await button(page, "Enter gearbox data").first().click();
  for (const gear of [5, 4, 3]) await button(page, `Remove gear ${gear}`).click();
  await expect(gears(page)).toHaveCount(2);
  for (const [slot, text] of NUMBERS) await type(page, slot, text);
}

test("types tooth counts and shift speeds and reads the speed difference of every shift", async ({ page }) => {
  await twoGears(page);
  // 6000/2.6·(2.6/1.9 − 1) up; from the 4500 rpm of a new gear, 4500/1.9·(1.9/2.6 − 1) down.
  await expect(row(table(page), "1→2")).toContainText("850 rpm, input faster");
  await expect(row(table(page), "1→2")).toContainText("drive flank");
  await expect(row(table(page), "2→1")).toContainText("638 rpm, input slower");
  await expect(row(table(page), "2→1")).toContainText("coast flank");
  await expect(table(page).locator("tbody tr:not(.if-other)")).toHaveCount(2);

  // On the input shaft it is 6000·(2.6 − 1.9)/2.6.
  await page.getByLabel("Gear 2: shaft of the free gear").selectOption("input");
  await expect(row(table(page), "1→2")).toContainText("1615 rpm, input faster");
  await expect(row(table(page), "2→1"), "that of gear 1 stays").toContainText("638 rpm, input slower");
  await button(page, "Undo").click();
  await expect(row(table(page), "1→2")).toContainText("850 rpm, input faster");
  expect(await chosen(page.getByLabel("Gear 2: shaft of the free gear"))).toBe("output");
});

test("window time, limit and blow of a shift follow from its speed difference", async ({ page }) => {
  await twoGears(page);
  // 12° at 850.2 rpm; 12° in the 8.333 ms of 1 mm at 0.12 m/s, which is 240 rpm.
  const up = row(table(page), "1→2");
  await expect(up).toContainText("2.4 ms");
  await expect(up).toContainText("below 240 rpm · 610 rpm over");
  await expect(up.getByRole("cell").nth(3), "no window is that long").toContainText("0 %");
  // J: 0.0009·1.9² with 0.0012 + 230·0.32²/2.8² in series; √(k·J)·Δω with k 2000 N·m/rad.
  const [one, other] = [0.0009 * 1.9 ** 2, 0.0012 + (230 * 0.32 ** 2) / 2.8 ** 2];
  const speed = ((6000 / 2.6) * (2.6 / 1.9 - 1) * 2 * Math.PI) / 60;
  const blow = Math.sqrt((2000 * one * other) / (one + other)) * speed;
  await expect(up).toContainText(`${blow.toFixed(0)} N·m`);
});

test("shows a shift, and the form says which", async ({ page }) => {
  await twoGears(page);
  expect(await chosen(from(page))).toBe("typed here");
  await button(page, "Show shift 2→1").click();
  expect(await chosen(from(page))).toBe("gearbox downshift");
  await expect(field(page, "gear")).toHaveValue("1");
  await expect(taken(page)).toHaveText(
    /^Gear 2 to 1 at 4500 rpm engine speed\. The output side is faster: coast flank meets coast flank\. Speed difference [-−]638 rpm, /,
  );
  // 45 N·m of the engine, 1:1 and then 2.6; final drive 42/15.
  await expect(taken(page)).toContainText("torque as the throttle opens 98.8 N·m, ratio to the wheel 2.8.");
  await expect(row(table(page), "2→1")).toHaveAttribute("aria-current", "true");
  await expect(button(page, "Shown: shift 2→1")).toBeDisabled();
  await expect(button(page, "Show shift 1→2")).toBeEnabled();
  const slip = (4500 / 1.9) * (1 - 1.9 / 2.6);
  await expect(now(page, "window_time_ms"), "12° at 637.65 rpm").toHaveText(
    `${shown("time", (12 / (6 * slip)) * 1000)} ms`,
  );
  await button(page, "Show shift 1→2").click();
  await expect(taken(page)).toContainText(
    "Gear 1 to 2 at 6000 rpm engine speed. The input side is faster: drive flank meets drive flank. " +
      "Speed difference 850 rpm",
  );
  await expect(row(table(page), "2→1")).not.toHaveAttribute("aria-current", "true");
  await button(page, "Undo").click();
  await expect(taken(page)).toContainText("Gear 2 to 1");
});

test("the whole table of shifts is in sight on a wide screen", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "All shifts");
  await expect(table(page)).toBeVisible();
  expect(await table(page).evaluate((at) => at.scrollWidth - at.clientWidth)).toBeLessThanOrEqual(1);
});

test("names the widest step, and another once that is wider", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "All shifts");
  // 8500 rpm through 70/27: 3278.6 rpm. 1→2: /(35/12)·(1.667 − 1). 2→3: /(28/16)·(1.296 − 1).
  await expect(hardest(page, "up")).toHaveText(
    /^Hardest upshift if every gear has these dogs: 1→2\. The ratio step is 1\.67; at an engine speed of 8500 rpm the speed difference is 749 rpm\. Next is 2→3 with 555 rpm\./,
  );
  await expect(hardest(page, "up")).toContainText("1→2 is over the straight-in limit: no shift goes straight in above 275 rpm.");
  // Half the engine speed of an upshift, and a little.
  await expect(hardest(page, "down")).toContainText("Hardest downshift if every gear has these dogs: 2→1.");
  await expect(hardest(page, "down")).toContainText("the speed difference is 397 rpm. Next is 3→2 with 294 rpm");
  await type(page, "gear4.driven_teeth", "21");
  // 27/20 over 21/25 is 1.607; 3278.6/1.35·0.607.
  await expect(hardest(page, "up")).toContainText("Hardest upshift if every gear has these dogs: 3→4. The ratio step is 1.61");
  await expect(hardest(page, "up")).toContainText("the speed difference is 1474 rpm. Next is 1→2 with 749 rpm");
});

test("carries the lash to the wheel in every gear", async ({ page }) => {
  await twoGears(page);
  const all = async () => lashTable(page).locator("tbody tr").evaluateAll((rows) =>
    rows.map((row) => [...row.cells].map((cell) => cell.textContent)));
  // 12° at the dogs over 2.8 of the final drive; on the input shaft the gear comes before it. Tyre 640 mm.
  await expect(page.getByText("Lash in every gear: 4.3° at the wheel, 24 mm at the tyre.")).toBeVisible();
  await page.getByLabel("Gear 1: shaft of the free gear").selectOption("input");
  await expect(row(lashTable(page), "1")).toContainText("1.6°");
  expect(await all()).toEqual([["1", "2.6", "1.6°", "9 mm"], ["2", "1.9", "4.3°", "24 mm"]]);
  await type(page, "final_driven_teeth", "30");
  await expect(row(lashTable(page), "2")).toContainText("6°");
});

test("opens a gearbox with its words as they were given", async ({ page }) => {
  await openShift(page, {
    shift: "up",
    gear: 2,
    gearbox: { clutch: "gripping", gears: [{}, { driven_teeth: 20, free_on: "input" }] },
  });
  expect(await chosen(page.getByLabel("Gear 1: shaft of the free gear"))).toBe("output");
  expect(await chosen(page.getByLabel("Gear 2: shaft of the free gear"))).toBe("input");
  expect(await chosen(clutch(page))).toBe("engaged (lever released)");
  expect(await chosen(from(page))).toBe("gearbox upshift");
});

test("a gripping clutch makes the engine follow, and the shock grows", async ({ page }) => {
  await twoGears(page);
  await button(page, "Show shift 1→2").click();
  const inertia = (engine) => {
    const [one, other] = [(0.0009 + engine) * 1.9 ** 2, 0.0012 + (230 * 0.32 ** 2) / 2.8 ** 2];
    return String(Number(((one * other) / (one + other)).toPrecision(3)));
  };
  await expect(taken(page)).toContainText(`reflected inertia ${inertia(0)} kg·m²`);
  await clutch(page).selectOption({ label: "engaged (lever released)" });
  await expect(taken(page)).toContainText(`reflected inertia ${inertia(0.008)} kg·m²`);
});

test("adds gears up to eight, and takes one out of the middle", async ({ page }) => {
  await openShift(page);
  await picture(page, "All shifts");
  const undo = await oneStep(page, () => button(page, "Enter gearbox data").first().click());
  await expect(gears(page)).toHaveCount(5);
  await undo();
  await expect(gears(page)).toHaveCount(0);
  await button(page, "Enter gearbox data").first().click();
  for (const count of [6, 7, 8]) {
    await button(page, "Add a gear").click();
    await expect(gears(page)).toHaveCount(count);
  }
  await expect(button(page, "Add a gear")).toBeDisabled();
  await expect(table(page).locator("tbody tr:not(.if-other)"), "seven up and seven down").toHaveCount(14);
  const teeth = await field(page, "gear4.driven_teeth").inputValue();
  await button(page, "Remove gear 3").click();
  await expect(gears(page)).toHaveCount(7);
  await expect(field(page, "gear3.driven_teeth"), "those above move down").toHaveValue(teeth);
  await expect(button(page, "Add a gear")).toBeEnabled();
  await button(page, "Undo").click();
  await expect(gears(page)).toHaveCount(8);
});

test("taking out the gear that is shifted into is told, and every other gear can go too", async ({ page }) => {
  await twoGears(page);
  await button(page, "Show shift 1→2").click();
  for (const gear of [2, 1]) {
    await button(page, `Remove gear ${gear}`).click();
    await expect(finding(page, "no_such_shift")).toContainText("There is no upshift into gear 2");
  }
  await expect(gears(page)).toHaveCount(0);
  await button(page, "Add a gear").click();
  await expect(gears(page)).toHaveCount(1);
  await expect(table(page).locator("tbody tr"), "one gear has no shift").toHaveCount(0);
});

test("taking the gearbox away goes back to the typed numbers", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "All shifts");
  expect(await chosen(from(page))).toBe("gearbox upshift");
  const undo = await oneStep(page, () => button(page, "Remove gearbox").click());
  expect(await chosen(from(page))).toBe("typed here");
  await expect(field(page, "slip_rpm"), "as it stands in the example").toHaveValue("400");
  // 12° and four broken edges of 0.2 mm at a radius of 26 mm, at 6·400° a second.
  const angle = 12 + ((4 * 0.2) / 26 / Math.PI) * 180;
  await expect(now(page, "window_time_ms")).toHaveText(`${shown("time", (angle / 2400) * 1000)} ms`);
  await expect(table(page)).toHaveCount(0);
  await expect(button(page, "Enter gearbox data").first()).toBeVisible();
  await undo();
  expect(await chosen(from(page))).toBe("gearbox upshift");
  await expect(table(page)).toBeVisible();
});

test("a shift that the gearbox does not have is told with number and hint, and the drawings stay", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  const drawings = ["Face view", "Developed view", "Phase map"];
  // What is drawn, wherever it is: the message above the drawings takes some of their height, and scales follow that.
  const marks = (drawing) => view(page, drawing).locator("g[aria-hidden]").first().evaluate((all) =>
    [...all.querySelectorAll("path:not(.border, .grid, .dimension)")]
      .map((at) => at.dataset.dog ?? at.getAttribute("class").split(" ")[0]).sort());
  const before = await Promise.all(drawings.map(marks));
  await type(page, "gear", "1");
  const told = finding(page, "no_such_shift");
  await expect(told).toContainText("There is no upshift into gear 1: the gearbox has 5 gears.");
  await expect(told).toContainText("An upshift goes into second gear or higher");
  await expect(taken(page)).toHaveText("This shift cannot be computed; the findings say why.");
  const after = await Promise.all(drawings.map(marks));
  drawings.forEach((name, at) => {
    expect(before[at].length, name).toBeGreaterThan(5);
    expect(after[at], name).toEqual(before[at]);
  });
  await from(page).selectOption({ label: "gearbox downshift" });
  await expect(told, "down into first there is one").toHaveCount(0);
  await type(page, "gear", "5");
  await expect(told).toContainText("There is no downshift into gear 5: the gearbox has 5 gears.");
});

// ---- estimates and words ----

test("estimates an inertia as a disc and uses it, in one step", async ({ page }) => {
  await openShift(page);
  await page.getByText("Estimate as a disc: m·D²/8").first().click();
  await page.getByLabel("Reflected inertia at the dogs: Mass").fill("12");
  await page.getByLabel("Reflected inertia at the dogs: Diameter").fill("400");
  // 12 kg · (0.4 m)² / 8
  await expect(page.locator(".estimate output").first()).toHaveText("0.24 kg·m²");
  await expect(field(page, "inertia_kg_m2"), "not before it is asked for").toHaveValue("0.001");
  const undo = await oneStep(page, () => button(page, "Use for reflected inertia at the dogs").click());
  await expect(field(page, "inertia_kg_m2")).toHaveValue("0.24");
  await undo();
  await expect(field(page, "inertia_kg_m2")).toHaveValue("0.001");
});

test("estimates a stiffness as a shaft and uses it, in one step", async ({ page }) => {
  await openShift(page);
  await page.getByText(/^Estimate as a steel shaft/).click();
  await page.getByLabel("Driveline torsional stiffness: Shaft diameter").fill("25");
  await page.getByLabel("Driveline torsional stiffness: Shaft length").fill("400");
  const stiffness = (80e9 * Math.PI * 0.025 ** 4) / (32 * 0.4);
  const undo = await oneStep(page, () => button(page, "Use for driveline torsional stiffness").click());
  await expect(field(page, "stiffness_nm_per_rad")).toHaveValue(stiffness.toFixed(1));
  await undo();
  await expect(field(page, "stiffness_nm_per_rad")).toHaveValue("2000");
});

test("an estimate that cannot be made says why and cannot be used", async ({ page }) => {
  await openShift(page);
  await page.getByText("Estimate as a disc: m·D²/8").first().click();
  const use = button(page, "Use for reflected inertia at the dogs");
  for (const [text, why] of [["a lot", /\S/], ["900", /Mass: 900 kg is outside the range 0.001 kg to 200 kg/]]) {
    await page.getByLabel("Reflected inertia at the dogs: Mass").fill(text);
    await expect(page.locator(".estimate output").first()).toHaveText(why);
    await expect(page.locator(".estimate output").first()).not.toContainText("kg·m²");
    await expect(use).toBeDisabled();
  }
});

test("an estimate stays what it is when lengths are shown in inches", async ({ page }) => {
  await openShift(page);
  await page.getByText("Estimate as a disc: m·D²/8").first().click();
  await page.getByLabel("Reflected inertia at the dogs: Mass").fill("2");
  await page.getByLabel("Reflected inertia at the dogs: Diameter").fill("254");
  const result = page.locator(".estimate output").first();
  // 2 · 0.254²/8
  await expect(result).toHaveText("0.016129 kg·m²");
  await menu(page, "Units");
  await button(page, "inch").click();
  await expect(page.getByLabel("Reflected inertia at the dogs: Diameter")).toHaveValue("10");
  await expect(result).toHaveText("0.016129 kg·m²");
});

test("tip faces by words set the number and show where it is from", async ({ page }) => {
  await openShift(page);
  const faces = page.getByLabel("Tip faces");
  const source = page.locator("label", { has: faces }).locator("+ .source");
  expect(await chosen(faces)).toBe("As machined, oiled (0.1)");
  const undo = await oneStep(page, () => faces.selectOption({ label: "Rough or pitted, oiled (0.15)" }));
  await expect(field(page, "tip_friction")).toHaveValue("0.15");
  await expect(source).toContainText(/\w{4}/);
  await type(page, "tip_friction", "0.13");
  await expect.poll(() => chosen(faces)).toBe("as entered");
  await expect(source, "no words, no source").toBeEmpty();
  await button(page, "Undo").click();
  await undo();
  await expect(field(page, "tip_friction")).toHaveValue("0.1");
  await expect.poll(() => chosen(faces)).toBe("As machined, oiled (0.1)");
});

test("tip edges by words are given to every dog of both rings", async ({ page }) => {
  await openShift(page, { b: { edge_break_mm: 0.2 } });
  const edges = page.getByLabel("Tip edges");
  expect(await chosen(edges), "the rings differ").toBe("as entered");
  const undo = await oneStep(page, () => edges.selectOption({ label: "Broken by hand (0.3 mm)" }));
  await expect(page.locator("label", { has: edges }).locator("+ .source")).toContainText("ISO 13715");
  await go(page, "Dogs");
  for (const ring of ["A", "B"]) await expect(field(page, `${ring}.edge_break_mm`)).toHaveValue("0.3");
  await undo();
  await expect(field(page, "A.edge_break_mm")).toHaveValue("0");
  await expect(field(page, "B.edge_break_mm")).toHaveValue("0.2");
});

// A machinist asks whether the dogs will hold what the throttle puts on them.
import { button, drawn, expect, field, finding, go, linkOf, now, open, shown, test, type } from "./kit.mjs";

const table = (page) => page.getByRole("region", { name: "Table: dogs under load at full depth, under power" });
/** The heads of the columns, one for each group of dogs that carry alike. */
const groups = (page) => table(page).locator("thead tr:first-child th:not(:last-child)");
/** The numbers of a row, a column each. */
const numbers = (page, name) => table(page).locator("tbody tr", { hasText: name }).first().locator("td:not(:last-child)");
const choose = (page, label, option) =>
  page.getByRole("combobox", { name: label, exact: true }).selectOption({ label: option });

// Mean radius 26 mm, band 8 mm, dogs of 24° and 5 mm, overlap 4.5 mm, 100 N·m.
const PLAIN = { crenel: 1 };
const whole = 100_000 / 26;

async function openLoad(page, design) {
  await open(page, `./#${linkOf(design)}`);
  await go(page, "Load");
}

test("shows every pair of dogs that meets, and what each carries", async ({ page }) => {
  await openLoad(page, PLAIN);
  // All carry alike, so one column tells it.
  await expect(groups(page)).toHaveText(["6 pairs"]);
  // The drawing has an arrow for each, two lines of a head and its shaft.
  await expect(page.locator(".view.forces path.way")).toHaveCount(12);
  // Half of six carry by the rule, so each of those a third of the force.
  await expect(numbers(page, "Force").first()).toHaveText(`${shown("force", whole / 3)} N`);
  await expect(now(page, "flank_pressure_mpa")).toHaveText(`${shown("stress", whole / 3 / (8 * 4.5))} MPa`);
  await choose(page, "Load sharing", "all dogs that meet");
  await expect(numbers(page, "Force").first()).toHaveText(`${shown("force", whole / 6)} N`);
  await choose(page, "Load sharing", "a third (dogs ground by hand)");
  await expect(now(page, "dogs_carrying")).toHaveText("2");
  await button(page, "Undo").click();
  await expect(now(page, "dogs_carrying")).toHaveText("6");
});

test("says where a stress is over what it is set against, with both numbers", async ({ page }) => {
  await openLoad(page, PLAIN);
  await expect(finding(page, "over_allowed")).toHaveCount(0);
  await type(page, "load_factor", "3");
  const pressure = shown("stress", (3 * whole) / 3 / (8 * 4.5));
  await expect(numbers(page, "Flank pressure")).toContainText(`${pressure} MPa▲`);
  await expect(finding(page, "over_allowed")).toContainText(`Flank pressure is ${pressure} MPa; the allowable is 77.6 MPa`);
  await choose(page, "Typical pressure", "Splines, 10\u202f000 cycles (155.3 MPa)");
  await expect(field(page, "allowed_pressure_mpa")).toHaveValue("155.3");
  await expect(finding(page, "over_allowed")).toHaveCount(0);
  await expect(page.locator(".source").filter({ hasText: /^Dudley, “When Splines Need Stress Control”, 1957/ }).first())
    .toBeVisible();
});

test("tells that the load is steady, how far the clunk goes, and what the limits come from", async ({ page }) => {
  await openLoad(page, PLAIN);
  const load = page.locator(".for-load");
  await expect(load).toHaveText(
    /^Under a steady 100 N·m\. As the throttle opens, the clunk reaches \d+ N·m: it is not in these numbers\.$/);
  const bases = page.locator(".bases");
  await expect(bases).toContainText("78 MPa: Splines, 100\u202f000 cycles.");
  await bases.getByText("Sources of the limits").click();
  await expect(bases.getByText(/^Dudley, “When Splines Need Stress Control”, 1957/).first()).toBeVisible();
  await type(page, "allowed_pressure_mpa", "80");
  await expect(bases).toContainText("80 MPa: as entered.");
  await choose(page, "Torque", "largest of steady pull, shock and clunk");
  await expect(load).toHaveCount(0);
});

test("a half-height dog carries only on its own height", async ({ page }) => {
  await openLoad(page, { crenel: 1, a: { heights: [1, 0.6] }, b: { heights: [1, 0.6] } });
  // Tall meets tall, and short meets short 2 × 2 mm further down.
  await expect(numbers(page, "Flank engagement")).toHaveText(["4.5 mm", "0.5 mm"]);
  await expect(groups(page)).toHaveText(["3 pairsA1 on B1, A3 on B5, A5 on B3", "3 pairsA2 on B6, A4 on B4, A6 on B2"]);
});

test("undercut flanks hold, and worn ones push the gear out", async ({ page }) => {
  const flanks = (degrees) => ({ back_cut_drive_deg: degrees, back_cut_coast_deg: degrees });
  await openLoad(page, { crenel: 1, a: flanks(5), b: flanks(5) });
  await expect(now(page, "holding_n")).toHaveText(`${shown("force", whole * Math.tan(Math.PI / 36))} N`);
  await expect(finding(page, "pushed_out")).toHaveCount(0);
  await openLoad(page, { crenel: 1, a: { ...flanks(-7), tip_width_deg: 20 }, b: { ...flanks(-7), tip_width_deg: 20 } });
  await page.reload();
  await drawn(page);
  await expect(finding(page, "pushed_out")).toContainText("more than their friction can hold: the gear jumps out");
});

test("measured spacing shares the load among the dogs that reach it first", async ({ page }) => {
  const dogs = Array.from({ length: 6 }, (_, at) => ({ centre_deg: 60 * at, tip_width_deg: 24 }));
  // Half a degree at 26 mm is 227 µm: far behind the others.
  dogs[2].tip_width_deg = 23;
  await openLoad(page, { crenel: 1, a: { dogs }, carried_by: "spacing" });
  await expect(field(page, "dog_stiffness_n_per_um")).toHaveValue("100");
  await expect(groups(page)).toContainText(["5 pairs"]);
  await expect(numbers(page, "Force").first()).toHaveText(`${shown("force", whole / 5)} N`);
  // So soft that they give by more than that: (F/k + 227)/6.
  await type(page, "dog_stiffness_n_per_um", "2");
  await expect(groups(page)).toContainText(["5 pairs", "A3 on B5"]);
});

test("nothing is carried where the rings are not engaged", async ({ page }) => {
  await openLoad(page, { crenel: 1, overlap_mm: -1 });
  // Neither under power nor on the overrun.
  await expect(page.getByText("No dog carries load: the rings jam or are not engaged.")).toHaveCount(2);
  await expect(table(page)).toHaveCount(0);
});

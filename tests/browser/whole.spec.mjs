// A whole gearbox: from a link to the gear and the part at fault, and from a pair to five gears.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { board, button, download, expect, field, go, hash, inLink, keptLink, linkOf, more, open, openFile, openPlain, picture, putUp, sideways, test, title, type } from "./kit.mjs";

const bent = readFileSync(new URL("../../examples/designs/six-speed-bent-fork.json", import.meta.url), "utf8");

const gears = (page) => page.locator(".gear-bar .gear");
const gear = (page, number) => gears(page).nth(number - 1);
const worst = (page) => page.locator(".box-worst");

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test("a link leads to the bent fork and the dogs of its gear in under ten taps", async ({ page }) => {
    await openPlain(page, `./#${linkOf(bent)}`);
    await expect(worst(page)).toContainText("Gear 4 can be in at once with gears 1, 3, 5, 6");
    await expect(gears(page)).toHaveCount(6);
    await expect(page.locator(".gear-bar .gear.worst")).toHaveText(/^4/);
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    // First tap: the part.
    await worst(page).getByRole("button", { name: "Show fork 2" }).tap();
    await expect(page.locator(".drum-reading")).toContainText("gear 4 holds");
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    // Second tap: the gear.
    await gear(page, 4).tap();
    await expect(gear(page, 4)).toHaveAttribute("aria-pressed", "true");
    expect((await board(page)).design.box.open).toBe(4);
  });
});

test("a shift of the table opens its pair, and edits go into that gear", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await page.getByRole("button", { name: "Open shift 2→3" }).click();
  await expect(gear(page, 3)).toHaveAttribute("aria-pressed", "true");
  await type(page, "A.outer_diameter_mm", "63");
  await keptLink(page);
  await gear(page, 1).click();
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("60");
  await page.reload();
  await putUp(page);
  await expect(gear(page, 1)).toHaveAttribute("aria-pressed", "true");
  await gear(page, 3).click();
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("63");
  // One history over the gearbox: looking at another gear is no step of it.
  await gear(page, 5).click();
  await page.keyboard.press("Control+z");
  await expect(gear(page, 1)).toHaveAttribute("aria-pressed", "false");
  await expect(gear(page, 3)).toHaveAttribute("aria-pressed", "true");
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("60");
  await page.locator("main").click({ position: { x: 2, y: 2 } });
  await page.keyboard.press("g");
  await expect(gear(page, 4)).toHaveAttribute("aria-pressed", "true");
  const { design } = inLink(`#${await keptLink(page)}`);
  expect(design.box.open).toBe(4);
  expect(design.box.gears).toHaveLength(6);
});

test("the drum says at every angle which gears are in", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await page.locator(".pictures").getByRole("button", { name: "Drum", exact: true }).click();
  const cursor = page.getByRole("slider", { name: "Drum angle" });
  await cursor.fill("15");
  await expect(page.locator(".drum-reading")).toContainText("gear 1 holds");
  // The bent fork leaves the dogs of fourth touching in neutral.
  await expect(page.locator(".drum-reading")).toContainText("gear 4 touches");
  await cursor.fill("37.5");
  await expect(page.locator(".drum-reading")).toContainText("37.5°: gear 4 touches");
  await cursor.press("ArrowRight");
  await expect(page.locator(".drum-reading")).toContainText("38°");
  await page.locator(".view.drum").scrollIntoViewIfNeeded();
  const box = await page.locator(".view.drum").boundingBox();
  await page.mouse.move(box.x + 0.9 * box.width, box.y + 0.3 * box.height);
  await page.mouse.down();
  await page.mouse.move(box.x + 0.95 * box.width, box.y + 0.3 * box.height);
  await page.mouse.up();
  await expect(page.locator(".drum-reading")).toContainText("gear 6 holds");
});

test("a pair becomes a five-speed, and Undo returns to the pair", async ({ page }) => {
  await open(page);
  const pair = (await board(page)).design;
  await more(page);
  await button(page, "Make this a whole gearbox").click();
  await button(page, "5 gears").click();
  await expect(gears(page)).toHaveCount(5);
  await expect(page.getByRole("region", { name: /^Table of all shifts/ }).locator("tbody tr")).toHaveCount(8);
  const made = (await board(page)).design;
  expect(made.box.gears).toHaveLength(5);
  expect(made.title).toBe(pair.title);
  expect(await hash(page)).not.toBe("");
  await page.keyboard.press("Control+z");
  await expect(gears(page)).toHaveCount(0);
  await expect(title(page)).toHaveValue(pair.title);
  expect((await board(page)).design).toEqual(pair);
});

const drumPicture = (page) => page.locator(".pictures").getByRole("button", { name: "Drum", exact: true });
const sentence = (page) => page.locator(".verdict-strip .sentence");
const offset = (fork) => `box.forks[${fork - 1}].fork_offset_mm`;

/** A five-speed of bare measurements: pads, grooves, floats, notches and tracks, as somebody reads them off the parts. */
const MEASURED = {
  "box.shafts[0].end_float_mm": "0.1",
  "box.shafts[1].end_float_mm": "0.1",
  "box.forks[0].pin_diameter_mm": "6.98",
  "box.forks[1].track[0].track_at_deg": "0",
  "box.drum.positions[1].position_deg": "37.5",
  "box.gears[3].clearance_mm": "0.55",
};

test("five gears from bare measurements: the bent fork is named, in the strip too", async ({ page }) => {
  await open(page);
  await more(page);
  await button(page, "Make this a whole gearbox").click();
  await button(page, "5 gears").click();
  await expect(gears(page)).toHaveCount(5);
  await drumPicture(page).click();
  for (const points of await page.locator(".drawer .track-points summary").all()) await points.click();
  for (const [slot, text] of Object.entries(MEASURED)) {
    await type(page, slot, text);
  }
  await expect(sentence(page)).not.toContainText("can be in at once");
  await type(page, offset(2), "-1.3");
  await expect(sentence(page)).toContainText(/can be in at once/);
  // Whatever gear is looked at, and at whatever stage.
  await gear(page, 3).click();
  await page.locator(".stage").nth(1).click();
  await expect(sentence(page)).toContainText("can be in at once");
  await sentence(page).click();
  await expect(page.locator(".pictures").getByRole("button", { name: "All shifts" })).toBeVisible();
  await expect(worst(page)).toContainText("can be in at once");
  await worst(page).getByRole("button", { name: "Show fork 2" }).click();
  await type(page, offset(2), "0");
  await expect(sentence(page)).not.toContainText("can be in at once");
});

test("the drum moves the section, and a pair of it opens", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await drumPicture(page).click();
  const cursor = page.getByRole("slider", { name: "Drum angle" });
  const section = page.locator(".view.shafts");
  await cursor.fill("37.5");
  await expect(section.locator(".section.ring-a")).toHaveCount(12);
  // In neutral only the bent fork has its dogs in.
  await expect(section.locator(".straight-in, .after-rubbing, .locked")).toHaveCount(2);
  const standing = page.getByRole("region", { name: "Forks and dogs at this angle" });
  await expect(standing.getByRole("listitem").filter({ has: page.getByRole("button", { name: "Open gear 4" }) }).last())
    .toContainText("touches");
  const before = await section.locator("g").first().innerHTML();
  await cursor.fill("15");
  expect(await section.locator("g").first().innerHTML()).not.toBe(before);
  await expect(standing).toContainText("drawn home");
  // The number of the gear stands at its wheel.
  const label = section.locator("text.label", { hasText: /^5$/ });
  await label.scrollIntoViewIfNeeded();
  const number = await label.boundingBox();
  await page.mouse.click(number.x + number.width / 2, number.y - 24);
  await expect(gear(page, 5)).toHaveAttribute("aria-pressed", "true");
  await expect(page.getByRole("group", { name: "Face view", exact: true })).toBeVisible();
});

test("a stroke is played from gear to gear, and then nothing runs", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await drumPicture(page).click();
  const cursor = page.getByRole("slider", { name: "Drum angle" });
  await cursor.fill("15");
  await expect(page.getByRole("button", { name: "Stroke down" })).toBeDisabled();
  await page.getByRole("button", { name: "Stroke up" }).click();
  await expect(cursor).toHaveValue("60");
  await expect(page.locator(".drum-reading")).toContainText("gear 2 holds");
  await page.evaluate(() => {
    window.asked = 0;
    const ask = window.requestAnimationFrame.bind(window);
    window.requestAnimationFrame = (act) => { window.asked += 1; return ask(act); };
  });
  await page.waitForTimeout(500);
  expect(await page.evaluate(() => window.asked)).toBe(0);
  await page.getByRole("button", { name: "Stroke down" }).click();
  await expect(cursor).toHaveValue("15");
});

test("drawings of the gearbox are files, and the tracks are developed", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await drumPicture(page).click();
  const section = await download(page, () => button(page, "Save section (DXF)").click());
  expect(section.name).toMatch(/shafts\.dxf$/);
  expect(section.text).toContain("Not to scale");
  const svg = await download(page, () => button(page, "Save section (SVG)").click());
  expect(svg.text).toContain("hatching");
  await page.getByLabel("Drum diameter, mm (blank: in degrees)").fill("42");
  const tracks = await download(page, () => button(page, "Save tracks developed (DXF)").click());
  expect(tracks.text).toContain("Tracks developed on a drum");
  const chart = await download(page, () => button(page, "Save drawing (SVG)").click());
  expect(chart.name).toMatch(/drum\.svg$/);
});

test("a track is typed point by point and dragged, with what is wrong at its point", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await drumPicture(page).click();
  const tables = page.locator(".drawer .track-points");
  await tables.nth(0).locator("summary").click();
  await type(page, "box.forks[0].track[1].track_at_deg", "300");
  await expect(tables.nth(0).locator(".wrong-row")).toContainText("Track runs back");
  await page.keyboard.press("Control+z");
  await expect(tables.nth(0).locator(".wrong-row")).toHaveCount(0);
  const rows = tables.nth(0).locator("tbody tr");
  const points = await rows.count();
  await tables.nth(0).getByRole("button", { name: "Add point" }).click();
  await expect(rows).toHaveCount(points + 1);
  await tables.nth(0).getByRole("button", { name: `Remove point ${points + 1}` }).click();
  await expect(rows).toHaveCount(points);
  await page.getByRole("button", { name: "Move track points" }).click();
  const chart = page.locator(".view.drum");
  await chart.scrollIntoViewIfNeeded();
  const knob = await chart.locator(".tip").nth(1).boundingBox();
  const was = await field(page, "box.forks[0].track[1].track_at_deg").inputValue();
  const at = { x: knob.x + knob.width / 2, y: knob.y + knob.height / 2 };
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 6, at.y, { steps: 3 });
  await page.mouse.up();
  await expect(field(page, "box.forks[0].track[1].track_at_deg")).not.toHaveValue(was);
  await page.keyboard.press("Control+z");
  await expect(field(page, "box.forks[0].track[1].track_at_deg")).toHaveValue(was);
});

test("the cover sheet lists what goes where, every gear has its sheets, and all rings are in one archive", async ({ page }) => {
  await open(page, `./#${linkOf(bent)}`);
  await go(page, "Sheets");
  const cover = page.getByRole("article", { name: "Cover sheet" });
  await expect(cover.locator("tbody tr")).toHaveCount(6);
  await expect(cover).toContainText("Gears 1 and 4 can be in at once");
  await page.getByLabel("Every gear").check();
  await expect(page.locator("article.set-up.ring-a")).toHaveCount(6);
  await expect(page.getByRole("article", { name: "Set-up sheet of ring B, gear 5" })).toBeVisible();
  const [taken] = await Promise.all([page.waitForEvent("download"), button(page, "All rings as files (ZIP)").click()]);
  expect(taken.suggestedFilename()).toMatch(/gearbox\.zip$/);
  const listed = execFileSync("python3", ["-m", "zipfile", "-l", await taken.path()], { encoding: "utf8" });
  for (const name of ["gearbox.json", "gearbox-report.json", "gear-1/ring-a.step", "gear-6/ring-b-cut.stl", "gear-3/report.json"]) {
    expect(listed).toContain(name);
  }
  execFileSync("python3", ["-m", "zipfile", "-t", await taken.path()]);
});

test.describe("in the hand", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  for (const width of [390, 360]) {
    test(`nothing of the gearbox is wider than a screen of ${width}`, async ({ page }) => {
      await page.setViewportSize({ width, height: 800 });
      await openPlain(page, `./#${linkOf(bent)}`);
      await expect(worst(page)).toBeVisible();
      expect(await sideways(page)).toBeLessThanOrEqual(0);
      for (const table of [".box-shifts", ".heat"]) {
        const { wide, room } = await page.locator(table).evaluate((own) =>
          ({ wide: own.scrollWidth, room: own.parentElement.clientWidth }));
        expect(wide, table).toBeLessThanOrEqual(room);
      }
      await drumPicture(page).tap();
      await expect(page.locator(".view.shafts")).toBeVisible();
      expect(await sideways(page)).toBeLessThanOrEqual(0);
    });
  }

  test("five gears by touch: a fork bent in the form is led to by the strip", async ({ page }) => {
    await openPlain(page);
    await more(page);
    await button(page, "Make this a whole gearbox").tap();
    await button(page, "5 gears").tap();
    await expect(gears(page)).toHaveCount(5);
    await drumPicture(page).tap();
    const bend = page.locator(`.inspector input[data-slot="${offset(2)}"]`);
    await bend.scrollIntoViewIfNeeded();
    await bend.tap();
    await bend.fill("-1.3");
    await bend.press("Enter");
    await expect(sentence(page)).toContainText("can be in at once");
    await sentence(page).tap();
    await worst(page).getByRole("button", { name: "Show fork 2" }).tap();
    await expect(page.locator(".standing")).toContainText("Fork 2 bears on its groove and carries the thrust");
    await page.getByRole("button", { name: "Stroke up" }).tap();
    await expect(page.getByRole("button", { name: "Stroke up" })).toBeEnabled();
    expect(await sideways(page)).toBeLessThanOrEqual(0);
  });
});

const read = readFileSync(new URL("../../examples/boxes/six-speed-readings.json", import.meta.url), "utf8");

test("readings name the bent fork, shims and cuts follow, and a reading is typed and taken back", async ({ page }) => {
  await open(page);
  await openFile(page, "readings.json", read);
  await go(page, "Box");
  await picture(page, "Fault and cure");
  const fault = page.getByRole("region", { name: "Part at fault" });
  await expect(fault.locator("li").first()).toContainText(/[Ff]ork 2/);
  await expect(fault.locator("li").first()).toContainText("99 %");
  await expect(fault).toContainText("To tell them apart, read next");
  await fault.getByRole("button", { name: "Enter readings" }).click();
  const entries = page.locator("input[data-slot^='box.gears[0].measured']");
  await expect(entries.first()).toBeVisible();
  expect(await entries.count()).toBeGreaterThan(5);
  const cuts = page.getByRole("region", { name: "Where to cut first" });
  await cuts.getByRole("button", { name: "Work out the cuts" }).click();
  await expect(cuts.locator("li, p:not(.quiet)").first()).toBeVisible({ timeout: 45_000 });
});

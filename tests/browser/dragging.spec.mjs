// Every handle: the drawing, the number beside it and the results move together, in one step.
import {
  button, by, dogButton, expect, field, figure, finding, handle, keptLink, middle, now, open, outwards, picture, pull,
  select, test, turned, type, view,
} from "./kit.mjs";

const FACE = "Face view";
const STRIP = "Developed view";
const MAP = "Phase map";

// drawing, key of the handle, its number field, the move, and a result that must change with it
const HANDLES = [
  [FACE, "outer_diameter_mm", "A.outer_diameter_mm", outwards(-12), "lash_mm"],
  [FACE, "inner_diameter_mm", "A.inner_diameter_mm", outwards(9), "lash_mm"],
  [FACE, "tip_width_deg", "A.tip_width_deg", turned(3), "free_angle_deg"],
  [FACE, "phase_deg", "phase_deg", turned(4), "lash_deg"],
  [STRIP, "height_mm", "A.height_mm", by(0, -15), "a_dogs_mass_g"],
  [STRIP, "back_cut_drive_deg", "A.back_cut_drive_deg", by(-12, 0), "lash_deg"],
  [STRIP, "back_cut_coast_deg", "A.back_cut_coast_deg", by(12, 0), "lash_deg"],
  [STRIP, "overlap_mm", "overlap_mm", by(0, -20), "full_depth_mm"],
  [STRIP, "phase_deg", "phase_deg", by(8, 0), "lash_deg"],
  [MAP, "phase_deg", "phase_deg", by(6, 0), "lash_deg"],
  [MAP, "overlap_mm", "overlap_mm", by(0, -30), "full_depth_mm"],
];

/** A place on the phase map, as shares of its plot from the left and from the top, on the screen. */
async function onMap(page, across, down) {
  const box = await view(page, MAP).evaluate((svg) => {
    const boxes = [...svg.querySelectorAll("path.border")].map((at) => at.getBoundingClientRect());
    const { x, y, width, height } = boxes.reduce((a, b) => (b.width * b.height > a.width * a.height ? b : a));
    return { x, y, width, height };
  });
  return [box.x + across * box.width, box.y + down * box.height];
}

/** Drags a handle and gives it up; nothing may be left of it. */
async function giveUp(page, [drawing, key, slot, move], before) {
  await pull(page, drawing, key, move);
  await expect(field(page, slot)).not.toHaveValue(before);
  await page.keyboard.press("Escape");
  await expect(field(page, slot)).toHaveValue(before);
  await page.mouse.move(0, 0, { steps: 2 });
  await page.mouse.up();
  await expect(field(page, slot)).toHaveValue(before);
  await expect(button(page, "Undo"), "a drag given up leaves no step").toBeDisabled();
}

/** Drags a handle: it stays under the mouse, and its number and a result follow. */
async function drag(page, [drawing, key, slot, move, changed]) {
  const result = await figure(page, changed).textContent();
  const to = await pull(page, drawing, key, move);
  await expect(view(page, drawing)).toHaveClass(/dragging/);
  await expect(figure(page, changed)).not.toHaveText(result);
  const during = await field(page, slot).inputValue();
  const knob = handle(page, drawing, key);
  expect(Number(await knob.getAttribute("aria-valuenow"))).toBeCloseTo(Number(during), 6);
  const at = await middle(knob.locator(".knob"));
  expect(Math.hypot(at.x - to.x, at.y - to.y), "pixels, for the rounded number").toBeLessThan(4);
  await page.mouse.up();
  await expect(view(page, drawing)).not.toHaveClass(/dragging/);
  await expect(field(page, slot)).toHaveValue(during);
}

for (const drawing of [FACE, STRIP, MAP]) {
  test(`${drawing}: each drag is one step, and Escape gives it up`, async ({ page }) => {
    await open(page);
    await select(page);
    await picture(page, { [FACE]: "Face", [STRIP]: "Developed", [MAP]: "Phase map" }[drawing]);
    for (const row of HANDLES.filter((row) => row[0] === drawing)) {
      await test.step(row[1], async () => {
        const [, , slot, , changed] = row;
        const before = await field(page, slot).inputValue();
        // Opened, so that its working is read too.
        await figure(page, changed).evaluate((details) => { details.open = true; });
        // The range over tolerances follows when the design is still.
        const told = figure(page, changed).locator("dl:not(.spans)");
        await expect(told).toBeVisible();
        const result = await told.textContent();
        await giveUp(page, row, before);
        await drag(page, row);
        expect(await field(page, slot).inputValue()).not.toBe(before);
        await button(page, "Undo").click();
        await expect(field(page, slot)).toHaveValue(before);
        await expect(told).toHaveText(result);
        await expect(button(page, "Undo")).toBeDisabled();
      });
    }
  });
}

test("pressing the phase map takes both phase and overlap there, in one step", async ({ page }) => {
  await open(page);
  // It shows the window about 30° and 30° on either side of it.
  await page.mouse.move(...(await onMap(page, 0.75, 0.5)));
  await page.mouse.down();
  await expect.poll(() => field(page, "phase_deg").inputValue().then(Number)).toBeCloseTo(48, -0.3);
  await expect(field(page, "overlap_mm")).not.toHaveValue("4.5");
  const [x, y] = await onMap(page, 0.25, 0.5);
  await page.mouse.move(x, y, { steps: 4 });
  await expect.poll(() => field(page, "phase_deg").inputValue().then(Number)).toBeCloseTo(12, -0.3);
  await page.mouse.up();
  await button(page, "Undo").click();
  await expect(field(page, "phase_deg")).toHaveValue("30");
  await expect(field(page, "overlap_mm")).toHaveValue("4.5");
  await expect(button(page, "Undo")).toBeDisabled();
});

test("Escape gives up a press on the phase map for good", async ({ page }) => {
  await open(page);
  await page.mouse.move(...(await onMap(page, 0.7, 0.5)));
  await page.mouse.down();
  await expect(field(page, "phase_deg")).not.toHaveValue("30");
  await page.keyboard.press("Escape");
  const [x, y] = await onMap(page, 0.3, 0.3);
  await page.mouse.move(x, y, { steps: 3 });
  await page.mouse.up();
  await expect(field(page, "phase_deg")).toHaveValue("30");
  await expect(field(page, "overlap_mm")).toHaveValue("4.5");
  await expect(button(page, "Undo")).toBeDisabled();
});

test("a drag goes on outside the drawing and stops at the limit", async ({ page }) => {
  await open(page);
  await select(page);
  await pull(page, MAP, "overlap_mm", by(0, -1600));
  await expect(field(page, "overlap_mm")).toHaveValue("-20");
  await page.mouse.up();
  await expect(view(page, MAP)).not.toHaveClass(/dragging/);
  await pull(page, FACE, "inner_diameter_mm", outwards(600));
  await expect(field(page, "A.inner_diameter_mm")).toHaveValue("59.5");
  await page.mouse.up();
});

test("dogs dragged into each other are told, and can be dragged apart again", async ({ page }) => {
  await open(page);
  await select(page);
  await type(page, "B.tip_width_deg", "62");
  await expect(page.locator(".finding.error").first()).toContainText(/dogs \d and \d overlap by/);
  await expect(view(page, FACE), "the last drawing stays").toBeVisible();
  await button(page, "Undo").click();
  // The gap is 12° wider than the dog: half of that on each side, and a little more.
  await pull(page, FACE, "tip_width_deg", turned(7));
  await page.mouse.up();
  await expect(finding(page, "no_entry_window")).toBeVisible();
  await pull(page, FACE, "tip_width_deg", turned(-7));
  await page.mouse.up();
  await expect(finding(page, "no_entry_window")).toHaveCount(0);
});

test("a typed value moves the handle", async ({ page }) => {
  await open(page);
  await select(page);
  for (const [drawing, key, slot] of HANDLES) {
    const knob = handle(page, drawing, key);
    const place = await knob.getAttribute("transform");
    // A map goes no deeper than the web.
    const step = key === "overlap_mm" ? -1 : 1;
    const value = Number(await field(page, slot).inputValue()) + step;
    await type(page, slot, String(value));
    await expect(knob, `${drawing}: ${key}`).toHaveAttribute("aria-valuenow", String(value));
    // A lever may be held off the edge of the drawing all the while.
    if (!key.startsWith("back_cut")) await expect(knob, `${drawing}: ${key}`).not.toHaveAttribute("transform", place);
  }
});

test("the handles of a ring show once one of its dogs is selected", async ({ page }) => {
  await open(page);
  const keys = () => page.locator(".view .handle").evaluateAll((all) => all.map((at) => at.dataset.field).sort());
  const ofThePair = ["overlap_mm", "overlap_mm", "phase_deg", "phase_deg", "phase_deg"];
  expect(await keys()).toEqual(ofThePair);
  await select(page);
  await expect.poll(async () => (await keys()).length).toBe(11);
  await page.locator(".inspector button.away").click();
  await expect.poll(keys).toEqual(ofThePair);
});

test("handles follow the chosen dog, its cut, and its ring", async ({ page }) => {
  await open(page);
  const height = () => handle(page, STRIP, "height_mm");
  await dogButton(page, "B4").click();
  await expect(height()).toHaveAccessibleName("Ring B, dog height");
  await button(page, "Shorten").click();
  const cut = handle(page, STRIP, "shorten_to_mm");
  await expect(cut).toHaveAccessibleName("Ring B, dog 4, new height");
  await pull(page, STRIP, "shorten_to_mm", by(0, -12));
  await page.mouse.up();
  await expect(page.getByRole("textbox", { name: "New height" })).not.toHaveValue("2.5");
  await button(page, "Undo").click();
  await expect(page.getByRole("textbox", { name: "New height" })).toHaveValue("2.5");
});

test("a measured dog is moved round the ring by its handle", async ({ page }) => {
  await open(page);
  await button(page, "List each dog as measured").first().click();
  const centre = field(page, "A1.centre_deg");
  await expect(centre).toHaveValue("0");
  await select(page);
  await pull(page, FACE, "centre_deg", turned(3));
  await page.mouse.up();
  await expect.poll(() => centre.inputValue().then(Number)).toBeCloseTo(3, 0);
  await expect(now(page, "free_angle_narrowest_deg")).not.toHaveText("12°");
  await button(page, "Undo").click();
  await expect(centre).toHaveValue("0");
});

test("a drag keeps round numbers, which keeps the link short", async ({ page }) => {
  await open(page);
  await select(page);
  for (const [drawing, key, slot, move] of HANDLES) {
    await pull(page, drawing, key, move);
    await page.mouse.up();
    const shown = await field(page, slot).inputValue();
    await expect(handle(page, drawing, key), key).toHaveAttribute("aria-valuenow", shown);
  }
  expect((await keptLink(page)).length).toBeLessThan(700);
});

/** Handles whose middle cannot be pressed because something lies over it. */
const covered = (page) => page.locator(".handle").evaluateAll((handles) => handles.flatMap((at) => {
  at.scrollIntoView({ block: "center" });
  const { x, y, width, height } = at.querySelector(".knob").getBoundingClientRect();
  const top = document.elementFromPoint(x + width / 2, y + height / 2);
  if (top?.closest(".handle") === at) return [];
  return [`${at.getAttribute("aria-label")} under ${top?.closest("[aria-label]")?.getAttribute("aria-label")}`];
}));

for (const width of [1440, 360]) {
  test(`no handle lies under another, ${width} px wide`, async ({ page }) => {
    await page.setViewportSize({ width, height: 800 });
    await open(page);
    for (const name of ["A1", "A3", "A6", "B1", "B4"]) {
      await dogButton(page, name).click();
      expect.soft(await covered(page), name).toEqual([]);
    }
  });
}

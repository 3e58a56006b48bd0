// A mechanic plays the shift and reads where it comes in, hangs or is thrown back.
import {
  button, download, expect, field, go, handle, linkOf, markup, more, open, picture, shown, tableOf,
  test, type, view,
} from "./kit.mjs";

const DRAWINGS = ["Face view", "Developed view", "Phase map"];
const MAP = "Outcome map";
const CHANCES = "Chances";

const told = (page) => page.locator(".player .told");
const moment = (page) => page.getByRole("slider", { name: "Time" });
const reading = (page, chart) => page.locator("figure").filter({ has: view(page, chart) }).locator(".reading");
const slow = (page, times) => page.getByLabel("Slow motion").selectOption({ label: `1:${times}` });

/** Opens the shift of a new design, whose numbers are those below, changed by `given`. */
async function openShift(page, given = {}) {
  await open(page, `./#${linkOf({ crenel: 1, ...given })}`);
  await go(page, "Shift");
}

/** Opens the charts of the shift. */
async function openChances(page, given = {}) {
  await openShift(page, given);
  await picture(page, "Chances");
}

// ---- the shift of a new design by hand ----
//
// Six dogs of 24° on both rings leave windows of 12° about 30°, 90° and so on, and faces of 48° between
// them. It starts in the middle of a window.

const rad = (degrees) => (degrees * Math.PI) / 180;
const SPEED = (300 * 2 * Math.PI) / 60; // rad/s
const FADING = (0.1 * 120 * 0.026) / 0.001; // μ·F·r/J, rad/s²
const RAMP = 0.12 / (120 / 0.3); // s until a push from rest has drum speed
const left = Math.sqrt(SPEED ** 2 - 2 * FADING * rad(48));
const struck = rad(6) / SPEED; // 0.4 mm deep, less than the holding depth: thrown back
const again = struck + (SPEED - left) / FADING;
const caught = again + rad(12) / left;
const depth = 120 * (rad(12) / left - RAMP / 2); // mm, more than the holding depth: it holds
const home = caught + (4.5 - depth) / 120;
const ms = (seconds) => shown("time", seconds * 1000);
const rpm = (speed) => shown("speed", (speed * 60) / (2 * Math.PI));

const EVENTS = [
  "0 ms: falls in, overlap 0 mm, speed difference 300 rpm. Event 1 of 4.",
  `${ms(struck)} ms: thrown back out, then rubs tip on tip, overlap 0 mm, speed difference 300 rpm. Event 2 of 4.`,
  `${ms(again)} ms: falls in, overlap 0 mm, speed difference ${rpm(left)} rpm. Event 3 of 4.`,
  `${ms(caught)} ms: slides in along the flank, overlap ${shown("length", depth)} mm, speed difference 0 rpm. ` +
    "Event 4 of 4.",
  `${ms(home)} ms: thrown back once, then in after ${ms(home)} ms.`,
];
const END = EVENTS.at(-1);

/** Degrees that ring A is turned by the whole shift: to the flank, over a face, over a window. */
const TURNED = 6 + 48 + 12;

/** Phase and overlap where the ring of the phase map is, for rings with a full depth of 4.5 mm. The map shows one
 *  window, and a ring that has turned on past others is shown in that one. */
const cross = (page) => view(page, "Phase map").evaluate((svg) => {
  const area = (box) => box.width * box.height;
  const boxes = [...svg.querySelectorAll("path.border")].map((path) => path.getBBox());
  const plot = boxes.reduce((a, b) => (area(b) > area(a) ? b : a));
  const ticks = [...svg.querySelectorAll("text.note")]
    .filter((text) => /^\d+$/.test(text.textContent) && Number(text.getAttribute("y")) > plot.y + plot.height)
    .map((text) => ({ x: Number(text.getAttribute("x")), deg: Number(text.textContent) }))
    .sort((a, b) => a.x - b.x);
  const [first, second] = ticks;
  const step = ((((second.deg - first.deg) % 360) + 360) % 360) / (second.x - first.x);
  const [full, tips] = [...svg.querySelectorAll("path.level")].map((path) => path.getPointAtLength(0).y);
  const ring = svg.querySelector("path.state").getBBox();
  const [x, y] = [ring.x + ring.width / 2, ring.y + ring.height / 2];
  return { phase: first.deg + (x - first.x) * step, overlap: (4.5 * (y - tips)) / (full - tips) };
});

/** Where dog A1 points in the face view, degrees counter-clockwise. */
const pointing = (page) => view(page, "Face view").evaluate((svg) => {
  const outline = svg.querySelector('path[data-dog="A1"]');
  // The outlines of ring A are turned as one group.
  const placed = svg.getScreenCTM().inverse().multiply(outline.getScreenCTM());
  const { width, height } = svg.viewBox.baseVal;
  let [x, y] = [0, 0];
  for (let part = 0; part < 200; part += 1) {
    const at = outline.getPointAtLength((outline.getTotalLength() * part) / 200).matrixTransform(placed);
    [x, y] = [x + at.x - width / 2, y + height / 2 - at.y];
  }
  return (Math.atan2(y, x) * 180) / Math.PI;
});

/** The short way from one angle to another, degrees, within so large a part of a turn. */
const between = (from, to, part = 360) => ((((to - from) % part) + 1.5 * part) % part) - part / 2;

/** How far the ring of the phase map is from a phase: with six dogs, windows come again after 60°. */
const off = async (page, phase) => between(phase, (await cross(page)).phase, 60);

const drawn = (page) => Promise.all(DRAWINGS.map((drawing) => markup(page, drawing)));

/** Expects that none of the three drawings is as it was, or that all are. */
async function expectMoved(page, before) {
  const now = await drawn(page);
  DRAWINGS.forEach((name, at) => expect(now[at], name).not.toBe(before[at]));
}
async function expectSame(page, before) {
  const now = await drawn(page);
  DRAWINGS.forEach((name, at) => expect(now[at] === before[at], `${name} is as it was`).toBe(true));
}

// ---- playing ----

test("plays by itself, and the three drawings move to where the words say it ends", async ({ page }) => {
  await openShift(page);
  // Slow enough that a busy machine sees it on its way twice.
  await slow(page, 50);
  const before = await drawn(page);
  const pointed = await pointing(page);
  await expect(told(page), "the end is told before").toHaveText(/^Thrown back once, then in after .* ms\.$/);
  await button(page, "Play the shift").click();
  await expect(button(page, "Pause")).toBeVisible();
  await expect.poll(async () => Math.abs(await off(page, 30))).toBeGreaterThan(1);
  const first = await drawn(page);
  await expectMoved(page, before);
  await page.waitForTimeout(200);
  await expectMoved(page, first);

  await expect(told(page)).toHaveText(END);
  await expect(button(page, "Play the shift")).toBeVisible();
  expect(await off(page, 30 - TURNED)).toBeCloseTo(0, 1);
  expect((await cross(page)).overlap).toBeCloseTo(4.5, 2);
  expect(between(pointed, await pointing(page))).toBeCloseTo(-TURNED, 0);
});

test("a minus speed difference turns the ring the other way", async ({ page }) => {
  await openShift(page, { slip_rpm: -300 });
  const pointed = await pointing(page);
  for (let event = 0; event < EVENTS.length; event += 1) await button(page, "Next event").click();
  await expect(told(page), "as long and as often thrown back").toHaveText(END);
  expect(await off(page, 30 + TURNED)).toBeCloseTo(0, 1);
  expect(between(pointed, await pointing(page))).toBeCloseTo(TURNED, 0);
});

test("a downshift of the gearbox meets on the coast flank and turns as a minus speed difference does", async ({
  page,
}) => {
  await open(page);
  await go(page, "Shift");
  const one = async (shift, flank, way) => {
    await picture(page, "All shifts");
    const row = page.getByRole("row").filter({ has: page.getByRole("rowheader", { name: shift, exact: true }) });
    await expect(row).toContainText(flank);
    if (await row.getByRole("button").isEnabled()) await row.getByRole("button").click();
    await picture(page, "Film");
    await button(page, "Next event").click();
    const { phase } = await cross(page);
    await button(page, "Next event").click();
    expect(Math.sign(await off(page, phase)), shift).toBe(way);
  };
  await one("1→2", "drive flank", -1);
  await one("2→1", "coast flank", 1);
});

test("pause holds everything still, and play goes on from there", async ({ page }) => {
  await openShift(page);
  await slow(page, 100);
  await button(page, "Play the shift").click();
  await expect.poll(async () => Number(await moment(page).inputValue())).toBeGreaterThan(5);
  await button(page, "Pause").click();
  const held = await drawn(page);
  const at = Number(await moment(page).inputValue());
  expect(at).toBeLessThan(home * 1000);
  await expect(told(page), "what happens now is told").toContainText("rubs tip on tip, overlap 0 mm");
  await page.waitForTimeout(400);
  await expectSame(page, held);
  await slow(page, 20);
  await button(page, "Play the shift").click();
  expect(Number(await moment(page).inputValue())).toBeGreaterThanOrEqual(at);
  await expect(told(page)).toHaveText(END);
});

test("goes event by event, on and back, and says what happens", async ({ page }) => {
  await openShift(page);
  const phases = [30, 24, 24 - 48, 24 - 60];
  for (const [at, words] of EVENTS.entries()) {
    await button(page, "Next event").click();
    await expect(told(page)).toHaveText(words);
    if (at < phases.length) expect(await off(page, phases[at]), words).toBeCloseTo(0, 1);
  }
  await button(page, "Next event").click();
  await expect(told(page), "there is nothing after the end").toHaveText(END);
  for (const words of EVENTS.slice(0, -1).reverse()) {
    await button(page, "Previous event").click();
    await expect(told(page)).toHaveText(words);
  }
  await button(page, "Previous event").click();
  await expect(told(page), "there is nothing before the begin").toHaveText(EVENTS[0]);
});

test("a shift that rubs itself to a stop hangs where its slip runs out", async ({ page }) => {
  // 15.708 rad/s are gone after 15.708/312 s and half that times 15.708 rad.
  await openShift(page, { slip_rpm: 150, phase_deg: 10 });
  const speed = SPEED / 2;
  await button(page, "Next event").click();
  await button(page, "Next event").click();
  const time = ms(speed / FADING);
  await expect(told(page)).toHaveText(`${time} ms: hangs tip on tip after ${time} ms.`);
  expect(await off(page, 10 - (speed ** 2 / (2 * FADING) / Math.PI) * 180)).toBeCloseTo(0, 1);
  expect((await cross(page)).overlap).toBeCloseTo(0, 3);
});

test("the moment is taken by keyboard, and all drawings go there", async ({ page }) => {
  await openShift(page);
  const before = await drawn(page);
  await moment(page).focus();
  await page.keyboard.press("PageUp");
  await expectMoved(page, before);
  const moved = await drawn(page);
  const at = Number(await moment(page).inputValue());
  expect(at).toBeGreaterThan(0);
  await expect(moment(page)).toHaveAttribute("aria-valuetext", `${shown("time", at)} ms`);
  await expect(told(page)).toContainText(`${shown("time", at)} ms: `);
  await page.keyboard.press("ArrowRight");
  await expectMoved(page, moved);
  await page.keyboard.press("End");
  await expect(told(page)).toHaveText(END);
  expect(await off(page, 30 - TURNED)).toBeCloseTo(0, 1);
  await page.keyboard.press("Home");
  await expect(told(page)).toHaveText(EVENTS[0]);
});

test("the rings stay on their paper from tip level to the end", async ({ page }) => {
  await openShift(page);
  const over = (drawing) => view(page, drawing).evaluate((svg) => {
    const paper = svg.getBoundingClientRect();
    const dogs = [...svg.querySelectorAll("path[data-dog]")].map((dog) => dog.getBoundingClientRect());
    return Math.max(...dogs.map((dog) => Math.max(paper.top - dog.top, dog.bottom - paper.bottom)));
  });
  for (const words of EVENTS) {
    await button(page, "Next event").click();
    for (const drawing of ["Face view", "Developed view"]) {
      expect(await over(drawing), `${drawing}: pixels past the edge at ${words}`).toBeLessThan(2);
    }
  }
});

test("begins with the tips level, at the phase from which the shift starts, and moves in from there", async ({ page }) => {
  await openShift(page, { phase_deg: 33 });
  await expect(moment(page)).toHaveAttribute("aria-valuetext", "0 ms");
  expect(await off(page, 33)).toBeCloseTo(0, 1);
  expect((await cross(page)).overlap).toBeCloseTo(0, 3);
  const tips = () => view(page, "Developed view").evaluate((svg) => {
    const box = (name) => svg.querySelector(`path.section[data-dog="${name}"]`).getBoundingClientRect();
    return box("A1").bottom - box("B1").top;
  });
  expect(Math.abs(await tips()), "tip on a level with tip").toBeLessThan(2.5);
  for (let event = 0; event <= EVENTS.length; event += 1) await button(page, "Next event").click();
  expect(await tips(), "as deep as it goes").toBeGreaterThan(5);
  await expect(page.locator(".board .handle"), "nothing to take hold of in a film").toHaveCount(0);
});

test("goes back to the start, which is exactly as it was", async ({ page }) => {
  await openShift(page);
  await expect(button(page, "Back to the start")).toHaveCount(0);
  const before = await drawn(page);
  const handles = await page.getByRole("slider").count();
  for (let event = 0; event < 3; event += 1) await button(page, "Next event").click();
  await expectMoved(page, before);
  await button(page, "Back to the start").click();
  await expectSame(page, before);
  await expect(page.getByRole("slider")).toHaveCount(handles);
  await expect(button(page, "Back to the start")).toHaveCount(0);
  await expect(button(page, "Undo"), "looking is no step").toBeDisabled();
});

test("a changed number ends the playing, and the drawings show the start of the shift", async ({ page }) => {
  await openShift(page);
  await slow(page, 1000);
  for (const change of [
    () => type(page, "shift_force_n", "150"),
    () => type(page, "drag_nm", "1"),
    () => button(page, "Undo").click(),
  ]) {
    await button(page, "Play the shift").click();
    await expect(button(page, "Pause")).toBeVisible();
    await change();
    await expect(button(page, "Play the shift")).toBeVisible();
    await expect(button(page, "Back to the start")).toHaveCount(0);
    expect(await off(page, 30)).toBeCloseTo(0, 1);
    expect((await cross(page)).overlap).toBeCloseTo(0, 2);
    const still = await drawn(page);
    await page.waitForTimeout(150);
    await expectSame(page, still);
  }
});

test("a place pressed on the map of the film is the phase from which the shift starts", async ({ page }) => {
  await openShift(page);
  const { x, y, width, height } = await plot(page, "Phase map");
  await page.mouse.click(x + 0.65 * width, y + height / 2);
  await expect(button(page, "Undo")).toBeEnabled();
  await expect.poll(async () => Math.abs(await off(page, 30))).toBeGreaterThan(0.4);
  expect((await cross(page)).overlap).toBeCloseTo(0, 3);
});

test("the drawings show the design again when the rings are worked on", async ({ page }) => {
  await openShift(page);
  await go(page, "Dogs");
  const before = await drawn(page);
  const handles = await page.getByRole("slider").count();
  await go(page, "Shift");
  for (let event = 0; event < 3; event += 1) await button(page, "Next event").click();
  await go(page, "Dogs");
  await expect(page.getByRole("slider"), "the handles are there").toHaveCount(handles);
  await expectSame(page, before);
});

/** Milliseconds from the press of Play until it stands again. */
const lasts = (page) => page.evaluate(() => new Promise((done) => {
  const play = document.querySelector('.player button[aria-label="Play the shift"]');
  const began = performance.now();
  play.click();
  const look = () =>
    play.ariaLabel === "Play the shift" ? done(performance.now() - began) : requestAnimationFrame(look);
  requestAnimationFrame(look);
}));

test("slowed ten times more, it takes ten times as long", async ({ page }) => {
  await openShift(page);
  const real = home * 1000;
  for (const times of [5, 50]) {
    await slow(page, times);
    const took = await lasts(page);
    expect(took, `1:${times}`).toBeGreaterThan(real * times * 0.95);
    // A busy machine begins late: what counts is that 1:5 is far from 1:50.
    expect(took, `1:${times}`).toBeLessThan(real * times * 1.2 + 1500);
  }
});

test("a screen reader hears how it ends, not every frame", async ({ page }) => {
  await openShift(page);
  await slow(page, 20);
  await page.locator(".player").evaluate((player) => {
    window.heard = 0;
    new MutationObserver((changes) => {
      const live = ({ target }) =>
        (target.closest ? target : target.parentElement)?.closest("[aria-live], [role=status], output");
      if (changes.some((change) => live(change) && live(change).getAttribute("aria-live") !== "off")) window.heard += 1;
    }).observe(player, { subtree: true, childList: true, characterData: true });
  });
  await button(page, "Play the shift").click();
  await expect(told(page)).toHaveText(END);
  expect(await page.evaluate(() => window.heard)).toBeGreaterThan(0);
  expect(await page.evaluate(() => window.heard)).toBeLessThan(4);
});

test("says that there is no shift where the rings stand apart", async ({ page }) => {
  // Dogs of 31° on six places leave windows of −2°.
  await openShift(page, { a: { tip_width_deg: 31 }, b: { tip_width_deg: 31 } });
  await expect(told(page)).toHaveText("There is no shift: the rings jam or do not meet.");
  for (const name of ["Play the shift", "Previous event", "Next event"]) {
    await expect(button(page, name)).toBeDisabled();
  }
  await expect(moment(page)).toBeDisabled();
});

test.describe("less motion", () => {
  test.use({ contextOptions: { reducedMotion: "reduce" } });

  test("nothing plays where no motion is wanted, and the events still step", async ({ page }) => {
    await openShift(page);
    await expect(page.locator(".player")).toContainText("Your system asks for less motion");
    await expect(button(page, "Play the shift")).toHaveCount(0);
    await expect(page.getByLabel("Slow motion")).toHaveCount(0);
    await expect(view(page, "Phase map").locator("path.way").first(), "the whole path is drawn").toBeAttached();
    for (const words of EVENTS) {
      await button(page, "Next event").click();
      await expect(told(page)).toHaveText(words);
    }
    expect(await off(page, 30 - TURNED)).toBeCloseTo(0, 1);
  });
});

// ---- the outcome map and the chances ----

/** The plot of a chart on the screen: the largest frame drawn in it. */
async function plot(page, chart) {
  await view(page, chart).scrollIntoViewIfNeeded();
  return view(page, chart).evaluate((svg) => {
    const boxes = [...svg.querySelectorAll("path.border")].map((at) => at.getBoundingClientRect());
    const { x, y, width, height } = boxes.reduce((a, b) => (b.width * b.height > a.width * a.height ? b : a));
    return { x, y, width, height };
  });
}

/** The end of the speed differences: for a new design the next round number to twice the 300 rpm. */
const TOP = 600;

/** A phase and a speed difference on the screen, at a whole pixel: the browser tells the page no parts of one. */
async function placeOf(page, phase, speed) {
  const { x, y, width, height } = await plot(page, MAP);
  return [x + (width * phase) / 360, y + height * (1 - speed / TOP)].map(Math.round);
}

test("the outcome map reads out what becomes of a shift under the mouse", async ({ page }) => {
  await openChances(page);
  await expect(reading(page, MAP)).toHaveText(/^Phase 30°, 300 rpm: thrown back, then in$/);
  for (const [phase, speed, outcome] of [
    // The window ends at 24°: 11° at 120 rpm are 15 ms, and 1 mm takes 8.3 ms.
    [35, 120, "straight in"],
    // 36° of face are left, and below 189 rpm they stop it.
    [12, 100, "hangs tip on tip"],
    // 44° of face leave 186 rpm, at which the next window stands open for 10.7 ms.
    [20, 280, "in after rubbing"],
    // No window is long enough above 240 rpm.
    [15, 500, "thrown back, then in"],
  ]) {
    await page.mouse.move(...await placeOf(page, phase, speed));
    await expect(reading(page, MAP)).toContainText(/rpm: /);
    const [, at, with_, words] = /^Phase ([\d.]+)°, (\d+) rpm: (.*)$/.exec(await reading(page, MAP).textContent());
    expect(Math.abs(Number(at) - phase)).toBeLessThan(1);
    expect(Math.abs(Number(with_) - speed)).toBeLessThan(3);
    expect(words, `${phase}°, ${speed} rpm`).toBe(outcome);
  }
  await page.mouse.move(2, 2);
  await expect(reading(page, MAP), "away from it, its cross is read").toHaveText(/^Phase 30°, 300 rpm/);
});

test("the chances are read out where the mouse points", async ({ page }) => {
  await openChances(page);
  const { x, y, width, height } = await plot(page, CHANCES);
  await page.mouse.move(x + (width * 120) / TOP, y + height / 2);
  await expect(reading(page, CHANCES)).toHaveText(/^1[12]\d rpm: .*straight in \d+ %/);
  await page.mouse.move(x + (width * 500) / TOP, y + height / 2);
  await expect(reading(page, CHANCES)).toHaveText(/^(49|50)\d rpm: thrown back, then in 100 %$/);
});

test("arrow keys on the map's handles move its cross, its reading and the numbers", async ({ page }) => {
  await openChances(page);
  await expect(reading(page, MAP)).toHaveText(/^Phase 30°, 300 rpm/);
  const across = () => view(page, MAP).locator("path.state").first().getAttribute("d");
  const before = await across();
  await handle(page, MAP, "phase_deg").focus();
  await page.keyboard.press("ArrowUp");
  await expect(handle(page, MAP, "phase_deg")).toHaveAttribute("aria-valuenow", "30.5");
  expect(await across()).not.toBe(before);
  await expect(reading(page, MAP)).toHaveText(/^Phase 30.5°, 300 rpm/);
  await handle(page, MAP, "slip_rpm").focus();
  await page.keyboard.press("ArrowDown");
  await expect(field(page, "slip_rpm")).toHaveValue("290");
  await expect(handle(page, CHANCES, "slip_rpm")).toHaveAttribute("aria-valuenow", "290");
  await expect(reading(page, MAP)).toHaveText(/^Phase 30.5°, 290 rpm/);
  await handle(page, CHANCES, "slip_rpm").focus();
  await page.keyboard.press("Shift+ArrowUp");
  await expect(field(page, "slip_rpm")).toHaveValue("390");
  await expect(handle(page, CHANCES, "slip_rpm")).toBeFocused();
  await picture(page, "Film");
  expect(await off(page, 30.5)).toBeCloseTo(0, 1);
});

for (const [slip, sign] of [[300, 1], [-300, -1]]) {
  test(`a place pressed on the map of ${slip} rpm is taken as phase and speed difference, in one step`, async ({
    page,
  }) => {
    await openChances(page, { slip_rpm: slip });
    await expect(reading(page, MAP)).toContainText("rpm: ");
    await page.mouse.click(...(await placeOf(page, 90, 150)));
    const phase = handle(page, MAP, "phase_deg");
    await expect.poll(async () => Number(await phase.getAttribute("aria-valuenow"))).toBeCloseTo(90, -0.5);
    expect(Math.abs(Number(await field(page, "slip_rpm").inputValue()) - sign * 150)).toBeLessThanOrEqual(10);
    await button(page, "Undo").click();
    await expect(phase).toHaveAttribute("aria-valuenow", "30");
    await expect(field(page, "slip_rpm")).toHaveValue(String(slip));
    await expect(button(page, "Undo")).toBeDisabled();
  });
}

test("the film names the shifts into its gear, and films the one that is pressed", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  const picks = page.getByRole("group", { name: "Shift that is filmed" }).getByRole("button");
  await expect(picks).toHaveText([/1→2: 749 rpm apart, 0 % in/, /3→2: 294 rpm apart, 0 % in/]);
  await expect(picks.first()).toHaveAttribute("aria-pressed", "true");
  const before = await told(page).textContent();
  await picks.nth(1).click();
  await expect(picks.nth(1)).toHaveAttribute("aria-pressed", "true");
  await expect(told(page)).not.toHaveText(before);
  await button(page, "Undo").click();
  await expect(told(page)).toHaveText(before);
  // On a phone they are a picture of their own.
  await page.setViewportSize({ width: 390, height: 844 });
  await expect(picks.first()).toBeHidden();
});

test("a shift of the gearbox has no handle for its speed difference, and keeps it", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "Chances");
  await expect(handle(page, MAP, "phase_deg")).toBeVisible();
  await expect(page.locator('.view [data-field="slip_rpm"]')).toHaveCount(0);
  // 8500 rpm through 70/27 and 35/12, then 35/12 over 28/16 less 1.
  await expect(page.locator(".taken")).toContainText("Speed difference 749 rpm");
  await expect(reading(page, MAP)).toContainText("749 rpm: ", { timeout: 20_000 });
  const { x, y, width, height } = await plot(page, MAP);
  await page.mouse.click(x + width / 2, y + height / 4);
  await expect
    .poll(async () => Number(await handle(page, MAP, "phase_deg").getAttribute("aria-valuenow")))
    .toBeCloseTo(180, -0.5);
  await expect(page.locator(".taken")).toContainText("Speed difference 749 rpm");
  await page.getByLabel("Conditions from").selectOption({ label: "typed here" });
  await expect(handle(page, MAP, "slip_rpm")).toBeVisible();
  await expect(handle(page, CHANCES, "slip_rpm")).toBeVisible();
});

/** The rows of the table of chances: speed difference and shares, as numbers. */
const tableRows = (page) => page.getByRole("region", { name: "Table of chances" }).locator("tbody tr")
  .evaluateAll((rows) => rows.map((row) => [...row.cells].map((cell) => parseFloat(cell.textContent))));

test("the map is refined, and its table has all the shares", async ({ page }) => {
  await openChances(page);
  await page.getByText("Chances as a table").click();
  await expect(page.getByText(/counted over 360 phases/)).toBeVisible({ timeout: 20_000 });
  const rows = await tableRows(page);
  expect(rows.length).toBeGreaterThanOrEqual(14);
  expect(rows.length).toBeLessThanOrEqual(18);
  for (const [speed, first, end, straight, rubbed, thrown, ...others] of rows) {
    expect(others.length).toBe(3);
    const sum = [straight, rubbed, thrown, ...others].reduce((a, b) => a + b);
    expect(Math.abs(sum - 100), `${speed} rpm`).toBeLessThan(0.4);
    expect(Math.abs(first - straight - rubbed)).toBeLessThan(0.2);
    expect(Math.abs(end - straight - rubbed - thrown)).toBeLessThan(0.2);
    if (speed > 240) expect(straight, `${speed} rpm is over the straight-in limit`).toBe(0);
  }
  // Hardly turning it goes straight in wherever a window stands: 12° of every 60°; else it hangs.
  expect(rows[0][0]).toBeLessThan(10);
  expect(Math.abs(rows[0][3] - 20)).toBeLessThan(1);
  expect(Math.abs(rows[0][7] - 80)).toBeLessThan(1);
  expect(rows.at(-1)[0]).toBeGreaterThan(0.9 * TOP);
});

test("there is no map of rings that jam, not even that of before", async ({ page }) => {
  await openChances(page);
  await expect(reading(page, MAP)).toContainText("rpm: ");
  await go(page, "Dogs");
  // Two dogs of 31° on a pitch of 60° leave no window.
  for (const ring of ["A", "B"]) await type(page, `${ring}.tip_width_deg`, "31");
  await go(page, "Shift");
  await picture(page, "Film");
  await expect(told(page)).toContainText("There is no shift");
  await picture(page, "Chances");
  await page.getByText("Chances as a table").click();
  await expect.poll(() => tableRows(page)).toEqual([]);
  await expect(reading(page, MAP)).not.toContainText("rpm: ");
  await expect(reading(page, MAP), "nothing comes any more").not.toContainText("Computing");
});

const takeFrom = (page, item) => async () => {
  await more(page);
  await button(page, item).click();
};

test("takes the chances as CSV, whose rows sum to 1", async ({ page }) => {
  await openChances(page);
  const { name, text } = await download(page, takeFrom(page, "Chances over the speed difference (CSV)"));
  expect(name).toMatch(/-chances\.csv$/);
  const [head, ...lines] = tableOf(text);
  expect(head.split(",")[0]).toBe("speed_difference_rpm");
  expect(head.split(",")).toHaveLength(7);
  expect(lines.length).toBeGreaterThanOrEqual(100);
  let last = 0;
  for (const line of lines) {
    const [speed, ...shares] = line.split(",").map(Number);
    expect(speed).toBeGreaterThan(last);
    last = speed;
    expect(Math.abs(shares.reduce((a, b) => a + b) - 1), line).toBeLessThan(5e-6);
  }
  expect(last).toBeGreaterThan(0.98 * TOP);
  expect(last).toBeLessThan(TOP);
});

test("takes the outcome map and the chances as drawings", async ({ page }) => {
  await openChances(page);
  const files = [];
  for (const item of ["Outcome map (SVG)", "Chances (SVG)"]) files.push(await download(page, takeFrom(page, item)));
  expect(files[0].name).toMatch(/-outcome-map\.svg$/);
  expect(files[1].name).toMatch(/-chances\.svg$/);
  await page.goto("about:blank");
  for (const { name, text } of files) {
    const read = await page.evaluate((text) => {
      const svg = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
      return {
        tag: svg.tagName,
        wrong: svg.querySelectorAll("parsererror").length,
        width: svg.getAttribute("width"),
        words: [...svg.querySelectorAll("text")].map((at) => at.textContent),
        patches: svg.querySelectorAll("path").length,
      };
    }, text);
    expect(read, name).toMatchObject({ tag: "svg", wrong: 0, width: expect.stringMatching(/^[\d.]+mm$/) });
    expect(read.words.join("\n"), name).toMatch(/straight in\sbelow\s240\srpm/);
    expect(read.patches, name).toBeGreaterThan(8);
  }
  expect(files[0].text).toContain("Hangs tip on tip");
});

test("numbers answer while the map of a fine spline is worked out", async ({ page }) => {
  // Broken edges, fast shifts and much patience: every shift of the map is long and solved by itself.
  const spline = { count: 30, tip_width_deg: 5.5, edge_break_mm: 0.05, root_fillet_mm: 0.2 };
  await openChances(page, { a: spline, b: spline, slip_rpm: 900, time_allowed_ms: 20000 });
  const knob = handle(page, MAP, "phase_deg");
  await knob.focus();
  for (let press = 1; press <= 6; press += 1) {
    await page.keyboard.press("ArrowUp");
    await expect(knob).toHaveAttribute("aria-valuenow", String(30 + press / 2));
  }
  await expect(view(page, MAP).locator(".ratcheting, .after-strikes").nth(1), "and a map comes")
    .toBeAttached({ timeout: 20_000 });
  const read = await reading(page, MAP).textContent();
  const refining = await page.locator(".view.outcome .refining").count();
  expect(refining > 0, "and is not read out before it is whole").toBe(!/rpm: /.test(read));
});

// ---- how long the ignition must be cut ----

const cutTable = (page) => page.locator(".cut-table");
const cutCell = (page, row, head) => cutTable(page).locator("tbody tr").nth(row).locator(`td[data-head="${head}"]`);
const number = async (cell) => Number.parseFloat((await cell.textContent()).replace(/[▲\s]/g, ""));

test("without a gearbox the cut asks for one", async ({ page }) => {
  await openShift(page);
  await picture(page, "Cut and blip");
  await expect(page.getByText("Cut and blip follow from the gearbox. Enter it first.")).toBeVisible();
});

test("at 1024 the table of cuts fits, and a length that is not right is marked and not bold", async ({ page }) => {
  await page.setViewportSize({ width: 1024, height: 768 });
  await open(page);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  const inside = await cutTable(page).evaluate((table) => table.parentElement.clientWidth - table.offsetWidth);
  expect(inside).toBeGreaterThanOrEqual(0);
  await expect(cutTable(page).getByRole("columnheader", { name: "Cut ms" })).toBeVisible();
  const marked = cutTable(page).locator(".past");
  await expect(marked.first()).toHaveText(/^▲ [\d.]+ ms$/);
  expect(await marked.first().evaluate((cell) => Number(getComputedStyle(cell).fontWeight))).toBeLessThan(600);
  await expect(cutTable(page).locator("td:has(.past) b")).toHaveCount(0);
});

test("a racer reads how long to cut for each upshift, and takes the table away", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  const rows = cutTable(page).locator("tbody tr");
  await expect(rows.first()).toBeVisible();
  expect(await rows.count()).toBeGreaterThanOrEqual(3);
  await type(page, "cut_share", "60");
  for (const at of [0, 1]) {
    const parts = [];
    for (const head of ["Firing", "Fork", "Unload", "Old dogs out", "Across the gap", "Wait", "In"]) parts.push(await number(cutCell(page, at, head)));
    const whole = await number(cutCell(page, at, "Cut"));
    expect(Math.abs(whole - parts.reduce((sum, part) => sum + part, 0)), `row ${at}`).toBeLessThan(0.06 * parts.length + 0.5);
  }
  // One cylinder at 8500 rpm fires every 14.1 ms; with four the wait is a quarter.
  const one = await number(cutCell(page, 0, "Firing"));
  await type(page, "cylinders", "4");
  await expect.poll(() => number(cutCell(page, 0, "Firing"))).toBeLessThan(one / 3);
  const chart = page.getByRole("img", { name: /^Chart of torque and overlap/ });
  await expect(chart).toContainText(/out \d/);
  await rows.nth(1).getByRole("button").click();
  await expect(page.getByRole("heading", { name: "How the old dogs let go, 2→3" })).toBeVisible();
  // What is copied and saved is named after the shift that is shown.
  await expect(page.getByRole("button", { name: /How the old dogs let go, 2→3/ }).first()).toBeVisible();
  await expect(page.getByRole("button", { name: /How the old dogs let go, 1→2/ })).toHaveCount(0);
  const { name, text } = await download(page, () => button(page, "Save table as CSV").click());
  expect(name).toMatch(/cuts\.csv$/);
  const [head, ...lines] = text.trim().split("\r\n");
  expect(head).toBe("from_gear,to_gear,engine_rpm,length_ms,not_longer_than_ms,in_at_engine_rpm");
  expect(lines).toHaveLength(8 * (await rows.count()));
  await expect(page.getByText(/every miss takes metal off the edges/)).toBeVisible();
});

test("a whole shift is read out on one chart, up by cut and down by blip", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  await type(page, "cut_share", "60");
  const chart = page.getByRole("img", { name: /^Chart over time of the engine speed/ });
  await expect(chart).toContainText(/out \d[\s\S]*tips level \d[\s\S]*in \d/);
  await expect(chart).toContainText("speed of gear 2");
  const player = page.getByRole("region", { name: "Play the shift" });
  const told = player.getByRole("status");
  await expect(told).toContainText(/^1→2 at 8500 rpm: in after [\d.]+ ms\. .*The new dogs catch [\d.]+ N·m, [\d.]+ times/);
  // The moment is read out, by keyboard too.
  const slider = player.getByRole("slider");
  await slider.focus();
  await slider.press("End");
  const atEnd = (await told.textContent()) ?? "";
  expect(atEnd).toMatch(/^[\d.]+ ms: engine \d+ rpm, −?[\d.]+ N·m at the dogs, overlap 0 mm old, [\d.]+ mm new\.$/);
  await player.getByRole("button", { name: "Back to the start" }).click();
  await expect(told).toContainText("in after");
  // Torque that takes its time makes the whole longer.
  const whole = async () => number(cutCell(page, 0, "Cut"));
  const quick = await whole();
  await type(page, "torque_fall_ms", "60");
  await expect.poll(whole).toBeGreaterThan(quick + 15);
  await type(page, "torque_fall_ms", "0");
  // Down: the engine is blipped up to the speed of the lower gear.
  await page.locator(".cuts").getByRole("combobox").first().selectOption({ label: "Down, by blip" });
  await expect(cutTable(page).locator("tbody th").first()).toHaveText("2→1");
  const at = await number(cutCell(page, 0, "Engine speed"));
  const into = await number(cutCell(page, 0, "Engine as tips meet"));
  expect(into).toBeGreaterThan(at);
  const soft = await number(cutCell(page, 0, "Blip"));
  await type(page, "blip_share", "90");
  await expect.poll(() => number(cutCell(page, 0, "Blip"))).toBeLessThan(soft);
  const { name } = await download(page, () => button(page, "Save table as CSV").click());
  expect(name).toMatch(/blips\.csv$/);
});

const THREE_GEARS = {
  gears: [[12, 35], [16, 28], [20, 27]].map(([driving_teeth, driven_teeth]) => ({ driving_teeth, driven_teeth })),
};

const chooseManner = (page, label) =>
  page.locator(".cuts").getByRole("combobox", { name: "How it is shifted" }).selectOption({ label });

test("a shift by throttle and by clutch is timed like one by cut", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  await type(page, "cut_share", "60");
  const parts = async (row, ...heads) => Promise.all(heads.map((head) => number(cutCell(page, row, head))));
  const [cutUnload] = await parts(0, "Unload");
  await chooseManner(page, "Up, throttle shut");
  const [firing, unload] = await parts(0, "Firing", "Unload");
  expect(firing).toBe(0);
  expect(unload).toBeGreaterThan(cutUnload + 20);
  // A throttle that is shut faster frees the dogs sooner.
  await type(page, "throttle_ms", "40");
  await expect.poll(() => number(cutCell(page, 0, "Unload"))).toBeLessThan(unload - 10);
  await expect(button(page, "Save table as CSV"), "nothing to type into an ignition unit").toHaveCount(0);
  const chart = page.getByRole("img", { name: /^Chart over time of the engine speed/ });
  await expect(chart).toContainText("Since the throttle shuts (ms)");
  // Behind a clutch that drags, tips alone slow the input shaft; a free one lets them.
  await type(page, "strike_loss", "30");
  await type(page, "clutch_drag_nm", "0");
  await chooseManner(page, "Up, with the clutch");
  await expect(cutTable(page)).toContainText("Clutch pulled");
  await expect(chart).toContainText("Input side (rpm)");
  await expect(page.getByText(/^With the clutch pulled, only the gearbox shafts strike/)).toBeVisible();
  await expect(page.getByText(/every miss takes metal off the edges/)).toHaveCount(0);
  await type(page, "clutch_drag_nm", "20");
  await expect(page.getByText(/: the shift force does not pull the old dogs out/)).toBeVisible();
  await chooseManner(page, "Down, with the clutch");
  await expect(cutTable(page).locator("tbody th").first()).toHaveText("2→1");
});

test("the foot is read before the cut, and the drawings stand where the cursor is", async ({ page }) => {
  await open(page, `./#${linkOf({
    crenel: 1, title: "Foot to fork (invented)", gearbox: THREE_GEARS, cut_share: 0.5, cylinders: 12, linkage: {}, claw: {}, track: {},
  })}`);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  const also = page.locator(".cuts .also");
  await expect(also).toContainText(/The foot moves [\d.]+ ms before the ignition unit acts: the sensor signals after [\d.]+ ms\./);
  await expect(also).toContainText(/The hook meets its pin after [\d.]+ ms\. The fork begins to push after [\d.]+ ms\./);
  await expect(also).toContainText(/From shift to shift: out after [\d.]+ ms to [\d.]+ ms, in after [\d.]+ ms to [\d.]+ ms/);
  // A sensor that signals at once cuts before the fork pushes: the cut waits for it.
  await type(page, "sensor_travel_mm", "20");
  await expect.poll(() => number(cutCell(page, 0, "Fork"))).toBe(0);
  await type(page, "sensor_travel_mm", "0");
  await expect.poll(() => number(cutCell(page, 0, "Fork"))).toBeGreaterThan(5);
  // The cursor moves the drawings and the drum with it.
  const slider = page.getByRole("region", { name: "Play the shift" }).getByRole("slider");
  await slider.focus();
  await slider.press("ArrowRight");
  await expect(page.getByText(/^The drum has turned [\d.]+° from its detent\.$/)).toBeVisible();
  const unrolled = page.locator(".turned").getByRole("group", { name: "Developed view" });
  await expect(unrolled).toBeVisible();
  const drawn = () => unrolled.locator("g[aria-hidden]").first().innerHTML();
  const before = await drawn();
  await slider.press("End");
  await expect.poll(drawn).not.toBe(before);
  await page.getByRole("region", { name: "Play the shift" }).getByRole("button", { name: "Back to the start" }).click();
  await expect(page.locator(".turned")).toHaveCount(0);
});

test("another variant is drawn beside a shift in time", async ({ page }) => {
  const cuts = (ring) => Object.fromEntries([2, 4, 6].map((dog) => [dog, ring]));
  await open(page, `./#${linkOf({
    crenel: 1, title: "Two layouts (invented)", gearbox: THREE_GEARS, cut_share: 0.5,
    variants: [{ name: "As found", current: true }, { name: "half-height", a: { cuts: cuts(2.5) }, b: { cuts: cuts(2.5) } }],
  })}`);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  const beside = page.locator(".cuts").getByRole("combobox", { name: "Beside it" });
  const chart = page.getByRole("img", { name: /^Chart over time of the engine speed/ });
  const curves = () => chart.locator(".curve-f").count();
  expect(await curves()).toBe(0);
  await beside.selectOption({ label: "half-height" });
  await expect.poll(curves).toBeGreaterThan(2);
  await expect(page.locator(".cuts .also")).toContainText(/half-height, in chain lines: in after [\d.]+ ms, this one after [\d.]+ ms\./);
  await beside.selectOption({ label: "nothing" });
  await expect.poll(curves).toBe(0);
});

test("at rest a roll finds the gap, and a dragging clutch keeps the shaft turning", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "At rest");
  const told = page.getByRole("region", { name: "At rest" }).first();
  await expect(told).toContainText(/Gear 2, nothing turning: \d+ % go straight in; rolled 100 mm, \d+ %\.[\s\S]*A roll of [\d.]+ mm always brings a gap\./);
  const sure = Number.parseFloat((await told.textContent()).match(/A roll of ([\d.]+) mm/)[1]);
  await type(page, "roll_mm", String(sure));
  await expect(told).toContainText(`rolled ${sure} mm, 100 %.`);
  await expect(told).toContainText(`rolling ${sure} mm frees 100 % of them.`);
  await type(page, "roll_mm", String(Math.round(sure / 3)));
  await expect(told).not.toContainText("100 %");
  await type(page, "clutch_drag_nm", "5");
  await expect(told).toContainText("the input shaft turns on until a gap comes");
  await type(page, "clutch_drag_nm", "0");
  await expect(told).toContainText("The tips rub harder than the clutch drags");
  expect(await page.locator(".wear-table tbody tr").count()).toBeGreaterThanOrEqual(5);
});

test("the shift that wears the edges most is named, and what a rounding leaves", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  const rows = page.locator(".wear-table tbody tr");
  await expect.poll(() => rows.count()).toBeGreaterThanOrEqual(6);
  const cell = (row, head) => rows.nth(row).locator(`td[data-head="${head}"]`);
  const spent = [];
  for (let row = 0; row < (await rows.count()); row += 1) spent.push(await number(cell(row, "100 shifts, J")));
  expect(spent).toEqual([...spent].sort((a, b) => b - a));
  const first = await rows.first().locator("th").textContent();
  await expect(page.getByText(`${first} wears the edges most`)).toBeVisible();
  await type(page, "edge_wear_mm", "1");
  await expect(page.getByText(/^With every edge rounded to 1 mm, 2\.5 mm of the flanks still carry/)).toBeVisible();
  await expect(page.getByText(/on only roundings touch/)).toBeVisible();
});

test("the rigid bound and the whole driveline stand side by side, and the rider reads whether the tyre slips", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  await type(page, "cut_share", "0.6");
  await expect(page.getByText(/^Enter the inertia of rear sprocket and carrier/)).toBeVisible();
  await page.getByText("Driveline: masses, springs and grip").click();
  await type(page, "carrier_inertia_kg_m2", "0.02");
  const told = page.locator(".cuts .peaks");
  await expect(told).toHaveText(
    /^1→2: rigid bound [\d,.]+ N·m; with the whole driveline [\d,.]+ N·m at the dogs, [\d,.]+ N·m at the tyre\. The rear tyre /,
  );
  const rows = page.locator(".driveline-table tbody tr");
  expect(await rows.count()).toBe(await cutTable(page).locator("tbody tr").count());
  const cell = (head) => rows.first().locator(`td[data-head="${head}"]`);
  const before = await number(cell("At the dogs"));
  // Stiffer shafts: a harder blow at the dogs, and the same rigid bound.
  const bound = await number(cell("Rigid bound"));
  await type(page, "shaft_stiffness_nm_per_rad", "60000");
  await expect.poll(() => number(cell("At the dogs"))).toBeGreaterThan(1.05 * before);
  expect(await number(cell("Rigid bound"))).toBe(bound);
  // With little load on the wheel the tyre slips, and the chart names it.
  await type(page, "rear_load_n", "200");
  await expect(told).toContainText(/The rear tyre (slips for [\d.]+ ms|breaks away) as the dogs catch/);
  const chart = page.getByRole("img", { name: /^Chart over time of the engine speed/ });
  await expect(chart).toContainText(/tyre slips \d/);
  const slider = page.getByRole("region", { name: "Play the shift" }).getByRole("slider");
  await slider.focus();
  await slider.press("End");
  await expect(page.getByRole("region", { name: "Play the shift" }).getByRole("status")).toContainText(/N·m at the tyre\.$/);
  await type(page, "rear_load_n", "0");
  await expect(cell("Tyre slips")).toHaveText("no");
});

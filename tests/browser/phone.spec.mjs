// The same jobs with a finger on a small screen.
import {
  button, by, dog, expect, field, go, handle, linkOf, menu, middle, more, now, open, openDesigns, openPlain,
  outwards, picture, putUp, same, select, test, tool, view, walk,
} from "./kit.mjs";

/** Moves a finger from a handle's middle; it stays down. `send` tells where fingers are next. */
async function touch(page, drawing, key, move) {
  const knob = handle(page, drawing, key).locator(".knob");
  await knob.scrollIntoViewIfNeeded();
  const from = await middle(knob);
  const to = move(from, await middle(view(page, drawing)));
  const client = await page.context().newCDPSession(page);
  const send = (type, ...places) =>
    client.send("Input.dispatchTouchEvent", { type, touchPoints: places.map((place, id) => ({ id, ...place })) });
  await send("touchStart", from);
  for (let step = 1; step <= 6; step += 1) {
    const share = step / 6;
    await send("touchMove", { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) });
  }
  // Moves are handed to the page a frame later.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  return { to, send };
}

/**
 * What is pressed and smaller than a fingertip: of a box to tick its label, of a handle the area round its picture.
 * Links within a sentence are as high as their line.
 */
const small = (page) => page.evaluate(() =>
  [...document.querySelectorAll("button, select, input, textarea, summary, a[href]:not(p a), [role=slider]")]
    .map((at) => (at.type === "checkbox" ? at.closest("label") : (at.querySelector(".reach") ?? at)))
    .filter((at) => at.checkVisibility() && at.getBoundingClientRect().right > 0)
    .filter((at) => Math.min(at.getBoundingClientRect().height, at.getBoundingClientRect().width) < 43.9)
    .map((at) => {
      const { width, height } = at.getBoundingClientRect();
      return `${at.tagName} ${at.className.baseVal ?? at.className} ${at.textContent.trim().slice(0, 20) || at.id}: ${width} × ${height}`;
    }));

/** Handles of a drawing that are nearer to each other than a finger is wide, or where a phone takes a swipe for its own. */
const crowded = (page) => page.evaluate(() => [...document.querySelectorAll(".view svg")].flatMap((drawing) => {
  const middles = [...drawing.querySelectorAll("[role=slider]:has(.reach)")].filter((at) => at.checkVisibility()).map((at) => {
    const { left, top, width, height } = at.querySelector(".reach").getBoundingClientRect();
    return { key: at.dataset.field, x: left + width / 2, y: top + height / 2 };
  });
  const near = middles.flatMap((one, at) => middles.slice(at + 1)
    .map((other) => [`${one.key} ${other.key}`, Math.hypot(one.x - other.x, one.y - other.y)])
    .filter(([, px]) => px < 47));
  const aside = middles.map(({ key, x }) => [key, Math.min(x, innerWidth - x)]).filter(([, px]) => px < 23.5);
  return [...near, ...aside];
}));

const overflow = (page) => page.evaluate(() =>
  Math.max(document.documentElement.scrollWidth, document.body.scrollWidth) - document.documentElement.clientWidth);

const SMALLEST = { width: 360, height: 740 };

/** The picture that shows a drawing by itself. */
const PICTURES = { "Face view": "Face", "Developed view": "Developed", "Phase map": "Phase map" };

test.use({ viewport: SMALLEST, hasTouch: true, isMobile: true });

for (const viewport of [{ width: 390, height: 844 }, SMALLEST]) {
  test.describe(`${viewport.width} × ${viewport.height}`, () => {
    test.use({ viewport });

    test("fits the screen and the finger, with a long title, a finding and a list", async ({ page }) => {
      await open(page);
      expect(await overflow(page)).toBeLessThanOrEqual(0);
      expect(await small(page)).toEqual([]);
      const title = page.getByRole("textbox", { name: "Title of the design" });
      await title.fill("Unbrokenlongwordinatitle".repeat(5));
      await field(page, "A.tip_width_deg").fill("not-a-number".repeat(8));
      await field(page, "A.tip_width_deg").press("Enter");
      await page.getByRole("button", { name: /^List each dog/ }).last().tap();
      await dog(page, "A2").tap();
      await button(page, "Shorten").tap();
      expect(await overflow(page)).toBeLessThanOrEqual(0);
      expect(await small(page)).toEqual([]);
    });

    test("a dog is tapped and cut, and undone", async ({ page }) => {
      await open(page);
      await dog(page, "A2").tap();
      await expect(page.getByText("Dog A2: 5 mm high")).toBeVisible();
      await button(page, "Shorten").tap();
      await same(page, "for every second dog").tap();
      await same(page, "cuts on ring B").tap();
      await expect(now(page, "free_angle_deg")).toHaveText("72°");
      await button(page, "Undo").tap();
      await expect(now(page, "free_angle_deg")).toHaveText("12°");
    });

    test("handles are dragged by finger and the page stands still", async ({ page }) => {
      await open(page);
      for (const [drawing, key, slot, move] of [
        ["Face view", "outer_diameter_mm", "A.outer_diameter_mm", outwards(-10)],
        ["Developed view", "overlap_mm", "overlap_mm", by(0, -14)],
        ["Phase map", "phase_deg", "phase_deg", by(40, 0)],
      ]) {
        await picture(page, PICTURES[drawing]);
        if (drawing === "Face view") await select(page);
        const before = await field(page, slot).inputValue();
        const finger = await touch(page, drawing, key, move);
        const scrolled = await page.evaluate(() => scrollY);
        await expect(field(page, slot), key).not.toHaveValue(before);
        const during = await field(page, slot).inputValue();
        await finger.send("touchEnd");
        await expect(field(page, slot), key).toHaveValue(during);
        expect(await page.evaluate(() => scrollY)).toBe(scrolled);
        // A tap in the same moment as a scroll ends the scroll and presses nothing.
        await button(page, "Undo").scrollIntoViewIfNeeded();
        await putUp(page);
        await button(page, "Undo").tap();
        await expect(field(page, slot), key).toHaveValue(before);
      }
    });
  });
}

test("a second finger does not disturb the first", async ({ page }) => {
  await open(page);
  const outer = field(page, "A.outer_diameter_mm");
  await select(page);
  const { to, send } = await touch(page, "Face view", "outer_diameter_mm", outwards(-10));
  await expect(outer).not.toHaveValue("60");
  const during = await outer.inputValue();
  const axis = await middle(view(page, "Face view"));
  await send("touchStart", to, axis);
  await send("touchMove", to, by(14, 3)(axis));
  await expect(outer).toHaveValue(during);
  await send("touchEnd", { ...axis, id: 1 });
  await send("touchMove", outwards(-4)(to, axis));
  await expect(outer, "the first finger goes on").not.toHaveValue(during);
  await send("touchEnd");
  await button(page, "Undo").tap();
  await expect(outer).toHaveValue("60");
  await expect(button(page, "Undo")).toBeDisabled();
});

test("a finger that scrolls over a drawing changes nothing", async ({ page }) => {
  await open(page);
  await picture(page, "Phase map");
  const map = await view(page, "Phase map").boundingBox();
  await page.evaluate((y) => scrollTo(0, y - 300), map.y);
  const scrolled = await page.evaluate(() => scrollY);
  const { x, y } = await middle(view(page, "Phase map"));
  const client = await page.context().newCDPSession(page);
  await client.send("Input.synthesizeScrollGesture", {
    x: Math.round(x),
    y: Math.round(y),
    yDistance: -150,
    speed: 1200,
  });
  expect(await page.evaluate(() => scrollY)).toBeGreaterThan(scrolled);
  await expect(field(page, "phase_deg")).toHaveValue("30");
  await expect(field(page, "overlap_mm")).toHaveValue("4.5");
  await expect(button(page, "Undo")).toBeDisabled();
});

test("a thumb that scrolls slowly over the maps takes nothing along", async ({ page }) => {
  await open(page);
  await picture(page, "Phase map");
  const client = await page.context().newCDPSession(page);
  await view(page, "Phase map").evaluate((map) => map.scrollIntoView({ block: "center" }));
  const scrolled = await page.evaluate(() => scrollY);
  const { x, y } = await middle(view(page, "Phase map"));
  const touch = (type, up) =>
    client.send("Input.dispatchTouchEvent", { type, touchPoints: up === undefined ? [] : [{ x, y: y - up }] });
  await touch("touchStart", 0);
  for (let up = 2; up <= 120; up += 2) await touch("touchMove", up);
  await touch("touchEnd");
  await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(scrolled);
  await expect(field(page, "phase_deg")).toHaveValue("30");
  await expect(field(page, "overlap_mm")).toHaveValue("4.5");
  await expect(button(page, "Undo")).toBeDisabled();
});

test("the link is shared, and the menus are inside the screen", async ({ page }) => {
  await open(page);
  for (const show of [more, (page) => menu(page, "More: Face view")]) {
    await show(page);
    const sheet = page.locator("details.menu[open] > .sheet");
    await expect(sheet).toBeInViewport({ ratio: 1 });
    const { x, width } = await sheet.boundingBox();
    expect(x).toBeGreaterThanOrEqual(0);
    expect(x + width).toBeLessThanOrEqual(SMALLEST.width);
    expect(await small(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await expect(sheet).toBeHidden();
  }
  await button(page, "Share").tap();
  const dialog = page.getByRole("dialog");
  await dialog.getByText("The link as text").tap();
  await expect(dialog.getByLabel("Link", { exact: true })).toHaveValue(/#1\./);
  expect(await overflow(page)).toBeLessThanOrEqual(0);
  expect(await small(page)).toEqual([]);
  await dialog.getByRole("button", { name: "Close" }).tap();
  await expect(dialog).toBeHidden();
});

test("the system's own sheet comes first, then the code, then the text", async ({ page }) => {
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.addInitScript(() => {
    window.sent = [];
    navigator.share = async (data) => {
      window.sent.push(data);
      if (window.sent.length > 1) throw new DOMException("put away", "AbortError");
    };
  });
  await open(page);
  await button(page, "Share").tap();
  const dialog = page.getByRole("dialog");
  const send = dialog.getByRole("button", { name: "Send the link" });
  const tops = [];
  for (const at of [send, dialog.getByRole("img"), dialog.getByText("The link as text")]) {
    tops.push((await at.boundingBox()).y);
  }
  expect(tops).toEqual([...tops].sort((a, b) => a - b));
  await expect(dialog.getByLabel("Link", { exact: true })).toBeHidden();
  await send.tap();
  await send.tap();
  const sent = await page.evaluate(() => window.sent);
  expect(sent).toHaveLength(2);
  expect(sent[0].title).toContain("Hill-climb single");
  expect(sent[0].url).toMatch(/#1\./);
  // What is done is said on the button that did it.
  await dialog.getByRole("button", { name: "Copy link" }).tap();
  await expect(dialog.getByRole("button", { name: "Link copied" })).toBeInViewport();
});

test("nothing stands behind the last button of what is kept", async ({ page, baseURL }) => {
  await page.goto(new URL("icon.svg", baseURL).href);
  await page.evaluate(() =>
    localStorage.setItem(
      "crenel.work.7",
      JSON.stringify({ at: 1, design: { crenel: 1, title: "A work" }, opened: null }),
    ),
  );
  await open(page, `./#${linkOf({ crenel: 1, title: "A friend's" })}`);
  await openDesigns(page);
  const row = page.getByRole("dialog", { name: "Designs" }).locator(".kept li .row");
  const right = async (at) => { const { x, width } = await at.boundingBox(); return x + width; };
  expect(await right(row)).toBeCloseTo(await right(button(row, "Delete A work")), 0);
});

/** Two fingers on a drawing, from and to places given as pixels from its middle. */
async function pinch(page, drawing, from, to) {
  await view(page, drawing).scrollIntoViewIfNeeded();
  const axis = await middle(view(page, drawing));
  const client = await page.context().newCDPSession(page);
  const send = (type, places) =>
    client.send("Input.dispatchTouchEvent", {
      type,
      touchPoints: places.map(([x, y], id) => ({ id, x: axis.x + x, y: axis.y + y })),
    });
  await send("touchStart", [from[0]]);
  await send("touchStart", from);
  for (let step = 1; step <= 6; step += 1) {
    const share = step / 6;
    await send("touchMove", from.map((place, at) => place.map((was, axis) => was + share * (to[at][axis] - was))));
  }
  await send("touchEnd", []);
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

const seen = async (page, drawing) => {
  const [, , width, height] = (await view(page, drawing).getAttribute("viewBox")).split(" ").map(Number);
  return { width, height };
};

for (const drawing of ["Face view", "Developed view", "Phase map"]) {
  test(`two fingers look closer at the ${drawing}, one moves the paper, and nothing else changes`, async ({ page }) => {
    await open(page);
    await picture(page, PICTURES[drawing]);
    const whole = await seen(page, drawing);
    await pinch(page, drawing, [[-30, 10], [30, 10]], [[-90, 10], [90, 10]]);
    const close = await seen(page, drawing);
    expect(whole.width / close.width).toBeGreaterThan(2.4);
    expect(close.height / close.width).toBeCloseTo(whole.height / whole.width, 2);
    await expect(button(page, "Undo"), "a pinch is no change of the design").toBeDisabled();

    const before = await view(page, drawing).getAttribute("viewBox");
    const at = await page.evaluate(() => scrollY);
    await pinch(page, drawing, [[-40, 30], [40, 30]], [[-80, 10], [0, 10]]);
    expect(await view(page, drawing).getAttribute("viewBox")).not.toBe(before);
    expect(await page.evaluate(() => scrollY), "the page stands still").toBe(at);
    await expect(button(page, "Undo")).toBeDisabled();

    await tool(page, drawing, "Fit");
    expect(await seen(page, drawing)).toEqual(whole);
    await tool(page, drawing, "Zoom in");
    expect((await seen(page, drawing)).width).toBeLessThan(whole.width);
  });
}

test("a handle is still dragged by what it shows when looked at closely", async ({ page }) => {
  await open(page);
  await picture(page, "Developed");
  await tool(page, "Developed view", "Zoom in");
  await page.keyboard.press("Escape");
  const overlap = field(page, "overlap_mm");
  await handle(page, "Developed view", "overlap_mm").focus();
  const { send } = await touch(page, "Developed view", "overlap_mm", by(0, -14));
  await send("touchEnd");
  const close = 4.5 - Number(await overlap.inputValue());
  await button(page, "Undo").tap();
  await tool(page, "Developed view", "Fit");
  await page.keyboard.press("Escape");
  const again = await touch(page, "Developed view", "overlap_mm", by(0, -14));
  await again.send("touchEnd");
  const whole = 4.5 - Number(await overlap.inputValue());
  expect(Math.abs(whole)).toBeGreaterThan(0);
  expect(whole / close).toBeCloseTo(1.6, 0);
});

// On its side and as a tablet too: the pointer decides how large a target is, not the width of the screen.
const HELD = [{ width: 390, height: 844 }, SMALLEST, { width: 844, height: 390 }, { width: 1024, height: 768 }];

for (const viewport of HELD) {
  test(`every part of the job fits ${viewport.width} × ${viewport.height} and the thumb`, async ({ page }) => {
    test.setTimeout(120_000);
    await page.setViewportSize(viewport);
    await open(page);
    await walk(page, async (where) => {
      expect.soft(await overflow(page), where).toBeLessThanOrEqual(0);
      expect.soft(await small(page), where).toEqual([]);
      expect.soft(await crowded(page), where).toEqual([]);
    });
    await more(page);
    expect.soft(await small(page), "more").toEqual([]);
    if (!(await button(page, "Help").isVisible())) await more(page);
    await button(page, "Help").tap();
    await putUp(page);
    expect.soft(await overflow(page), "Help").toBeLessThanOrEqual(0);
    expect.soft(await small(page), "Help").toEqual([]);
    await expect(button(page, "Designs"), "another part puts them away").toBeHidden();
    await openDesigns(page);
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(await small(page)).toEqual([]);
  });
}

test("the drawing begins in the upper half, and the stages stay in sight", async ({ page }) => {
  await open(page);
  const top = await view(page, "Face view").evaluate((at) => at.getBoundingClientRect().top);
  expect(top).toBeLessThan(SMALLEST.height / 2);
  const parts = page.getByRole("navigation", { name: "Parts of the job" });
  await field(page, "overlap_mm").scrollIntoViewIfNeeded();
  await expect(parts.locator(".stages")).toBeInViewport({ ratio: 1 });
  await parts.getByRole("button", { name: "Load", exact: true }).tap();
  await expect(parts.locator(".stages")).toBeInViewport({ ratio: 1 });
  expect(
    await page.evaluate(() => document.querySelector("main").getBoundingClientRect().top),
    "it begins at its top",
  ).toBeGreaterThan(0);
});

test("what a field is for is told in the inspector", async ({ page }) => {
  await openPlain(page);
  await page.locator('.inspector input[data-slot="overlap_mm"]').tap();
  const told = page.locator(".explain");
  await told.scrollIntoViewIfNeeded();
  await expect(told).toBeInViewport();
  await expect(told).toContainText("verlap");
});

test("the shift is played where it is seen", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  const player = button(page, "Play the shift");
  await player.scrollIntoViewIfNeeded();
  await expect(player).toBeInViewport({ ratio: 0.95 });
  await expect(view(page, "Face view")).toBeInViewport({ ratio: 0.5 });
});

// Both rings as solids: looked at from all sides, printed as a gauge, and handed to a CAD program.
import { readFile } from "node:fs/promises";
import {
  PLANNED, button, by, dogButton, expect, field, go, handle, linkOf, middle, more, notice, open, picture as showPicture, pull,
  tableOf, test, type,
} from "./kit.mjs";

const picture = (page) => page.getByRole("application", { name: /^Both rings as solids/ });
const facets = (page, ring) => picture(page).locator(`.facet.ring-${ring}`);

/** What is drawn, without the marks that the framework leaves behind once. */
const markup = async (page) => (await picture(page).innerHTML()).replaceAll("<!---->", "");
const told = (page) => page.getByRole("status").filter({ hasText: /^Turned/ });
const apart = (page) => page.getByRole("slider", { name: "Separation" });

async function openSolids(page, design = PLANNED) {
  await open(page, `./#${linkOf(design)}`);
  await go(page, "Plan");
  await showPicture(page, "Solid");
  await expect(facets(page, "a").first()).toBeAttached();
}

/** Does something that must change the picture, and gives it as it is then. */
async function changed(page, before, act, words) {
  await act();
  await expect.poll(() => markup(page), words).not.toBe(before);
  return markup(page);
}

test("both rings are turned with the mouse", async ({ page }) => {
  await openSolids(page);
  await expect(facets(page, "a").nth(5)).toBeAttached();
  await expect(facets(page, "b").nth(5)).toBeAttached();
  await expect(told(page)).toHaveText("Turned −50°, tilted 20°.");
  const start = await markup(page);
  await picture(page).scrollIntoViewIfNeeded();
  const { x, y } = await middle(picture(page));
  await page.mouse.move(x, y);
  await page.mouse.down();
  // Half a degree for each pixel.
  await page.mouse.move(x + 60, y + 20, { steps: 4 });
  await expect(told(page), "while it is held").toHaveText("Turned −20°, tilted 30°.");
  await page.mouse.up();
  await page.mouse.move(x, y, { steps: 2 });
  await expect(told(page), "let go, it stays").toHaveText("Turned −20°, tilted 30°.");
  expect(await markup(page)).not.toBe(start);
  await expect(button(page, "Undo"), "looking is no change").toBeDisabled();
});

test("the keys and the buttons turn it, and each turn is announced", async ({ page }) => {
  await openSolids(page);
  const start = await markup(page);
  await picture(page).focus();
  await expect(picture(page), "what it stands at is told with its name").toHaveAccessibleDescription(
    "Turned −50°, tilted 20°.",
  );
  for (const [key, words] of [
    ["ArrowRight", "Turned −45°, tilted 20°."], ["ArrowLeft", "Turned −50°, tilted 20°."],
    ["ArrowDown", "Turned −50°, tilted 25°."], ["ArrowUp", "Turned −50°, tilted 20°."],
    ["Shift+ArrowLeft", "Turned −65°, tilted 20°."], ["Shift+ArrowUp", "Turned −65°, tilted 5°."],
  ]) {
    await page.keyboard.press(key);
    await expect(told(page), key).toHaveText(words);
  }
  expect(await markup(page)).not.toBe(start);
  await page.keyboard.press("Home");
  await expect(told(page)).toHaveText("Turned −50°, tilted 20°.");
  expect(await markup(page), "back to the very same").toBe(start);
  for (let steps = 0; steps < 8; steps += 1) await page.keyboard.press("Shift+ArrowDown");
  await expect(told(page), "never over the pole").toHaveText("Turned −50°, tilted 90°.");
  const seen = new Set();
  for (const [name, words] of [
    ["Side view", "Turned −90°, tilted 0°."], ["Dogs of A, face on", "Turned 0°, tilted 0°."],
    ["Dogs of B, face on", "Turned 180°, tilted 0°."], ["Three-quarter view", "Turned −50°, tilted 20°."],
  ]) {
    await button(page, name).click();
    await expect(told(page), name).toHaveText(words);
    seen.add(await markup(page));
  }
  expect(seen.size, "four different pictures").toBe(4);
  expect(await markup(page)).toBe(start);
});

test("Home turns the picture back and leaves the page where it is", async ({ page }) => {
  // Narrow enough for the page itself to scroll.
  await page.setViewportSize({ width: 900, height: 700 });
  await openSolids(page);
  await picture(page).focus();
  await page.keyboard.press("ArrowRight");
  await page.evaluate(() => scrollTo(0, 400));
  await page.keyboard.press("Home");
  await expect(told(page)).toHaveText("Turned −50°, tilted 20°.");
  // Two frames, in which a scroll would have begun.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  expect(await page.evaluate(() => scrollY)).toBe(400);
});

test("the phase turns ring A in the picture", async ({ page }) => {
  await openSolids(page);
  let now = await markup(page);
  const meanwhile = (act) => async () => {
    await showPicture(page, "Drawing");
    await act();
    await showPicture(page, "Solid");
  };
  now = await changed(page, now, meanwhile(async () => {
    await handle(page, "Face view", "phase_deg").focus();
    await page.keyboard.press("ArrowUp");
  }), "by a key on the handle");
  now = await changed(page, now, meanwhile(async () => {
    await pull(page, "Phase map", "phase_deg", by(60, 0));
    await page.mouse.up();
  }), "by dragging the handle");
  await go(page, "Dogs");
  await type(page, "phase_deg", "30");
  await go(page, "Plan");
  await showPicture(page, "Solid");
  now = await markup(page);
  await go(page, "Dogs");
  await type(page, "phase_deg", "50");
  await go(page, "Plan");
  await showPicture(page, "Solid");
  expect(await markup(page), "by the field").not.toBe(now);
  await go(page, "Dogs");
  await type(page, "phase_deg", "30");
  await go(page, "Plan");
  await showPicture(page, "Solid");
  expect(await markup(page), "and back").toBe(now);
});

test("as found and as cut differ once something is cut, and the rings are drawn apart", async ({ page }) => {
  await openSolids(page, { crenel: 1 });
  const [found, cut, both] = ["As found", "As cut", "Both"].map((name) => button(page, name));
  await expect(both, "nothing is planned").toHaveCount(0);
  await dogButton(page, "A2").click();
  const chosen = await markup(page);
  await changed(page, chosen, () => button(page, "Remove").click(), "the dog is gone");
  await expect(both).toHaveAttribute("aria-pressed", "true");
  await expect(picture(page).locator(".removed").first()).toBeAttached();
  await expect(picture(page).locator(".cut").first()).toBeAttached();
  await cut.click();
  await expect(picture(page).locator(".removed, .cut")).toHaveCount(0);
  const gone = await markup(page);
  await found.click();
  expect(await markup(page)).toBe(chosen);
  await cut.click();
  expect(await markup(page)).toBe(gone);

  await expect(apart(page)).toHaveValue("25");
  await changed(page, gone, () => apart(page).fill("50"), "further apart");
  await expect(apart(page)).toHaveAttribute("aria-valuetext", "50 mm apart");
  const box = await picture(page).getAttribute("viewBox");
  await apart(page).focus();
  await page.keyboard.press("Home");
  await expect(apart(page)).toHaveAttribute("aria-valuetext", "0 mm apart");
  expect(await picture(page).getAttribute("viewBox")).not.toBe(box);
  await page.keyboard.press("ArrowRight");
  await expect(apart(page)).toHaveAttribute("aria-valuetext", "1 mm apart");
});

test("a ring that cannot be worked out leaves the last picture", async ({ page }) => {
  await openSolids(page);
  const before = await markup(page);
  await go(page, "Dogs");
  await type(page, "A.tip_width_deg", "80");
  await expect(page.locator(".finding.error").first()).toBeVisible();
  await go(page, "Plan");
  await showPicture(page, "Solid");
  await expect(page.getByText("This is the last drawing that could be computed.")).toBeVisible();
  expect(await markup(page)).toBe(before);
});

// ---- files ----

const STEM = "t-invented";

/** Opens the menu and takes one file, as bytes. */
async function take(page, words) {
  await more(page);
  const [taken] = await Promise.all([page.waitForEvent("download"), button(page, words).click()]);
  return { name: taken.suggestedFilename(), bytes: await readFile(await taken.path()) };
}

/** Triangles of a binary STL, and the volume that they enclose. */
function readStl(bytes) {
  const count = bytes.readUInt32LE(80);
  expect(bytes.length, "80 of header, 4 of count, 50 for each triangle").toBe(84 + 50 * count);
  let six = 0;
  const edges = new Map();
  for (let at = 0; at < count; at += 1) {
    const corner = (which) => [0, 1, 2].map((axis) => bytes.readFloatLE(84 + 50 * at + 12 * (which + 1) + 4 * axis));
    const [a, b, c] = [corner(0), corner(1), corner(2)];
    six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
    for (const [from, to] of [[a, b], [b, c], [c, a]]) {
      const key = `${from}>${to}`;
      edges.set(key, (edges.get(key) ?? 0) + 1);
    }
  }
  const open = [...edges].filter(([key, times]) => times !== (edges.get(key.split(">").reverse().join(">")) ?? 0));
  expect(open, "every edge is met by its twin: the solid is closed").toEqual([]);
  return { count, volume: six / 6, header: bytes.subarray(0, 80).toString("latin1") };
}

// A web of 4 mm from 2 mm inside to 1 mm outside, and six dogs of 24° and 5 mm, from Ø44 to Ø60.
const WEB = Math.PI * (31 ** 2 - 20 ** 2) * 4;
const DOG = ((24 * Math.PI) / 180) * ((30 ** 2 - 22 ** 2) / 2) * 5;

test("takes both rings as STL, as found and as cut", async ({ page }) => {
  await openSolids(page);
  const volumes = {};
  for (const ring of ["A", "B"]) {
    const found = await take(page, `Ring ${ring}, as found (STL)`);
    const cut = await take(page, `Ring ${ring}, as cut, for a printed trial gauge (STL)`);
    expect([found.name, cut.name]).toEqual(
      ["found", "cut"].map((state) => `${STEM}-ring-${ring.toLowerCase()}-${state}.stl`),
    );
    const [was, is] = [readStl(found.bytes), readStl(cut.bytes)];
    expect(was.header).not.toMatch(/^solid/i);
    expect(was.header).toContain(`Ring ${ring}, as found`);
    expect(is.header).toContain(`Ring ${ring}, as cut`);
    expect(was.count).toBeGreaterThan(100);
    expect(is.volume, "a cut takes metal off").toBeLessThan(was.volume);
    volumes[ring] = [was.volume, was.volume - is.volume];
  }
  // Facets lie up to 0.01 mm inside the round faces.
  for (const ring of ["A", "B"]) expect(Math.abs(volumes[ring][0] / (WEB + 6 * DOG) - 1), ring).toBeLessThan(0.002);
  // Three dogs by half, and three flanks of 0.4 mm, 8 mm long, and 5 mm high; three dogs whole.
  expect(Math.abs(volumes.A[1] - (1.5 * DOG + 3 * 0.4 * 8 * 5))).toBeLessThan(2);
  expect(Math.abs(volumes.B[1] - 3 * DOG)).toBeLessThan(3);
});

test("takes a ring as STEP, its positions as CSV, and its drawing in five layers", async ({ page }) => {
  await openSolids(page);

  await test.step("STEP", async () => {
    const { name, bytes } = await take(page, "Ring A, solid as cut (STEP)");
    expect(name).toBe(`${STEM}-ring-a.step`);
    const text = bytes.toString("utf8");
    expect(text).toMatch(/^ISO-10303-21;/);
    expect(text.trimEnd()).toMatch(/END-ISO-10303-21;$/);
    expect(text.match(/MANIFOLD_SOLID_BREP\s*\(/g)).toHaveLength(1);
    expect(text).toContain("T (invented)");
  });

  await test.step("index positions", async () => {
    const { name, bytes } = await take(page, "Ring A, index positions (CSV)");
    expect(name).toBe(`${STEM}-ring-a-index.csv`);
    const [head, ...rows] = tableOf(bytes.toString("utf8")).map((line) => line.split(","));
    expect(head.slice(0, 3)).toEqual(["dog", "position_deg", "position_dms"]);
    expect(rows.map((row) => row[0])).toEqual([
      ...["A2", "A4", "A6"].map((dog) => `"operation 1: ${dog}"`),
      ...["A1", "A3", "A5"].map((dog) => `"operation 2: ${dog} coast"`),
    ]);
    for (const row of rows) expect(row).toHaveLength(head.length);
    const cell = (row, key) => Number(row[head.indexOf(key)]);
    const [a2] = rows;
    expect([
      cell(a2, "position_deg"),
      cell(a2, "head_ratio"),
      cell(a2, "datum_turns"),
      cell(a2, "table_ratio"),
      cell(a2, "handle_turns"),
    ]).toEqual([60, 40, 6, 90, 15]);
    expect(cell(a2, "datum_holes") / cell(a2, "circle_holes")).toBe(2 / 3);
  });

  await test.step("DXF", async () => {
    const { bytes } = await take(page, "Ring A, machining drawing (DXF)");
    const lines = bytes.toString("utf8").split(/\r?\n/).map((line) => line.trim());
    const pairs = [];
    for (let at = 0; at + 1 < lines.length; at += 2) pairs.push([lines[at], lines[at + 1]]);
    const layers = pairs.flatMap(([code, value], at) => {
      if (code !== "0" || value !== "LAYER") return [];
      return [pairs.slice(at + 1).find(([code]) => code === "2")[1]];
    });
    for (const layer of ["KEEP", "CUT", "DETAIL", "CENTRE", "NOTE"]) expect(layers).toContain(layer);
    const used = new Set(pairs.filter(([code]) => code === "8").map(([, value]) => value));
    for (const layer of ["KEEP", "CUT", "DETAIL", "CENTRE", "NOTE"])
      expect(used, `something is drawn on ${layer}`).toContain(layer);
    expect([...used].filter((layer) => !layers.includes(layer)), "no layer that is not declared").toEqual([]);
  });
});

test("positions of a ring without work give a sentence instead of a file", async ({ page }) => {
  await openSolids(page, { crenel: 1 });
  let taken = 0;
  page.on("download", () => { taken += 1; });
  await more(page);
  await button(page, "Ring A, index positions (CSV)").click();
  await expect(notice(page)).toContainText("Nothing on ring A has to be indexed. Under Plan, add work on single dogs");
  await expect(notice(page)).toHaveRole("alert");
  expect(taken).toBe(0);
});

test("the web of the solids is typed, and the files have it", async ({ page }) => {
  await openSolids(page, { crenel: 1, title: "T (invented)" });
  const before = await markup(page);
  const web = page.locator('.drawer input[data-slot="web_thickness_mm"]');
  await changed(page, before, async () => {
    await web.fill("8");
    await web.press("Enter");
  }, "a thicker web is seen");
  await expect(web).toHaveValue("8");
  const { volume } = readStl((await take(page, "Ring A, as found (STL)")).bytes);
  expect(Math.abs(volume / (2 * WEB + 6 * DOG) - 1)).toBeLessThan(0.002);
});

// A machinist prints the papers for the shop, and brings back what was measured.
import { execFile } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import {
  PAPER_AND_SLATE, PLANNED, button, expect, field, go, notice, open, openFile, panel, test, type, violations,
  violationsIn,
} from "./kit.mjs";

const sheet = (page, ring) => page.getByRole("article", { name: `Set-up sheet of ring ${ring}`, exact: true });
const table = (page, ring, name) => sheet(page, ring).getByRole("region", { name }).locator("tbody").getByRole("row");
const cells = (row) => row.locator("th, td");
const measured = (page, dog, what) => page.getByRole("textbox", { name: `Dog ${dog}: measured ${what}`, exact: true });
const takeOver = (page, ring) => button(page, `Use measured sizes, ring ${ring}`);
const plan = (page, ring) =>
  page.getByRole("group", { name: `Work on ring ${ring}`, exact: true }).getByRole("listitem");

async function openPapers(page, design = PLANNED) {
  await open(page);
  await openFile(page, "t.json", JSON.stringify(design));
  await expect(notice(page)).toContainText("” opened.");
  await go(page, "Sheets");
  await expect(sheet(page, "A")).toBeVisible();
}

// ---- what stands on them ----

test("every operation stands on its sheet, with the positions to index to", async ({ page }) => {
  await openPapers(page);
  await expect(sheet(page, "A").getByRole("heading", { level: 3 })).toHaveText("T (invented) – Ring A");
  await expect(cells(table(page, "A", "Operations").nth(0))).toHaveText([
    "1",
    "Shorten to 2.5 mm",
    "2 4 6",
    "653 mm³, 5.1 g",
    "–",
    "",
  ]);
  // 0.4 mm at Ø52 are 0.462 mm at Ø60.
  await expect(cells(table(page, "A", "Operations").nth(1))).toHaveText([
    "2",
    /^Narrow the coast flank by 0\.4 mm \(0\.9° at Ø52 mm\)$/,
    "1 3 5",
    "48 mm³, 0.4 g",
    "0.34 mm",
    "",
  ]);
  await expect(cells(table(page, "B", "Operations").nth(0))).toHaveText([
    "1",
    /^Remove/,
    "2 4 6",
    "1307 mm³, 10.3 g",
    "–",
    "",
  ]);

  await expect(table(page, "A", "Index table")).toHaveCount(6);
  const [a2, coast] = [
    await cells(table(page, "A", "Index table").nth(0)).allTextContents(),
    await cells(table(page, "A", "Index table").nth(3)).allTextContents(),
  ];
  expect([a2[0], a2[1], a2[2], a2[7]]).toEqual(["1", "A2", "60°", "15 + 0°00′00″"]);
  // 60° on 40:1 are 6 turns and two thirds, whichever circle does it.
  const [, turns, holes, circle] = a2[4].match(/^(\d+) \+ (\d+)\/(\d+)$/).map(Number);
  expect([turns, holes / circle]).toEqual([6, 2 / 3]);
  // Half of 24° less 0.4 mm at 26 mm.
  expect(coast.slice(0, 2)).toEqual(["2", "A1 coast"]);
  expect(Number.parseFloat(coast[2])).toBeCloseTo(12 - (0.4 / 26) * (180 / Math.PI), 4);
  await expect(sheet(page, "B")).toContainText(
    /Dividing head 40:1, 24-hole circle, plate 24–66: every position falls on a hole\. Rotary table 90:1\./,
  );
  await expect(cells(table(page, "B", "Index table").nth(0))).toHaveText([
    "1",
    "B2",
    "60°",
    "60°00′00″",
    "6 + 16/24",
    "6 + 16/24",
    "0",
    "15 + 0°00′00″",
  ]);
  await expect(cells(table(page, "B", "Index table").nth(1))).toHaveText([
    "1",
    "B4",
    "180°",
    "180°00′00″",
    "20 + 0/24",
    "13 + 8/24",
    "0",
    "45 + 0°00′00″",
  ]);

  for (const ring of ["A", "B"]) {
    const mind = sheet(page, ring)
      .getByRole("heading", { name: "Cautions", exact: true })
      .locator("xpath=..")
      .getByRole("listitem");
    await expect(mind.nth(5)).toBeAttached();
    await expect(mind.filter({ hasText: "can lock the rear wheel" })).toHaveCount(1);
    await expect(mind.filter({ hasText: "have a qualified shop" })).toHaveCount(1);
    await expect(sheet(page, ring).getByRole("img", { name: `Machining drawing of ring ${ring}` })).toBeVisible();
    expect(await sheet(page, ring).textContent()).not.toMatch(/\bsafe/i);
  }
  await expect(sheet(page, "A").getByRole("row", { name: /^Metal removed/ })).toContainText(
    "701 mm³, 5.5 g",
  );
});

test("a ring without a plan says so, and warnings come first", async ({ page }) => {
  await openPapers(page, { crenel: 1, a: { plan: [{ do: "remove", dogs: [2] }] } });
  await expect(sheet(page, "B")).toContainText("No cut planned on this ring.");
  await expect(sheet(page, "B").getByRole("region", { name: "Index table" })).toHaveCount(0);
  await expect(sheet(page, "A").getByRole("heading", { level: 4 }).first()).toHaveText("Check this first");
  await expect(sheet(page, "A").getByRole("heading", { level: 3 })).toHaveText("Untitled – Ring A");
});

test("the shop equipment changes the tables", async ({ page }) => {
  await openPapers(page);
  await page.getByText("Shop equipment", { exact: true }).click();
  await type(page, "dividing_ratio", "60");
  await expect(sheet(page, "B")).toContainText("Dividing head 60:1");
  await expect(cells(table(page, "B", "Index table").nth(0)).nth(4)).toHaveText(/^10 \+ 0\/\d+$/);
  await type(page, "table_ratio", "72");
  await expect(cells(table(page, "B", "Index table").nth(0)).nth(7)).toHaveText("12 + 0°00′00″");
  const tool = (name) => sheet(page, "A").getByRole("row", { name: new RegExp(`^${name}`) });
  await expect(tool("Widest cutter")).toContainText("The entered width of 8 mm fits");
  await type(page, "cut_width_mm", "14");
  await expect(tool("Widest cutter")).toContainText("The entered width of 14 mm does not fit");
  const most = async () => {
    const [, speed] = (await tool("Cut-off wheel").textContent()).match(/at most ([\d\u202f]+) rpm/);
    return Number(speed.replaceAll("\u202f", ""));
  };
  // 80 m/s at Ø125 mm are 12 223 rpm.
  expect(await most()).toBeLessThanOrEqual(12_223);
  expect(await most()).toBeGreaterThan(12_000);
  await type(page, "cut_wheel_diameter_mm", "250");
  await expect.poll(most).toBeLessThanOrEqual(6_111);
  await type(page, "dividing_ratio", "40.5");
  const told = page.locator(".shop-form .wrong").filter({ hasText: "40.5 is not a whole number" });
  await expect(told).toBeVisible();
  await expect(sheet(page, "B"), "nothing is lost").toContainText("Dividing head 60:1");
  for (let steps = 0; steps < 4; steps += 1) await button(page, "Undo").click();
  await expect(sheet(page, "B")).toContainText("Dividing head 40:1");
});

test("both rings are indexed on one plate of those that the shop has", async ({ page }) => {
  await openPapers(page);
  await page.getByText("Shop equipment", { exact: true }).click();
  const plates = page.getByRole("textbox", { name: "Index plates", exact: true });
  await expect(plates).toHaveValue(/^15 16 17 18 19 20; 21 23 /);
  // The narrowed flanks lie between holes: the error is told as an angle and along the rim of 30 mm.
  await expect(sheet(page, "A")).toContainText(/51-hole circle, plate 24–66: nearest holes, off by at most .+ at the rim/);
  await plates.fill("17; 20, 18");
  await plates.press("Tab");
  await expect(sheet(page, "A")).toContainText("18-hole circle, plate 18–20");
  await expect(sheet(page, "B")).toContainText("plate 18–20");
  const [, minutes, mm] = (await cells(table(page, "A", "Index table").nth(3)).nth(6).textContent())
    .match(/^(.+)′, (.+)\smm$/).map((text) => Number(text.replace("−", "-")));
  expect(mm).toBeCloseTo((minutes / 60) * (Math.PI / 180) * 30, 2);
  await plates.fill("18 holes");
  await plates.press("Tab");
  await expect(page.locator(".shop-form .wrong").filter({ hasText: "not a list of hole circles" })).toBeVisible();
  await expect(plates, "nothing is lost").toHaveValue("18 holes");
  await expect(sheet(page, "A")).toContainText("plate 18–20");
});

test("rings can be left out, and the button asks the browser to print", async ({ page }) => {
  await page.addInitScript(() => { window.print = () => { window.printed = (window.printed ?? 0) + 1; }; });
  await openPapers(page);
  await page.getByRole("checkbox", { name: "Ring A" }).uncheck();
  await expect(sheet(page, "A")).toHaveCount(0);
  await expect(sheet(page, "B")).toBeVisible();
  await page.getByRole("checkbox", { name: "Ring A" }).check();
  await expect(sheet(page, "A")).toBeVisible();
  await button(page, "Print the sheets").click();
  expect(await page.evaluate(() => window.printed)).toBe(1);
});

test("there are no sheets of what cannot be worked out", async ({ page }) => {
  await open(page);
  await openFile(page, "wide.json", JSON.stringify({ crenel: 1, a: { tip_width_deg: 80 } }));
  await go(page, "Sheets");
  await expect(page.getByText("No sheets: the design cannot be computed.")).toBeVisible();
  await expect(button(page, "Print the sheets")).toBeDisabled();
  await expect(sheet(page, "A")).toHaveCount(0);
});

test("a sheet says how to set up, how deep to cut and what to mind in this very cut", async ({ page }) => {
  const plan = [
    { do: "shorten", shorten_to_mm: 2.5, dogs: [2, 4, 6] },
    { do: "recut_drive", recut_to_deg: 3, dogs: [1] },
  ];
  await openPapers(page, { crenel: 1, notes: "Mark dog 1.\nWash first.", a: { plan } });
  const part = (name) =>
    sheet(page, "A").getByRole("heading", { name, exact: true }).locator("xpath=..");
  const steps = part("Setting up").getByRole("listitem");
  await expect(steps.first()).toContainText("Clock the bore to within 0.02 mm");
  await expect(steps.filter({ hasText: "drive flank at 348° and its coast flank at 12°" })).toHaveCount(1);
  // 5 mm · tan 3° is 0.26 mm.
  await expect(steps.filter({ hasText: "Operation 2: tilt the head by 3°" })).toContainText("set over by 0.26 mm");
  await expect(steps.filter({ hasText: "clears the next dog by" })).toHaveCount(1);
  await expect(cells(table(page, "A", "Depth of cut").first())).toHaveText(["1", "2 4 6", "2.5 mm", "2.5 mm", "2.5 mm"]);
  await page.getByText("Shop equipment", { exact: true }).click();
  await page.getByLabel("Depths from", { exact: true }).selectOption({ label: "Back of the web" });
  await expect(cells(table(page, "A", "Depth of cut").first())).toHaveText(["1", "2 4 6", "2.5 mm", "6.5 mm", "2.5 mm"]);
  await expect(part("Cautions of this cut").getByRole("listitem").first()).toContainText("Overheated steel");
  // 60·sin 12° is 12.475 mm.
  await expect(sheet(page, "A").locator(".chords li")).toHaveText([/^1, 2, 3, 4, 5, 6 of ring A: 12\.47/]);
  // 60·sin 18° is 18.541 mm.
  await expect(sheet(page, "A").locator(".gaps li")).toHaveText([/^1–2, 2–3, 3–4, 4–5, 5–6, 6–1 of ring A: 18\.54/]);
  await expect(sheet(page, "A").locator(".carrying li").first()).toHaveText(/^A1 drive: [\d.]+° ±0\.\d+°$/);
  await expect(sheet(page, "A").locator("ol.notes li")).toHaveText(["Mark dog 1.", "Wash first."]);
  await expect(sheet(page, "B").getByRole("heading", { name: "Cautions of this cut" })).toHaveCount(0);
});

// ---- what was measured ----

test("each size is judged as it is typed, and the figures are those as measured", async ({ page }) => {
  await openPapers(page);
  const cell = (dog, what) => measured(page, dog, what).locator("xpath=..");
  await measured(page, "A2", "dog height").pressSequentially("2.7");
  await expect(cell("A2", "dog height"), "no key is needed").toContainText("over: take another 0.2 mm off A2");
  await measured(page, "A4", "dog height").fill("2.3");
  await expect(cell("A4", "dog height")).toContainText("under by 0.2 mm");
  await measured(page, "A6", "dog height").fill("2.5");
  await expect(cell("A6", "dog height")).toContainText("good");
  await measured(page, "A1", "dog width").fill("wide");
  await expect(cell("A1", "dog width")).toContainText("Ring A, dog 1");
  await expect(measured(page, "A1", "dog width")).toHaveAttribute("aria-invalid", "true");
  await measured(page, "A1", "dog width").fill("");
  await expect(measured(page, "A1", "dog width")).toHaveAttribute("aria-invalid", "false");
  const got = sheet(page, "A").getByRole("region", { name: "Figures with ring A as measured" });
  await expect(got).toContainText("as planned");
  await expect(got).toContainText("as measured");
  await expect(got.getByRole("row").nth(2), "a figure that changed").toBeVisible();
  await expect(table(page, "A", "Operations"), "the plan is left alone").toHaveCount(2);
});

test("the bench check has its limits from the stack-up, and judges what is typed back", async ({ page }) => {
  const link = (name, size, way) => ({ name, size_mm: size, tolerance_mm: 0.05, ...(way ? { way } : {}) });
  await openPapers(page, {
    ...PLANNED,
    depth: { this: [link("wall to tips", 31.4, "opens"), link("circlip", 1.2, "takes"), link("wall to tips of A", 29, "takes")] },
  });
  await page.getByRole("checkbox", { name: "Bench check" }).check();
  const bench = page.getByRole("article", { name: "Bench check", exact: true });
  const row = bench.getByRole("row").filter({ hasText: "Clearance in neutral, this pair" });
  // 31.4 − 1.2 − 29 is 1.2 mm, less half of 0.2 mm of play, ±0.15 mm.
  await expect(row).toContainText("1.1 mm");
  await expect(row).toContainText("0.95 mm to 1.25 mm");
  await row.getByRole("textbox").fill("0.8");
  await row.getByRole("textbox").press("Tab");
  await expect(row).toContainText("0.15 mm too small");
  await row.getByRole("textbox").fill("1.1");
  await row.getByRole("textbox").press("Tab");
  await expect(row).toContainText("good");
  await expect(bench.getByRole("listitem").filter({ hasText: /: .+ ±/ })).toHaveText([
    "wall to tips: 31.4 mm ±0.05 mm, opens the clearance",
    "circlip: 1.2 mm ±0.05 mm, takes from it",
    "wall to tips of A: 29 mm ±0.05 mm, takes from it",
  ]);
});


test("measured values become the ring, wrong ones give a sentence, and undo brings the plan back", async ({ page }) => {
  await openPapers(page);
  await expect(takeOver(page, "A")).toBeDisabled();
  await measured(page, "A1", "dog width").fill("wide");
  await measured(page, "A2", "dog height").fill("80");
  await measured(page, "A3", "centre angle").fill("119.7");
  await measured(page, "A3", "centre angle").press("Tab");
  await takeOver(page, "A").click();
  const wrong = sheet(page, "A").locator(".wrong li");
  await expect(wrong).toHaveCount(2);
  await expect(wrong.nth(0)).toContainText("Ring A, dog 1, dog width");
  await expect(wrong.nth(1)).toContainText("Ring A, dog 2, dog height: 80 mm is outside the range 0.2 mm to 50 mm.");
  await expect(measured(page, "A1", "dog width"), "to be mended").toHaveValue("wide");
  await expect(table(page, "A", "Operations"), "the plan stands").toHaveCount(2);

  await measured(page, "A1", "dog width").fill("23.05");
  await measured(page, "A2", "dog height").fill("2.48 mm");
  await measured(page, "A2", "dog height").press("Tab");
  await takeOver(page, "A").click();
  await expect(notice(page)).toContainText("Ring A now has the measured sizes");
  await expect(wrong).toHaveCount(0);
  await expect(notice(page)).toContainText(
    "Done and removed from the plan: Narrow coast flank. Left in the plan where a size is still too large: Shorten.",
  );
  await expect(table(page, "A", "Operations"), "what is to a size stays").toHaveCount(1);
  await expect(measured(page, "A1", "dog width")).toHaveValue("");
  await expect(table(page, "B", "Operations"), "ring B keeps its plan").toHaveCount(1);

  await go(page, "Dogs");
  await expect(panel(page, "A").locator('[data-slot^="A"][data-slot$=".tip_width_deg"]')).toHaveCount(6);
  await expect(field(page, "A1.tip_width_deg")).toHaveValue("23.05");
  await expect(field(page, "A2.height_mm")).toHaveValue("2.48");
  await expect(field(page, "A3.centre_deg")).toHaveValue("119.7");
  await expect(field(page, "A4.height_mm"), "nominal where nothing was typed").toHaveValue("2.5");
  await go(page, "Plan");
  await expect(plan(page, "A")).toHaveCount(1);
  await expect(plan(page, "A")).toContainText("Removes nothing more.");
  await button(page, "Undo").click();
  await expect(plan(page, "A")).toHaveCount(2);
  await go(page, "Dogs");
  await expect(field(page, "A1.tip_width_deg")).toHaveCount(0);
  await expect(field(page, "A.tip_width_deg")).toHaveValue("24");
});

test("measured values are typed and taken over by keyboard alone", async ({ page }) => {
  await openPapers(page);
  await measured(page, "A1", "centre angle").focus();
  for (const text of ["359.6", "23.1", "4.97", "0", "0", "0.2"]) {
    await page.keyboard.type(text);
    await page.keyboard.press("Tab");
  }
  await expect(measured(page, "A2", "centre angle"), "Tab goes along the row and on to the next dog").toBeFocused();
  await expect(measured(page, "A1", "edge break")).toHaveValue("0.2");
  for (let steps = 0; steps < 40; steps += 1) {
    if (await takeOver(page, "A").evaluate((at) => at === document.activeElement)) break;
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("Enter");
  await expect(notice(page)).toContainText("Ring A now has the measured sizes");
  await go(page, "Dogs");
  await expect(field(page, "A1.height_mm")).toHaveValue("4.97");
});

test("the mouse takes over a value that was just typed", async ({ page }) => {
  await openPapers(page);
  const entry = measured(page, "A6", "dog width");
  await takeOver(page, "A").scrollIntoViewIfNeeded();
  await entry.click();
  await page.keyboard.type("23.05");
  const { x, y, width, height } = await takeOver(page, "A").boundingBox();
  await page.mouse.click(x + width / 2, y + height / 2);
  await expect(notice(page)).toContainText("Ring A now has the measured sizes");
});

test("what is typed as measured is still there after a look at another part of the job", async ({ page }) => {
  await openPapers(page);
  await measured(page, "A1", "dog width").fill("23.05");
  await measured(page, "A1", "dog width").press("Tab");
  await page.getByRole("checkbox", { name: "Ring A" }).uncheck();
  await page.getByRole("checkbox", { name: "Ring A" }).check();
  await expect.soft(measured(page, "A1", "dog width"), "after the ring was left out").toHaveValue("23.05");
  await go(page, "Dogs");
  await go(page, "Sheets");
  await expect.soft(measured(page, "A1", "dog width"), "after a look at the rings").toHaveValue("23.05");
});

// ---- on paper ----

const A4 = [210, 297];
const LETTER = [215.9, 279.4];
const reader = fileURLToPath(new URL("papers.py", import.meta.url));
const python = fileURLToPath(new URL("../../target/venv/bin/python", import.meta.url));

/** Prints the page and reads it back with a foreign reader. */
async function printed(page) {
  const folder = await mkdtemp(join(tmpdir(), "crenel-papers-"));
  try {
    const file = join(folder, "papers.pdf");
    await writeFile(file, await page.pdf({ preferCSSPageSize: true }));
    const { stdout } = await promisify(execFile)(python, [reader, file], { maxBuffer: 1 << 26 });
    return JSON.parse(stdout);
  } finally {
    await rm(folder, { recursive: true });
  }
}

const flat = (pages) => pages.map(({ text }) => text).join(" ").replace(/\s+/g, " ");

/** What holds for every print: the paper, the margins, something on every page, and one true square for each ring. */
function expectSound(pages, [width, height], { rings = 2, most }) {
  expect(pages.length).toBeGreaterThanOrEqual(rings);
  expect(pages.length, "no more paper than it takes").toBeLessThanOrEqual(most);
  for (const [at, { size, white, ink, text }] of pages.entries()) {
    const name = `page ${at + 1}`;
    expect(Math.abs(size[0] - width), name).toBeLessThan(0.3);
    expect(Math.abs(size[1] - height), name).toBeLessThan(0.3);
    expect(text.trim().length, `${name} says something`).toBeGreaterThan(40);
    expect(ink, `${name} is black on white`).toBeLessThan(0.25);
    // Of 12 mm; an edge is a line wide and an arrow may reach half of that.
    // The number of the page stands in the one below.
    for (const [edge, mm] of Object.entries(white))
      expect(mm, `${name}, ${edge} margin`).toBeGreaterThan(edge === "bottom" ? 4 : 11.5);
    expect(text, name).toContain(`Page ${at + 1} of ${pages.length}`);
  }
  const squares = pages.flatMap(({ squares }) => squares);
  expect(squares, "one square for each ring").toHaveLength(rings);
  for (const { vector, picture } of squares) {
    for (const edge of vector) expect(Math.abs(edge - 10), `vectors: ${vector}`).toBeLessThan(0.05);
    // A line of a picture of 600 dpi is 0.04 mm.
    for (const edge of picture) expect(Math.abs(edge - 10), `picture: ${picture}`).toBeLessThan(0.1);
  }
}

const round = (pages) => Math.max(...pages.flatMap(({ ring }) => ring));

async function choosePaper(page, name) {
  await page.getByRole("combobox", { name: "Paper", exact: true }).selectOption({ label: name });
}

test("comes out of the printer at true size, on A4 and US letter", async ({ page }) => {
  await openPapers(page);
  await measured(page, "A1", "dog width").fill("23.0517");
  await measured(page, "A1", "dog width").press("Tab");
  for (const [name, size] of [["A4", A4], ["US letter", LETTER]]) {
    await test.step(name, async () => {
      await choosePaper(page, name);
      const pages = await printed(page);
      expectSound(pages, size, { most: 6 });
      expect(Math.abs(round(pages) - 60), "the rim at true size").toBeLessThan(0.1);
      const text = flat(pages);
      for (const words of [
        "T (invented) – Ring A",
        "T (invented) – Ring B",
        "Scale 1:1. The square measures 10 mm.",
        "Ø60",
        "10 mm",
        "Shorten to 2.5 mm",
        "Narrow the coast flank by 0.4 mm",
        "Remove down to the web",
        "6 + 16/24",
        "15 + 0°00′00″",
        "can lock the rear wheel at speed",
        "have a qualified shop",
        "Inspection after cutting",
      ])
        expect(text).toContain(words);
      // It stands furthest to the right, and its letters have a white rim, which a reader takes for letters too.
      expect(text, "the drawing is whole").toMatch(/d+a+t+u+m+ 0+°/);
      expect(text, "what was measured is printed too").toContain("23.0517");
      expect(text).not.toMatch(/\bsafe/i);
      const ofPage = ["Print the sheets", "Shop equipment", "Use measured", "Undo", "Share", "Sheets"];
  for (const words of ofPage) {
        expect(text, "nothing to press on paper").not.toContain(words);
      }
      // A caution is not torn from its sheet: each ring has all of them.
      expect(text.match(/Wash out all grit/g)).toHaveLength(2);
    });
  }
  await page.getByRole("checkbox", { name: "Ring A" }).uncheck();
  const alone = await printed(page);
  expectSound(alone, LETTER, { rings: 1, most: 3 });
  expect(flat(alone)).not.toContain("Ring A");
  expect(flat(alone)).toContain("T (invented) – Ring B");
});

test("no table begins at the foot of a page", async ({ page }) => {
  await openPapers(page);
  await page.getByRole("checkbox", { name: "Bench check" }).check();
  const pages = await printed(page);
  const begins = {
    "Operations, in this order": "Shorten to 2.5 mm",
    "Depth of cut": "2 4 6",
    "Index table": "6 + 34/51",
    "Inspection after cutting": "A3",
    "With the case open": "Neutral",
  };
  for (const [head, row] of Object.entries(begins)) {
    const on = pages.find(({ text }) => text.replace(/\s+/g, " ").includes(head));
    expect(on?.text.replace(/\s+/g, " ").split(head).at(-1), head).toContain(row);
  }
});

test("a large ring is drawn smaller, and the square is still true", async ({ page }) => {
  const large = (ring) => ({ inner_diameter_mm: 150, outer_diameter_mm: 180, ...ring });
  await openPapers(page, { ...PLANNED, a: large(PLANNED.a), b: large(PLANNED.b) });
  for (const [name, size] of [["A4", A4], ["US letter", LETTER]]) {
    await choosePaper(page, name);
    const pages = await printed(page);
    expectSound(pages, size, { most: 6 });
    expect(flat(pages)).toContain(
      "Scale 1:2: the ring is too large for this paper at true size. The square still measures 10 mm.",
    );
    expect(Math.abs(round(pages) - 90), "the rim at half size").toBeLessThan(0.1);
  }
});

test.describe("dark", () => {
  test.use({ colorScheme: "dark" });

  test("a long plan on many dogs under a long title is not cut off either", async ({ page }) => {
    const dogs = Array.from({ length: 24 }, (_, at) => at + 1);
    const many = {
      count: 24, tip_width_deg: 6, inner_diameter_mm: 88, outer_diameter_mm: 104,
      plan: [
        { do: "shorten", shorten_to_mm: 2.345, dogs: dogs.filter((dog) => dog % 2 === 0) },
        { do: "narrow_drive", flank_stock_mm: 0.123, dogs },
        { do: "narrow_coast", flank_stock_mm: 0.123, dogs },
        { do: "lap", lap_stock_mm: 0.015 },
        { do: "break", break_to_mm: 0.35, dogs },
      ],
    };
    const title = "Unbrokenlongwordinatitle".repeat(5);
    await openPapers(page, {
      crenel: 1,
      title,
      initials: "QX",
      notes: `${"Many words. ".repeat(30)}${"w".repeat(120)}`,
      a: many,
      b: many,
    });
    const pages = await printed(page);
    expectSound(pages, A4, { most: 12 });
    const text = flat(pages);
    expect(text.replaceAll(" ", "")).toContain(title);
    for (const words of ["A24", "B24", "Lap the tips on a plate", "Break the tip edges", "QX"])
      expect(text).toContain(words);
    // Every dog is indexed once for each of the three operations that need it, and inspected once.
    expect(text.match(/\bA24 coast\b/g)).toHaveLength(1);
    // A flank that carries has its limits besides.
    expect(text.match(/\bA23 drive\b/g)).toHaveLength(2);
  });
});

// ---- everybody ----

test("nobody is shut out of Sheets", async ({ page }) => {
  await openPapers(page);
  await page.getByText("Shop equipment", { exact: true }).click();
  await measured(page, "A1", "dog width").fill("wide");
  await measured(page, "A1", "dog width").press("Tab");
  await takeOver(page, "A").click();
  await expect(sheet(page, "A").locator(".wrong li")).toHaveCount(1);
  expect.soft(await violationsIn(page, PAPER_AND_SLATE), "wide").toEqual([]);
  await page.setViewportSize({ width: 390, height: 844 });
  expect.soft(await violations(page), "390 px").toEqual([]);
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test("the sheets are read and filled in, and the page does not scroll sideways", async ({ page }) => {
    const sideways = () =>
      page.evaluate(() => document.scrollingElement.scrollWidth - document.documentElement.clientWidth);
    await openPapers(page, { ...PLANNED, title: "Unbrokenlongwordinatitle".repeat(5) });
    expect(await sideways()).toBeLessThanOrEqual(0);
    await page.getByText("Shop equipment", { exact: true }).tap();
    await measured(page, "A1", "dog width").fill("not-a-number".repeat(8));
    await measured(page, "A1", "dog width").press("Tab");
    await takeOver(page, "A").tap();
    await expect(sheet(page, "A").locator(".wrong li")).toHaveCount(1);
    expect(await sideways(), "with everything open and a sentence").toBeLessThanOrEqual(0);
    const low = await page
      .getByRole("region", { name: "Sheets", exact: true })
      .locator("button, input:not([type=checkbox]), select, summary")
      .evaluateAll((all) =>
        all
          .filter((at) => at.checkVisibility() && at.getBoundingClientRect().height < 44)
          .map(
            (at) =>
              `${at.tagName} ${at.getAttribute("aria-label") ?? at.textContent.trim()}: ` +
                `${at.getBoundingClientRect().height}`,
          ),
      );
    expect(low, "fits a finger").toEqual([]);
  });
});

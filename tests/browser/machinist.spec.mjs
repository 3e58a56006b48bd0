// A machinist looks at the example, cuts dogs, and takes the drawings to the machine.
import {
  button, dog, dogButton, download, EXAMPLE, expect, figure, finding, keptLink, more, now, open, same, tableOf, test,
  title, type, verdict, view, was,
} from "./kit.mjs";

test("reads the example, cuts one ring for nothing and both for a gain", async ({ page }) => {
  await open(page);
  await expect(title(page)).toHaveValue(EXAMPLE);
  await expect(now(page, "free_angle_deg")).toHaveText("12°");
  await expect(now(page, "entry_windows")).toHaveText("6");
  const lash = await now(page, "lash_deg").textContent();

  await dog(page, "A2").click();
  await expect(page.getByText("Dog A2: 5 mm high")).toBeVisible();
  await button(page, "Shorten").click();
  await same(page, "for every second dog").click();
  await expect(dogButton(page, "A4")).toHaveAccessibleName(/shortened to 2\.5 mm$/);
  await expect(finding(page, "nothing_gained")).toContainText(/Only ring A is cut.*6 × .*Nothing is gained/);
  await expect(was(page, "free_angle_deg")).toBeEmpty();

  await same(page, "cuts on ring B").click();
  await expect(finding(page, "nothing_gained")).toHaveCount(0);
  await expect(now(page, "free_angle_deg")).toHaveText("72°");
  await expect(was(page, "free_angle_deg")).toHaveText("12° →");
  await expect(verdict(page, "free_angle_deg")).toHaveText("better");
  await expect(now(page, "entry_windows")).toHaveText("3");
  await expect(now(page, "lash_deg")).toHaveText(lash);
  await expect(was(page, "lash_deg")).toBeEmpty();
});

test("sees lash grow when the dogs come off whole", async ({ page }) => {
  await open(page);
  await dog(page, "A2").click();
  await button(page, "Remove").click();
  await same(page, "for every second dog").click();
  await same(page, "cuts on ring B").click();
  await expect(now(page, "free_angle_deg")).toHaveText("72°");
  await expect(verdict(page, "lash_deg")).toHaveText("worse");
  // A dog that is gone is still there to be chosen and kept.
  await dog(page, "A4").click();
  await expect(page.getByText("Dog A4: removed")).toBeVisible();
  await button(page, "Keep").click();
  await expect(dogButton(page, "A4")).toHaveAccessibleName(/5 mm high$/);
});

test("chooses a dog in the unrolled view, and of ring B", async ({ page }) => {
  await open(page);
  await dog(page, "B3", "Developed view").click();
  await expect(page.getByText("Dog B3: 5 mm high")).toBeVisible();
  await dog(page, "B5").click();
  await expect(page.getByText("Dog B5: 5 mm high")).toBeVisible();
  await expect(dogButton(page, "B5")).toHaveAttribute("aria-pressed", "true");
  await expect(same(page, "cuts on ring A")).toBeVisible();
});

test("steps back one gesture at a time, and forward again", async ({ page }) => {
  await open(page);
  const [undo, redo] = [button(page, "Undo"), button(page, "Redo")];
  await expect(undo).toBeDisabled();
  await dog(page, "A2").click();
  await expect(undo, "choosing is no change").toBeDisabled();
  await button(page, "Shorten").click();
  await same(page, "for every second dog").click();
  await same(page, "cuts on ring B").click();

  await undo.click();
  await expect(now(page, "free_angle_deg")).toHaveText("12°");
  await expect(dogButton(page, "A4")).toHaveAttribute("data-state", "short");
  await undo.click();
  await expect(dogButton(page, "A4")).toHaveAttribute("data-state", "kept");
  await expect(dogButton(page, "A2")).toHaveAttribute("data-state", "short");
  await undo.click();
  await expect(dogButton(page, "A2")).toHaveAttribute("data-state", "kept");
  await expect(undo).toBeDisabled();

  for (let step = 0; step < 3; step += 1) await redo.click();
  await expect(redo).toBeDisabled();
  await expect(now(page, "free_angle_deg")).toHaveText("72°");
});

test("drops all cuts in one step", async ({ page }) => {
  await open(page);
  await expect(button(page, "Clear the whole plan")).toBeDisabled();
  await dog(page, "A2").click();
  await button(page, "Remove").click();
  await same(page, "cuts on ring B").click();
  await button(page, "Clear the whole plan").click();
  await expect(figure(page, "a_cut_off_mass_g").locator(".now").first()).toHaveText("0 g");
  await button(page, "Undo").click();
  await expect(dogButton(page, "B2")).toHaveAttribute("data-state", "gone");
});

test("sets the height that is left", async ({ page }) => {
  await open(page);
  await dog(page, "A2").click();
  await button(page, "Shorten").click();
  const left = page.getByRole("textbox", { name: "New height" });
  await expect(left).toHaveValue("2.5");
  await left.fill("1.75");
  await left.press("Enter");
  await expect(page.getByText("Dog A2: shortened to 1.75 mm")).toBeVisible();
});

// ---- for the machine ----

const STEM = "hill-climb-single-second-gear-invented";

/** Opens the menu and takes one file. */
async function take(page, words) {
  await more(page);
  const file = await download(page, () => button(page, words).click());
  await expect(page.locator("header details.menu[open]"), "the menu closes").toHaveCount(0);
  return file;
}

/** The texts of a drawing file, in their order. */
function dxfTexts(dxf) {
  const lines = dxf.split(/\r?\n/);
  return lines.filter((_, at) => at % 2 === 1 && lines[at - 1].trim() === "1");
}

const svgTexts = (svg) => [...svg.matchAll(/<text[^>]*>\s*([^<]*?)\s*<\/text>/g)].map(([, text]) => text);

test("takes a cut ring as DXF and SVG, the positions, and all numbers", async ({ page }) => {
  await open(page);
  await dog(page, "A2").click();
  await button(page, "Shorten").click();
  const link = `${new URL(page.url()).origin}/#${await keptLink(page)}`;

  await test.step("DXF with its link", async () => {
    const { name, text } = await take(page, "Ring A, machining drawing (DXF)");
    expect(name).toBe(`${STEM}-ring-a.dxf`);
    expect(text).toMatch(/^ *0\r?\nSECTION\r?\n/);
    expect(text).toMatch(/ *0\r?\nEOF\s*$/);
    expect(dxfTexts(text).join("")).toContain(link);
  });

  await test.step("SVG at true size with its link", async () => {
    const { name, text } = await take(page, "Ring A, machining drawing (SVG)");
    expect(name).toBe(`${STEM}-ring-a.svg`);
    const [, width] = text.match(/<svg[^>]*\swidth="([\d.]+)mm"/);
    expect(Number(width)).toBeGreaterThan(60);
    expect(text).toContain(`viewBox="0 0 ${width} `);
    expect(svgTexts(text).join("")).toContain(link);
  });

  await test.step("positions as CSV", async () => {
    const { name, text } = await take(page, "Dog positions (CSV)");
    expect(name).toBe(`${STEM}-dogs.csv`);
    const [head, ...rows] = tableOf(text).map((line) => line.split(","));
    expect(head.slice(0, 4)).toEqual(["ring", "dog", "do", "centre_deg"]);
    expect(rows.map((row) => row.slice(0, 4).join(" "))).toEqual([
      "A 1 keep 0", "A 2 shorten 60", "A 3 keep 120", "A 4 keep 180", "A 5 keep 240", "A 6 keep 300",
      "B 1 keep 0", "B 2 keep 60", "B 3 keep 120", "B 4 keep 180", "B 5 keep 240", "B 6 keep 300",
    ]);
  });

  await test.step("numbers as JSON, the same as on the screen", async () => {
    const { name, text } = await take(page, "All numbers and findings (JSON)");
    expect(name).toBe(`${STEM}-report.json`);
    const report = JSON.parse(text);
    expect(report).toMatchObject({ crenel_report: 1, title: EXAMPLE, computed: true });
    expect(report.figures.free_angle_deg).toBeCloseTo(12, 9);
    expect(report.findings.map((found) => found.code)).toContain("nothing_gained");
    expect(Object.keys(report.figures)).toHaveLength(await page.locator("[data-key]").count());
  });
});

test("takes the three views as SVG", async ({ page }) => {
  await open(page);
  for (const [words, ending] of [
    ["Face view (SVG)", "face"],
    ["Developed view (SVG)", "unrolled"],
    ["Phase map (SVG)", "phase-map"],
  ]) {
    const { name, text } = await take(page, words);
    expect(name).toBe(`${STEM}-${ending}.svg`);
    expect(text).toMatch(/<svg[^>]*\swidth="[\d.]+mm"/);
  }
});

test("every drawing follows a cut, an undo and a typed size", async ({ page }) => {
  await open(page);
  const titles = ["Face view", "Developed view", "Phase map"];
  const drawings = () => Promise.all(titles.map((title) => view(page, title).locator("g").first().innerHTML()));
  const acts = [
    () => button(page, "Shorten").click(),
    () => button(page, "Undo").click(),
    () => type(page, "A.tip_width_deg", "20"),
    () => button(page, "Undo").click(),
    () => button(page, "Remove").click(),
  ];
  await dogButton(page, "A1").click();
  let before = await drawings();
  for (const act of acts) {
    await act();
    for (const [at, title] of titles.entries()) {
      await expect.poll(async () => (await drawings())[at], `${title} follows`).not.toBe(before[at]);
    }
    before = await drawings();
  }
});

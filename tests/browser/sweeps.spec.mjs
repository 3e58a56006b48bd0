// Sweeps of a figure under Compare, figures for papers, and references: a student's report.
import { execFileSync } from "node:child_process";
import { readFile, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { button, expect, go, open, PAPER_AND_SLATE, picture, putUp, test, violationsIn } from "./kit.mjs";

const chart = (page) => page.locator(".swept-chart");

async function openSweep(page) {
  await open(page);
  await go(page, "Compare");
  await page.locator(".sweep > summary").click();
  await expect(chart(page).locator("svg path").first()).toBeAttached();
  await expect(button(page, "Save sweep as CSV")).toBeEnabled({ timeout: 20_000 });
}

/** The text of the file that a press saves. */
async function saved(page, press) {
  const [download] = await Promise.all([page.waitForEvent("download"), press()]);
  return { name: download.suggestedFilename(), path: await download.path() };
}

test("dogs are swept, drawn, listed and saved with what they mean", async ({ page }) => {
  await openSweep(page);
  await expect(chart(page).locator("figcaption")).toContainText("Straight-in limit over dog positions");
  await page.getByText("Sweep as a table").click();
  const rows = page.locator(".sweep table tbody tr");
  await expect(rows).toHaveCount(23);
  await expect(rows.nth(2)).toContainText("875 rpm");
  await expect(page.locator(".sweep tr[aria-current]")).toContainText("6");
  const file = await saved(page, () => button(page, "Save sweep as CSV").click());
  const lines = (await readFile(file.path, "utf8")).trim().split("\r\n");
  const head = lines.filter((line) => line.startsWith("#"));
  expect(head.join("\n")).toContain("straight_in_limit_rpm in rpm");
  expect(head.join("\n")).toContain("Tip friction: 0.1");
  expect(lines.length - head.length).toBe(24);
});

test("a second input gives a curve for each of its values", async ({ page }) => {
  await openSweep(page);
  await page.getByRole("combobox", { name: "Second input" }).selectOption({ label: "Holding depth" });
  await expect(button(page, "Save sweep as CSV")).toBeEnabled({ timeout: 30_000 });
  await page.getByText("Sweep as a table").click();
  await expect(page.locator(".sweep thead th")).toHaveCount(6);
  expect(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
});

/** A map of the straight-in limit over the number of dogs and their width. */
async function openMap(page) {
  await openSweep(page);
  await page.getByRole("combobox", { name: "Second input" }).selectOption({ label: "Dog width" });
  await page.getByRole("combobox", { name: "Drawn as" }).selectOption({ label: "a map" });
  await expect(button(page, "Save sweep as CSV")).toBeEnabled({ timeout: 40_000 });
  await expect(chart(page).locator(".band").first()).toBeAttached();
}

test("two inputs make a map with its key, the design's point, a table and a file", async ({ page }) => {
  test.setTimeout(120_000);
  await openMap(page);
  await expect(chart(page).locator("figcaption")).toContainText("Straight-in limit over dog positions and dog width");
  // Each band is once on the map and once in the key, and its number is on the line as well as in the key.
  const bands = await chart(page).locator(".band").count();
  expect(bands).toBeGreaterThanOrEqual(8);
  const words = await chart(page).locator("text").allTextContents();
  const twice = words.filter((word, at) => /^\d+$/.test(word) && words.indexOf(word) !== at);
  expect(twice.length).toBeGreaterThanOrEqual(bands / 2 - 1);
  await expect(chart(page).locator(".state").last()).toBeAttached();
  await page.getByText("Sweep as a table").click();
  const heads = await page.locator(".sweep thead th").count();
  expect(heads).toBeGreaterThan(4);
  expect(heads).toBeLessThanOrEqual(10);
  const file = await saved(page, () => button(page, "Save sweep as CSV").click());
  const lines = (await readFile(file.path, "utf8")).trim().split("\r\n").filter((line) => !line.startsWith("#"));
  expect(lines.length).toBe(24);
  expect(lines[0].split(",").length).toBe(34);
  expect(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
  await page.getByRole("button", { name: /^Save as a figure: Straight-in limit over/ }).click();
  const sheet = page.locator("dialog[open]");
  await sheet.getByRole("combobox", { name: "Ink" }).selectOption({ label: "black and white" });
  const svg = await readFile((await saved(page, () => sheet.getByRole("button", { name: "Save SVG" }).click())).path, "utf8");
  expect(svg).toContain('class="band"');
  expect(svg).not.toContain("#7b2e8c");
});

test("a map fits a phone", async ({ page }) => {
  test.setTimeout(120_000);
  await page.setViewportSize({ width: 390, height: 844 });
  await openMap(page);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  const box = await chart(page).locator("svg").boundingBox();
  expect(box.width).toBeGreaterThan(300);
});

test("a chart becomes a figure of a column, in greys, with its caption", async ({ page }) => {
  await openSweep(page);
  await page.getByRole("button", { name: /^Save as a figure: Straight-in limit over/ }).click();
  const sheet = page.locator("dialog[open]");
  await expect(sheet.getByRole("img")).toBeVisible();
  await sheet.getByRole("combobox", { name: "Ink" }).selectOption({ label: "black and white" });
  const file = await saved(page, () => sheet.getByRole("button", { name: "Save SVG" }).click());
  const svg = await readFile(file.path, "utf8");
  expect(svg).toContain('width="85mm"');
  expect(svg).toContain("Calculated with Crenel");
  expect(svg).toContain("Straight-in limit over dog positions.");
  expect(svg).not.toContain("#7b2e8c");
  const picture = await saved(page, () => sheet.getByRole("button", { name: "Save PNG" }).click());
  const png = await readFile(picture.path);
  // 85 mm at four times 96 pixels an inch.
  expect(png.readUInt32BE(16)).toBe(Math.round((85 * 4 * 96) / 25.4));
  expect(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
});

test("a drawing of the pair becomes a figure, too", async ({ page }) => {
  await open(page);
  await page.locator(".view.face .beside summary").click();
  await page.getByRole("button", { name: "Save as a figure: Face view" }).click();
  const sheet = page.locator("dialog[open]");
  await sheet.getByRole("combobox", { name: "Width" }).selectOption({ label: "175 mm, a page" });
  const file = await saved(page, () => sheet.getByRole("button", { name: "Save SVG" }).click());
  expect(await readFile(file.path, "utf8")).toContain('width="175mm"');
});

test("a figure is as wide as so many pixels", async ({ page }) => {
  await open(page);
  await page.locator(".view.face .beside summary").click();
  await page.getByRole("button", { name: "Save as a figure: Face view" }).click();
  const sheet = page.locator("dialog[open]");
  await sheet.getByRole("combobox", { name: "Width" }).selectOption({ label: "in pixels" });
  const across = sheet.getByRole("textbox", { name: "Pixels across" });
  await across.fill("480");
  await across.press("Enter");
  const svg = await readFile((await saved(page, () => sheet.getByRole("button", { name: "Save SVG" }).click())).path, "utf8");
  expect(svg).toContain(' width="480px"');
  expect(svg).toContain('viewBox="0 0 127 ');
  await sheet.getByRole("combobox", { name: "Pixels of the PNG" }).selectOption({ label: "2 × (192 dpi)" });
  const png = await readFile((await saved(page, () => sheet.getByRole("button", { name: "Save PNG" }).click())).path);
  expect(png.readUInt32BE(16)).toBe(960);
  await across.fill("a lot");
  await across.press("Enter");
  await expect(across, "what is no number brings the usual width back").toHaveValue("600");
});

/** Share of dots that are ink where a reader without any font draws an SVG file, by resvg. */
const READ_SVG = `
import io, sys
import numpy as np, resvg_py
from PIL import Image
svg = open(sys.argv[1], encoding="utf-8").read()
png = resvg_py.svg_to_bytes(svg_string=svg, dpi=254, background="#ffffff", skip_system_fonts=True)
print((np.asarray(Image.open(io.BytesIO(bytes(png))).convert("L")) < 128).mean())
`;

test("words become outlines that need no font, fetched when they are wanted", async ({ page }, info) => {
  const fetched = [];
  page.on("request", (request) => fetched.push(request.url()));
  await open(page);
  await page.locator(".view.face .beside summary").click();
  await page.getByRole("button", { name: "Save as a figure: Face view" }).click();
  const sheet = page.locator("dialog[open]");
  const save = async (name) => {
    const file = info.outputPath(name);
    const { path } = await saved(page, () => sheet.getByRole("button", { name: "Save SVG" }).click());
    await writeFile(file, await readFile(path));
    return file;
  };
  const words = await save("words.svg");
  expect(fetched.filter((url) => url.endsWith("letters.txt"))).toEqual([]);
  await sheet.getByRole("combobox", { name: "Words" }).selectOption({ label: "as outlines" });
  await expect.poll(() => fetched.filter((url) => url.endsWith("letters.txt")).length).toBe(1);
  await expect.poll(async () => (await sheet.getByRole("img").getAttribute("src")).includes("letters")).toBe(true);
  const outlines = await save("outlines.svg");
  expect(await readFile(outlines, "utf8")).not.toContain("<text");
  const ink = (file) => Number(execFileSync(PYTHON, ["-c", READ_SVG, file], { encoding: "utf8" }));
  // Without a font a file with words shows none of them.
  expect(ink(outlines)).toBeGreaterThan(ink(words) * 1.1);
  expect(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
});

test("sources stand in Help with their links, and are copied as text", async ({ page, context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await open(page);
  await page.keyboard.press("?");
  const list = page.locator(".help ol.references > li");
  await expect(list).not.toHaveCount(0);
  const links = await page.locator(".help ol.references a").evaluateAll((all) => all.map((link) => link.href));
  expect(links.length).toBeGreaterThanOrEqual(6);
  for (const link of links) expect(link).toMatch(/^https:\/\/(www\.iso\.org\/standard\/\d+\.html|doi\.org\/10\.)/);
  await button(page, "Copy the sources as text").click();
  const text = await page.evaluate(() => navigator.clipboard.readText());
  expect(text.trim().split("\n").length).toBe(await list.count());
  expect(text).toContain("ISO 21940-11:2016");
  expect(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
});

test("a student's report: a story's answer, three figures, a table and a reference", async ({ page }) => {
  test.setTimeout(120_000);
  await open(page, "./#/learn.doors");
  await button(page, "Show the answer").click();
  await expect(page.locator(".story .answer")).toContainText("875 rpm");
  const files = [];
  const figure = async (name) => {
    await page.getByRole("button", { name }).click();
    files.push(await saved(page, () => page.locator("dialog[open]").getByRole("button", { name: "Save SVG" }).click()));
    await page.locator("dialog[open]").getByRole("button", { name: "Close" }).click();
  };
  await figure(/^Save as a figure: Face view/);
  await button(page, "Open as my design").click();
  await putUp(page);
  await page.locator(".view.face .beside summary").click();
  await figure("Save as a figure: Face view");
  await go(page, "Compare");
  await page.locator(".sweep > summary").click();
  await expect(button(page, "Save sweep as CSV")).toBeEnabled({ timeout: 20_000 });
  await figure(/^Save as a figure: Straight-in limit over/);
  files.push(await saved(page, () => button(page, "Save sweep as CSV").click()));
  expect(files.map(({ name }) => name.split(".").pop())).toEqual(["svg", "svg", "svg", "csv"]);
  await button(page, "Share").click();
  await page.getByText("Cite this").click();
  const bibtex = page.getByRole("textbox", { name: "Cite this" });
  await expect(bibtex).toHaveValue(/@software\{crenel,[^]*@misc\{hill-climb-single/);
});

const PYTHON = fileURLToPath(new URL("../../target/venv/bin/python", import.meta.url));

/** Pages of a PDF as a foreign reader finds them: size in mm, words, and whether each font is in the file. */
const READ_PDF = `
import json, sys
import pypdfium2 as pdfium, pypdfium2.raw as raw
pages = []
for page in pdfium.PdfDocument(sys.argv[1]):
    embedded = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], max_depth=9):
        font = raw.FPDFTextObj_GetFont(item)
        embedded.append(bool(raw.FPDFFont_GetIsEmbedded(font)))
    mm = [25.4 / 72 * side for side in page.get_size()]
    pages.append({"mm": mm, "text": page.get_textpage().get_text_range(), "embedded": all(embedded), "texts": len(embedded)})
print(json.dumps(pages))
`;

for (const [label, wide] of [["85 mm, one column", 85], ["120 mm, a column and a half", 120], ["175 mm, a page", 175]]) {
  test(`a figure is printed on a paper of its own size: ${wide} mm`, async ({ page }, info) => {
    await open(page);
    // A test has no dialog to print with.
    await page.evaluate(() => { window.print = () => {}; });
    await page.locator(".view.face .beside summary").click();
    await page.getByRole("button", { name: "Save as a figure: Face view" }).click();
    const sheet = page.locator("dialog[open]");
    await sheet.getByRole("combobox", { name: "Width" }).selectOption({ label });
    await sheet.getByRole("button", { name: "Print, or save as PDF" }).click();
    await expect(page.locator("body > .figure-paper img")).toBeAttached();
    const svg = await readFile((await saved(page, () => sheet.getByRole("button", { name: "Save SVG" }).click())).path, "utf8");
    const [width, height] = ["width", "height"].map((side) => new RegExp(` ${side}="([\\d.]+)mm"`).exec(svg)[1]);
    const file = info.outputPath("figure.pdf");
    await writeFile(file, await page.pdf({ preferCSSPageSize: true }));
    const pages = JSON.parse(execFileSync(PYTHON, ["-c", READ_PDF, file], { encoding: "utf8" }));
    expect(pages).toHaveLength(1);
    for (const [at, asked] of [[0, wide], [0, Number(width)], [1, Number(height)]])
      expect(Math.abs(pages[0].mm[at] - asked)).toBeLessThan(0.1);
    // The sheet says the size of the paper.
    const [told] = [...(await sheet.locator(".paper-size").innerText()).matchAll(/([\d.]+) × ([\d.]+) mm/g)];
    expect(Math.abs(pages[0].mm[0] - Number(told[1]))).toBeLessThan(0.05);
    expect(Math.abs(pages[0].mm[1] - Number(told[2]))).toBeLessThan(0.05);
    expect(pages[0].texts).toBeGreaterThan(10);
    expect(pages[0].embedded).toBe(true);
    // A letter with a light edge is written twice, one on the other.
    expect(pages[0].text.replace(/(.)\1/gu, "$1")).toContain("lash 13°");
    // Afterwards the page prints as before.
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));
    await expect(page.locator("body > .figure-paper")).toHaveCount(0);
  });
}

test("a chart in time saves its data with what its columns mean", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  await picture(page, "Cut and blip");
  const charts = page.locator("figure.curves").filter({ has: button(page, "Save data as CSV") });
  await expect(charts).not.toHaveCount(0);
  for (const chart of await charts.all()) {
    const file = await saved(page, () => button(chart, "Save data as CSV").click());
    const lines = (await readFile(file.path, "utf8")).trim().split("\r\n");
    const head = lines.filter((line) => line.startsWith("#")).join("\n");
    const [heading, ...rows] = lines.filter((line) => !line.startsWith("#"));
    for (const column of heading.split(",")) expect(head).toContain(`# ${column} in `);
    expect(head).toContain("Tip friction: 0.1");
    expect(rows.length).toBeGreaterThan(10);
  }
});

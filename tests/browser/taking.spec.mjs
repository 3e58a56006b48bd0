// Drawings, results and the link taken away in one click: as SVG, as a picture, as a table, as a QR code.
import { execFileSync } from "node:child_process";
import { writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import {
  PLANNED, button, download, expect, figure, go, handle, inLink, keptLink, linkOf, menu, now, open, picture, test, tool, type,
} from "./kit.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
const copied = (page) => page.evaluate(() => navigator.clipboard.readText());

/** What an independent reader finds in the QR codes of a picture or a PDF. */
const read = (file) =>
  execFileSync("target/venv/bin/python", ["tests/browser/read_codes.py", file], { cwd: root, encoding: "utf8" })
    .trim()
    .split("\n");

test.use({ permissions: ["clipboard-read", "clipboard-write"] });

/** The picture of Shift that a drawing is in. */
const PICTURES = {
  "Face view": "Film", "Developed view": "Film", "Phase map": "Film", "Outcome map": "Chances", Chances: "Chances",
};

test("every drawing of the rings and of the shift is copied as SVG", async ({ page }) => {
  await open(page);
  await go(page, "Shift");
  for (const name of ["Face view", "Developed view", "Phase map", "Outcome map", "Chances"]) {
    await picture(page, PICTURES[name]);
    if (name === "Outcome map") {
      await expect(page.locator(".view.outcome .straight-in").first()).toBeAttached({ timeout: 20_000 });
    }
    await tool(page, name, "Copy SVG");
    await expect.poll(() => copied(page), name).toMatch(/^<svg[\s\S]*<\/svg>$/);
    const marks = (await copied(page)).match(/<(path|text)\b/g);
    expect(marks.length, name).toBeGreaterThan(5);
    await page.evaluate(() => navigator.clipboard.writeText(""));
  }
});

test("a drawing is copied as a picture that is not blank", async ({ page }) => {
  await open(page);
  await tool(page, "Face view", "Copy picture");
  await expect(page.getByRole("status").filter({ hasText: "Drawing copied as a picture." })).toBeAttached();
  await expect(page.locator(".flash"), "it is shown too").toHaveText("Drawing copied as a picture.");
  const seen = await page.evaluate(async () => {
    const [item] = await navigator.clipboard.read();
    const picture = await createImageBitmap(await item.getType("image/png"));
    const canvas = new OffscreenCanvas(picture.width, picture.height);
    const pen = canvas.getContext("2d");
    pen.drawImage(picture, 0, 0);
    const colours = new Set(new Uint32Array(pen.getImageData(0, 0, picture.width, picture.height).data.buffer));
    return { width: picture.width, colours: colours.size };
  });
  expect(seen.width).toBe(1600);
  expect(seen.colours).toBeGreaterThan(20);
});

test("the results go to the clipboard and to a file as the table that is shown", async ({ page }) => {
  await open(page);
  await type(page, "overlap_mm", "3");
  await menu(page, "More: Results");
  await button(page, "Copy the table").click();
  await expect.poll(() => copied(page)).toContain("\t");
  const rows = (await copied(page)).trim().split("\n").map((row) => row.split("\t"));
  const shown = await page.locator("#results .figure").count();
  expect(rows.length).toBe(shown + 1);
  const free = rows.find((row) => row[1] === "free_angle_deg");
  expect(`${free[3]}${free[4]}`).toBe(await now(page, "free_angle_deg").textContent());
  await menu(page, "More: Results");
  const { name, text } = await download(page, () => button(page, "Save as CSV").click());
  expect(name).toMatch(/results\.csv$/);
  expect(text.split("\r\n")[0]).toBe("heading,key,result,value,unit,as opened,verdict,unrounded");
  expect(text.trim().split("\r\n").length).toBe(shown + 1);
  await expect(figure(page, "free_angle_deg")).toBeVisible();
});

test("a reader finds the link in the QR code on the screen", async ({ page }, info) => {
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme });
    await page.goto("about:blank");
    await open(page, `./#${linkOf(PLANNED)}`);
    await keptLink(page);
    await button(page, "Share").click();
    const link = await page.locator("#share-link").inputValue();
    const file = info.outputPath(`code-${colorScheme}.png`);
    await writeFile(file, await page.getByRole("img", { name: "QR code that opens this design" }).screenshot());
    // The code has the design, in digits; the link says too where in the app one was.
    const [found, ...others] = read(file);
    expect(others).toEqual([]);
    expect(found).toMatch(/#1\d+$/);
    expect(inLink(found)).toEqual(inLink(link));
    await button(page, "Close").click();

    // Scanned, it opens the design, and the address holds the link as it is copied.
    await page.goto("about:blank");
    await open(page, found);
    await expect.poll(() => page.url()).toContain(link.split("/dogs")[0]);
  }
});

test("a reader finds the link in the QR codes on every paper", async ({ page }, info) => {
  await open(page, `./#${linkOf(PLANNED)}`);
  const link = page.url().split("#")[0] + "#" + (await keptLink(page));
  for (const [area, codes] of [["Sheets", 2], ["Checks", 1], ["Compare", 1]]) {
    await go(page, area);
    const file = info.outputPath(`${area}.pdf`);
    await writeFile(file, await page.pdf({ preferCSSPageSize: true, printBackground: false }));
    const found = read(file);
    expect(found.map(inLink), area).toEqual(Array(codes).fill(inLink(link)));
  }
});

/** Elements by name, attributes and, where they hold no elements, words. */
const TOLD = `(element) => {
  const told = (element) => [
    element.tagName,
    Object.fromEntries([...element.attributes].map(({ name, value }) => [name, value]).sort()),
    element.children.length ? [...element.children].map(told) : element.textContent,
  ];
  return told(element);
}`;

test("what is on the screen is what is exported, element by element, before and after a drag", async ({ page }) => {
  await open(page, `./#${linkOf(PLANNED)}`);
  await go(page, "Shift");
  await picture(page, "Chances");
  await expect(page.locator(".view.outcome .straight-in").first()).toBeAttached({ timeout: 20_000 });
  // The page lets no text become a document, so a blank one reads the file.
  const reader = await page.context().newPage();
  const written = async (name) => {
    await page.bringToFront();
    await page.evaluate(() => navigator.clipboard.writeText(""));
    await tool(page, name, "Copy SVG");
    await expect.poll(() => copied(page), name).toMatch(/^<svg[\s\S]*<\/svg>$/);
    const elements = await reader.evaluate(`((text) => {
      const file = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
      return [...file.children].map(${TOLD});
    })(${JSON.stringify(await copied(page))})`);
    return elements.slice(elements.findIndex(([, { class: role }]) => role === "paper") + 1);
  };
  const shown = (name) => page.evaluate(`[...document.querySelectorAll('svg[aria-label="${name}"] > g[aria-hidden]')]
    .flatMap((group) => [...group.children]).map(${TOLD})`);
  for (const key of ["ArrowUp", "PageUp"]) {
    // A film has no handles.
    await go(page, "Dogs");
    await handle(page, "Face view", "phase_deg").press(key);
    await go(page, "Shift");
    for (const name of ["Face view", "Developed view", "Phase map", "Outcome map", "Chances"]) {
      await picture(page, PICTURES[name]);
      // The map of outcomes comes a moment later, coarse cells first.
      await expect(async () => {
        const file = await written(name);
        expect(file.length, name).toBeGreaterThan(5);
        expect(await shown(name), name).toEqual(file);
      }).toPass({ timeout: 15_000 });
    }
  }
  await reader.close();
});

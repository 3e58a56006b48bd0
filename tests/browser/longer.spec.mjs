// The page in a language that nobody speaks: every word 40 % longer, with an accent on every letter. What is cut or
// overlaps is not ready for a translation.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { button, expect, linkOf, open, putUp, test } from "./kit.mjs";

const LONGER = () => execFileSync("cargo", ["run", "--quiet", "--example", "words", "--", "--longer"], {
  cwd: fileURLToPath(new URL("../..", import.meta.url)), maxBuffer: 2 ** 24,
});

// A design that has something in every part of the job.
const WHOLE = readFileSync(fileURLToPath(new URL("../../examples/designs/kicks-back.json", import.meta.url)), "utf8");

/** What is read in every language: units, symbols, the name, and what the design's user wrote. */
const SAME = new Set(["Crenel", "rpm", "MPa", "rad", "min", "per", "drum", "English"]);
const OWN = WHOLE.match(/[A-Za-z]{3,}/g);
const isOwn = (word) => SAME.has(word) || OWN.some((own) => own.startsWith(word));

/** Opens the longer language as a translator would. */
async function openLonger(page) {
  await open(page, `./#${linkOf(WHOLE)}`);
  await page.keyboard.press("?");
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    button(page, "Open a language file").click(),
  ]);
  await chooser.setFiles({ name: "longer.json", mimeType: "application/json", buffer: LONGER() });
  await expect(page.locator("html")).toHaveAttribute("lang", "en-XA");
  await putUp(page);
}

/** Each picture of each part of the job, and the sheets over it, with all that can be opened in it open. */
async function walk(page, look) {
  const opened = async (name) => {
    await page.evaluate(() => {
      // What opens over the page is looked at by itself.
      for (const details of document.querySelectorAll("main details:not(.menu)")) details.open = true;
    });
    await putUp(page);
    await page.evaluate(() => scrollTo(0, 0));
    await look(name);
  };
  const press = async (buttons, each) => {
    for (let at = 0; at < (await buttons.count()); at += 1) {
      await buttons.nth(at).click();
      await putUp(page);
      await each(at + 1);
    }
  };
  await press(page.locator(".stages button"), (stage) =>
    press(page.locator(".areas button"), async (area) => {
      const name = `stage ${stage}, area ${area}`;
      const pictures = page.locator(".pictures button");
      if ((await pictures.count()) === 0) await opened(name);
      await press(pictures, (picture) => opened(`${name}, picture ${picture}`));
    }));
  await page.keyboard.press("?");
  await putUp(page);
  await opened("help");
  const menus = page.locator("header details.menu > summary").filter({ visible: true });
  for (const menu of await menus.all()) {
    await menu.click();
    await look(`menu ${await menu.textContent()}`);
    await page.keyboard.press("Escape");
  }
  await menus.last().click();
  for (const [name, open] of [
    ["designs", () => // Before the exports: open, designs, save, whole gearbox, title block.
      page.locator("header .menu[open] .sheet h3").locator("xpath=preceding-sibling::button[4]").click()],
    ["share", () => page.locator("header button.share").click()],
  ]) {
    await open();
    await putUp(page);
    await look(name);
    await page.keyboard.press("Escape");
  }
}

// ---- what is looked for on the page ----

/** Texts on the page, each with where it stands; `visible` where a reader sees it. */
const LOOK = () => {
  const shown = (at) => at.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true });
  const named = (at) => {
    const own = at.closest("[class], [id]");
    return `${own?.tagName.toLowerCase()}.${own?.getAttribute("class") ?? own?.id}`;
  };
  const hidden = (at) => getComputedStyle(at).clipPath === "inset(50%)" || at.closest(".sr, .skip, [hidden], option, pre, script, noscript") !== null;
  const afloat = (at) => {
    for (let up = at; up; up = up.parentElement) {
      if (["fixed", "sticky"].includes(getComputedStyle(up).position)) return true;
    }
    return false;
  };
  /** The part of a box that the boxes around it do not cut off. */
  const clipped = (box, at) => {
    let [left, top, right, bottom] = [box.left, box.top, box.right, box.bottom];
    for (let up = at; up && up !== document.body; up = up.parentElement) {
      const { overflowX, overflowY } = getComputedStyle(up);
      if (overflowX === "visible" && overflowY === "visible") continue;
      const around = up.getBoundingClientRect();
      if (overflowX !== "visible") [left, right] = [Math.max(left, around.left), Math.min(right, around.right)];
      if (overflowY !== "visible") [top, bottom] = [Math.max(top, around.top), Math.min(bottom, around.bottom)];
    }
    return { left, top, right, bottom };
  };
  // What is below the screen is laid out too.
  const sheet = new CSSStyleSheet();
  sheet.replaceSync("* { content-visibility: visible !important; }");
  document.adoptedStyleSheets = [sheet];
  const texts = [];
  // What lies over the page is looked at by itself.
  const scope = document.querySelector("dialog[open], header .menu[open] .sheet") ?? document.body;
  const walker = document.createTreeWalker(scope, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const at = node.parentElement;
    if (!node.data.trim() || !shown(at)) continue;
    texts.push({ node, at, text: node.data.trim() });
  }

  // -- cut --
  const cut = new Set();
  const pen = document.createElement("canvas").getContext("2d");
  for (const select of scope.querySelectorAll("select")) {
    // Where its text wraps, the select lies over it unseen.
    if (!shown(select)) continue;
    const style = getComputedStyle(select);
    pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const text = select.selectedOptions[0]?.textContent ?? "";
    // The browser's own arrow takes about 16 px; one that the page draws lies in the padding.
    const arrow = style.appearance === "none" ? 0 : 16;
    const room = select.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - arrow;
    if (pen.measureText(text).width > room + 1) cut.add(`select: ${text}`);
  }
  for (const { node, at, text } of texts) {
    if (hidden(at) || at.closest("svg, .scroll, select")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (let up = at; up && up !== scope; up = up.parentElement) {
      const { overflowX, display } = getComputedStyle(up);
      const boxed = up.matches("button, summary, legend, th, td, label, fieldset, figure, li, p, dd, dt");
      if (display === "inline" || !boxed && !["hidden", "clip"].includes(overflowX)) continue;
      if (["auto", "scroll"].includes(overflowX)) break;
      const box = up.getBoundingClientRect();
      const out = [...range.getClientRects()].some((own) => own.right > box.right + 1.5 || own.left < box.left - 1.5);
      if (out) cut.add(`${named(up)}: ${text}`);
    }
  }

  // -- overlaps --
  const rects = [];
  for (const { node, at, text } of texts) {
    if (hidden(at) || at.closest("select, textarea") || afloat(at)) continue;
    const drawing = at.closest("svg");
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const own of range.getClientRects()) {
      const box = clipped(own, at);
      if (box.right - box.left < 2 || box.bottom - box.top < 2) continue;
      rects.push({ ...box, text, node, drawing, turned: drawing && at.getAttribute("transform")?.includes("rotate") });
    }
  }
  rects.sort((a, b) => a.top - b.top);
  const overlaps = new Set();
  for (let one = 0; one < rects.length; one += 1) {
    for (let other = one + 1; other < rects.length && rects[other].top < rects[one].bottom; other += 1) {
      const [a, b] = [rects[one], rects[other]];
      if (a.node === b.node || a.drawing !== b.drawing || a.turned || b.turned) continue;
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      const line = Math.min(a.bottom - a.top, b.bottom - b.top);
      if (across > 2 && down > 0.35 * line) overlaps.add(`${a.drawing ? "drawing: " : ""}${a.text} × ${b.text}`);
    }
  }

  // -- words of English, each letter of which has an accent in the longer language --
  const spoken = [...scope.querySelectorAll("[aria-label], [title], [placeholder], [aria-valuetext]")].flatMap((at) =>
    ["aria-label", "title", "placeholder", "aria-valuetext"].map((name) => at.getAttribute(name) ?? ""));
  // The check values name their cases and sources in English, as their file does; a work has the title that it has.
  const work = (at) => at.closest(".references") && !at.closest(".quiet");
  const asIs = (at) =>
    work(at) || at.closest("pre, script, style") || at.closest("section")?.querySelector("#help-checks");
  const read = texts.filter(({ at }) => !asIs(at)).map(({ text }) => text);
  const words = [...new Set([...read, ...spoken].flatMap((text) => text.match(/[A-Za-z]{3,}/g) ?? []))];

  const root = document.scrollingElement;
  return {
    words, cut: [...cut], overlaps: [...overlaps], sideways: Math.max(0, root.scrollWidth - innerWidth),
  };
};

for (const width of [360, 1024, 1440]) {
  test(`a language that is longer fits ${width} px`, async ({ page }) => {
    test.setTimeout(240_000);
    await page.setViewportSize({ width, height: 900 });
    await openLonger(page);
    await walk(page, async (where) => {
      const { words, cut, overlaps, sideways } = await page.evaluate(LOOK);
      const english = words.filter((word) => !isOwn(word));
      expect.soft(english, `${where}: not in the language`).toEqual([]);
      expect.soft(cut, `${where}: cut`).toEqual([]);
      expect.soft(overlaps, `${where}: overlaps`).toEqual([]);
      expect.soft(sideways, `${where}: scrolls sideways`).toBe(0);
    });
  });
}

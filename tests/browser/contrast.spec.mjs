// What axe has no rule for: outlines of controls against their ground (WCAG 1.4.11), and how many sizes of text
// there are on a page.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { AREAS, expect, go, linkOf, open, test } from "./kit.mjs";

// A design that has something in every part of the job.
const WHOLE = readFileSync(fileURLToPath(new URL("../../examples/designs/kicks-back.json", import.meta.url)), "utf8");

/** Each control that can be seen, with the best contrast of its outline or its own ground to what is round it. */
const outlines = () => {
  const pen = new OffscreenCanvas(1, 1).getContext("2d", { willReadFrequently: true });
  const over = (ground, colour) => {
    pen.fillStyle = `rgb(${ground.join(" ")})`;
    pen.fillRect(0, 0, 1, 1);
    pen.fillStyle = colour;
    pen.fillRect(0, 0, 1, 1);
    return [...pen.getImageData(0, 0, 1, 1).data].slice(0, 3);
  };
  const luminance = (colour) => {
    const [r, g, b] = colour.map((byte) => byte / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (one, other) => {
    const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (light + 0.05) / (dark + 0.05);
  };
  const groundOf = (at) => {
    const grounds = [];
    for (let up = at; up; up = up.parentElement) grounds.unshift(getComputedStyle(up).backgroundColor);
    return grounds.reduce(over, [255, 255, 255]);
  };
  const seen = (at) => at.checkVisibility({ opacityProperty: true, visibilityProperty: true })
    && at.getBoundingClientRect().width > 2 && !at.closest(".sr, .skip");
  // The browser draws ticks and sliders itself, and a text button in a menu has no outline.
  const fields = "input:not([type=checkbox], [type=radio], [type=range], [type=file]), select, textarea, .picked";
  const buttons = "button, summary, [role=switch]";
  return [...document.querySelectorAll(`:is(${fields}, ${buttons})`)].filter(seen).flatMap((at) => {
    const style = getComputedStyle(at);
    if (Number(style.opacity) === 0) return [];
    const ground = groundOf(at.parentElement);
    const own = over(ground, style.backgroundColor);
    const edges = ["Top", "Right", "Bottom", "Left"].filter((edge) =>
      style[`border${edge}Style`] !== "none" && parseFloat(style[`border${edge}Width`]) > 0
        && !/^(transparent|rgba\(0, 0, 0, 0\))$/.test(style[`border${edge}Color`]));
    const lines = edges.map((edge) => contrast(over(ground, style[`border${edge}Color`]), ground));
    const best = Math.max(contrast(own, ground), ...lines);
    const named = at.getAttribute("aria-label") ?? at.textContent.trim().slice(0, 30);
    // What is only words or a sign, without an edge or a ground of its own, is text and not an outline. The parts
    // of the job are a list of words, too.
    const unmarked = edges.length === 0 && String(own) === String(ground);
    const plain = !at.matches(fields) && (unmarked || at.closest("nav"));
    return plain ? [] : [{ name: `${at.localName}.${at.className} ${named}`, best }];
  });
};

/**
 * Sizes of the text that can be seen, px, and words in letter-spaced capitals. Letters in drawings as they appear,
 * except on a sheet, which is drawn to scale.
 */
const texts = () => {
  const sizes = new Map();
  const spaced = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const at = node.parentElement;
    if (!node.data.trim() || at.closest(".sr, .skip, option, noscript, script, style, .set-up svg") || !at.checkVisibility()) continue;
    const style = getComputedStyle(at);
    const scale = at.namespaceURI.endsWith("svg") ? at.getScreenCTM().a : 1;
    const size = Math.round(parseFloat(style.fontSize) * scale * 2) / 2;
    if (!sizes.has(size)) sizes.set(size, `${at.localName}.${at.getAttribute("class")} “${node.data.trim().slice(0, 30)}”`);
    if (style.letterSpacing !== "normal" && parseFloat(style.letterSpacing) > 0) spaced.push(node.data.trim());
    if (style.textTransform === "uppercase") spaced.push(node.data.trim());
  }
  const root = getComputedStyle(document.documentElement);
  const rem = parseFloat(root.fontSize);
  const tokens = [1, 2, 3, 4, 5, 6].map((at) => parseFloat(root.getPropertyValue(`--t${at}`)) * rem);
  return { sizes: [...sizes], spaced, tokens };
};

/** Goes through all parts of the job. */
async function walk(page, look) {
  for (const area of AREAS) {
    await go(page, area);
    await look(area);
  }
}

for (const colorScheme of ["light", "dark"]) {
  test.describe(colorScheme, () => {
    test.use({ colorScheme });

    test("the outline of every control stands out from its ground", async ({ page }) => {
      test.setTimeout(120_000);
      await open(page, `./#${linkOf(WHOLE)}`);
      let seen = 0;
      await walk(page, async (area) => {
        const all = await page.evaluate(outlines);
        seen += all.length;
        const faint = all.filter(({ best }) => best < 3).map(({ name, best }) => `${name}: ${best.toFixed(2)}`);
        expect.soft([...new Set(faint)], area).toEqual([]);
      });
      expect(seen).toBeGreaterThan(150);
    });
  });
}

for (const width of [1440, 390]) {
  test(`text has six sizes at most, ${width} px`, async ({ page }) => {
    test.setTimeout(120_000);
    await page.setViewportSize({ width, height: 900 });
    await open(page, `./#${linkOf(WHOLE)}`);
    await walk(page, async (area) => {
      const { sizes, spaced, tokens } = await page.evaluate(texts);
      const odd = sizes.filter(([size]) => !tokens.some((token) => Math.abs(token - size) <= 0.5));
      expect.soft(odd, area).toEqual([]);
      expect.soft(spaced, area).toEqual([]);
    });
  });
}

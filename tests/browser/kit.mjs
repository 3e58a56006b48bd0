// What the specs share: a page that must stay free of errors, and names for what is on it.
import { readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import { expect as plain, test as base } from "@playwright/test";
import { KeptProfile, openAll, watch } from "./profile.mjs";

/** Looks again sooner than Playwright does: what the page does of itself takes a few frames. */
const poll = (read, asked = {}) =>
  plain.poll(read, { intervals: [20, 50, 100, 100, 250], ...(typeof asked === "string" ? { message: asked } : asked) });

export const expect = new Proxy(plain, { get: (all, name) => (name === "poll" ? poll : all[name]) });

export const test = base.extend({
  /** The profile that the tests of a worker have one after the other. */
  kept: [async ({ browser }, use) => {
    const kept = new KeptProfile(browser);
    await use(kept);
    await kept.close();
  }, { scope: "worker" }],
  // Named here are the options that a browser cannot change any more once a profile is made.
  context: async ({
    kept, baseURL, viewport, colorScheme, acceptDownloads, bypassCSP, contextOptions, deviceScaleFactor,
    extraHTTPHeaders, geolocation, hasTouch, httpCredentials, ignoreHTTPSErrors, isMobile, javaScriptEnabled,
    locale, offline, permissions, proxy, serviceWorkers, storageState, timezoneId, userAgent,
  }, use) => {
    const { reducedMotion = "no-preference", forcedColors = "none", contrast = "no-preference" } = contextOptions;
    const look = { viewport, colorScheme, reducedMotion, forcedColors, contrast };
    const { context, complaints } = await kept.take(baseURL, look, [
      acceptDownloads, bypassCSP, contextOptions, deviceScaleFactor, extraHTTPHeaders, geolocation, hasTouch,
      httpCredentials, ignoreHTTPSErrors, isMobile, javaScriptEnabled, locale, offline, permissions, proxy,
      serviceWorkers, storageState, timezoneId, userAgent,
    ]);
    await use(context);
    await kept.giveBack();
    expect(complaints).toEqual([]);
  },
  page: async ({ context }, use) => {
    await use(context.pages()[0]);
  },
  /** Makes further browser profiles, each with nothing stored, as on somebody else's machine. */
  profile: async ({ browser, baseURL }, use) => {
    const made = [];
    await use(async (options = {}) => {
      const context = await browser.newContext(options);
      await context.addInitScript(openAll);
      made.push({ context, complaints: watch(context, new URL(options.baseURL ?? baseURL).origin) });
      return context;
    });
    for (const { context, complaints } of made) {
      await context.close();
      expect(complaints).toEqual([]);
    }
  },
});

// ---- opening ----

export const EXAMPLE = "Hill-climb single, second gear (invented)";

/** Opens the app and waits until it is put up, with everything open that can be: sizes, results and findings. */
export async function open(page, address = "./") {
  await page.goto(address);
  await drawn(page);
}

/** Opens the app as a newcomer sees it. */
export async function openPlain(page, address = "./") {
  await page.addInitScript(() => {
    try {
      // What is opened later stays open over a reload.
      if (!sessionStorage.getItem("plain")) localStorage["crenel.open"] = "";
      sessionStorage.setItem("plain", "1");
    } catch {
      // A blank page keeps nothing.
    }
  });
  await open(page, address);
}

/** Opens all sizes, results and findings by hand. */
export async function openByHand(page) {
  await page.locator(".handle-row > [aria-expanded]").click();
  await page.locator("#results .head [aria-expanded]").click();
}

export async function drawn(page) {
  // A tab opens again in the area that it was left in, not always one with the dogs.
  await expect(page.locator("main .picture > *, main .whole-page > *").first()).toBeVisible();
  await putUp(page);
}

/** Waits until nothing of the page is still to be put up. */
export const putUp = (page) => page.evaluate(() => new Promise((done) => {
  // A drawing is drawn when its width is known, which is a frame after it stands on the page.
  let still = 0;
  const look = () => {
    const main = document.querySelector("main");
    still = main && !main.hasAttribute("aria-busy") ? still + 1 : 0;
    if (still > 2) done();
    else requestAnimationFrame(look);
  };
  look();
}));

/** What follows the `#` for a saved form given as an object or as text. */
export function linkOf(saved) {
  const text = typeof saved === "string" ? saved : JSON.stringify(saved);
  return `1.${deflateRawSync(text).toString("base64url")}`;
}

/** The page and the design of a link, of that which is copied or of that in a QR code. */
export function inLink(link) {
  const [page, code] = link.split("#");
  const blocks = code.slice(1).match(/\d{17}/g) ?? [];
  const packed = /^1\d+$/.test(code)
    ? Buffer.from(blocks.map((block) => BigInt(block).toString(16).padStart(14, "0")).join(""), "hex")
    : Buffer.from(code.slice(2).split("/")[0], "base64url");
  return { page, design: JSON.parse(inflateRawSync(packed).toString()) };
}

/** What follows the `#` of the address, without the place in the app. */
export const hash = (page) => page.evaluate(() => location.hash.slice(1).split("/")[0]);

/** Changes the address of the open page by hand. */
export const putHash = (page, text) => page.evaluate((text) => { location.hash = text; }, text);

/** Waits until the address and the store hold the work as it is now, and gives what follows the `#`. */
export async function keptLink(page) {
  // Work is kept after a pause without changes.
  await page.waitForTimeout(350);
  await expect.poll(() => sameWork(page)).toBe(true);
  return hash(page);
}

/** What is on the board of a tab: the design, and the design as opened where that differs. */
export const board = (page) =>
  page.evaluate(() => JSON.parse(JSON.parse(sessionStorage.getItem("crenel.history")).now));

/** The works that the browser keeps. */
export const works = (page) => page.evaluate(() => Object.entries(localStorage)
  .filter(([key]) => key.startsWith("crenel.work.")).map(([, text]) => JSON.parse(text)));

/** Whether the address holds what is on the board, and the store too if anything was changed. */
async function sameWork(page) {
  const link = await hash(page);
  if (!link.startsWith("1.")) return false;
  const inLink = JSON.stringify(JSON.parse(inflateRawSync(Buffer.from(link.slice(2), "base64url")).toString()));
  const { design, opened } = await board(page);
  const isLink = ({ design }) => JSON.stringify(design) === inLink;
  return isLink({ design }) && (opened === null || (await works(page)).some(isLink));
}

// ---- what is on the page ----

export const title = (page) => page.getByRole("textbox", { name: "Title of the design" });
export const button = (page, name) => page.getByRole("button", { name, exact: true });
export const view = (page, name) => page.getByRole("group", { name, exact: true });
export const panel = (page, ring) => page.getByRole("group", { name: `Ring ${ring}`, exact: true });
/** The entry of a number: the one among all sizes, if these are open. */
export const field = (page, slot) => page.locator(`.drawer input[data-slot="${slot}"], main.whole input[data-slot="${slot}"]`);
export const notice = (page) => page.locator(".notice");
export const finding = (page, code) => page.locator(`[data-code="${code}"]`);

/** A dog's outline in a drawing. */
export const dog = (page, name, drawing = "Face view") =>
  view(page, drawing).locator(`path[data-dog="${name}"]`).first();

/** Selects a dog in a drawing, which shows its handles. */
export const select = (page, name = "A1", drawing = "Face view") => dog(page, name, drawing).click();

/** A dog's button below the drawings. */
export const dogButton = (page, name) =>
  page.getByRole("group", { name: `Dogs of ring ${name[0]}`, exact: true })
    .getByRole("button").nth(Number(name.slice(1)) - 1);

/** A handle by the name of its view and the key of its number. */
export const handle = (page, drawing, key) => view(page, drawing).locator(`[data-field="${key}"]`);

export const figure = (page, key) => page.locator(`[data-key="${key}"]`);
export const now = (page, key) => figure(page, key).locator("summary .now");
export const was = (page, key) => figure(page, key).locator("summary .was");
/** How finely results are shown: to a step, or to a number of digits. */
const FINENESS = {
  angle: () => 0.1,
  force: (value) => 10 ** (Math.floor(Math.log10(Math.abs(value))) - 2),
  length: () => 0.01,
  speed: () => 1,
  stress: (value) => (value < 10 ? 0.1 : 1),
  time: (value) => (value < 100 ? 0.1 : 1),
  torque: (value) => (value < 10 ? 0.1 : 1),
};
/** A number without its unit as a result of this kind shows it. */
export const shown = (kind, value) => {
  const step = FINENESS[kind](value);
  return String(Number((Math.round(value / step) * step).toPrecision(12))).replace("-", "−");
};
export const verdict = (page, key) => figure(page, key).locator("summary .verdict");

// ---- what people do ----

/** Types into a number field and leaves it with Enter. */
export async function type(page, slot, text) {
  await field(page, slot).fill(text);
  await field(page, slot).press("Enter");
}

/** The middle of an element on the screen. */
export async function middle(locator) {
  const { x, y, width, height } = await locator.boundingBox();
  return { x: x + width / 2, y: y + height / 2 };
}

/** Takes a file by a click and gives its name and text. */
export async function download(page, click) {
  const [taken] = await Promise.all([page.waitForEvent("download"), click()]);
  return { name: taken.suggestedFilename(), text: await readFile(await taken.path(), "utf8") };
}

/** The lines of a CSV file below those that say what to mind. */
export const tableOf = (text) => {
  const lines = text.trimEnd().split("\r\n");
  const table = lines.filter((line) => !line.startsWith("# "));
  expect(lines.length - table.length, "cautions above the table").toBe(7);
  return table;
};

/** Opens a file through the page's own button. */
export async function openFile(page, name, text) {
  await more(page);
  const [chooser] = await Promise.all([page.waitForEvent("filechooser"), button(page, "Open file").click()]);
  await chooser.setFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });
}

/** Points of a drag: the handle's middle moved by (dx, dy) pixels. */
export const by = (dx, dy) => ({ x, y }) => ({ x: x + dx, y: y + dy });

/** Away from the axis of the face view by some pixels; towards it if negative. */
export const outwards = (px) => ({ x, y }, axis) => {
  const factor = 1 + px / Math.hypot(x - axis.x, y - axis.y);
  return { x: axis.x + factor * (x - axis.x), y: axis.y + factor * (y - axis.y) };
};

/** Counter-clockwise about the axis of the face view. */
export const turned = (degrees) => ({ x, y }, axis) => {
  const [sin, cos] = [Math.sin, Math.cos].map((of) => of((degrees * Math.PI) / 180));
  const [right, up] = [x - axis.x, axis.y - y];
  return { x: axis.x + right * cos - up * sin, y: axis.y - right * sin - up * cos };
};

/** Presses the mouse on a handle and moves it; the button stays down. */
export async function pull(page, drawing, key, move) {
  const knob = handle(page, drawing, key).locator(".knob");
  await knob.scrollIntoViewIfNeeded();
  const from = await middle(knob);
  const to = move(from, await middle(view(page, drawing)));
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(to.x, to.y, { steps: 6 });
  return to;
}

/** Opens a menu by its name, if it is not open. */
export async function menu(page, name) {
  const summary = page.locator("details.menu > summary").filter({ hasText: name, visible: true }).first();
  if ((await summary.locator("..").getAttribute("open")) === null) await summary.click();
}

/** Shows what is done with files: in its own menu, or on a small screen with everything else. */
export async function more(page) {
  const all = page.locator("header .tight > details.menu > summary");
  if (!(await all.isVisible())) return menu(page, "File");
  if ((await all.locator("..").getAttribute("open")) === null) await all.click();
}

/** Uses a tool of a drawing, which is in the menu of that drawing. */
export async function tool(page, drawing, what) {
  await menu(page, `More: ${drawing}`);
  await button(page, `${what}: ${drawing}`).click();
}

/** The button that cuts other dogs as the selected one; behind its words it says what comes of it. */
export const same = (page, others) => page.getByRole("button", { name: new RegExp(`^Same ${others}`) });

/** Opens the sheet of designs. */
export async function openDesigns(page) {
  await more(page);
  await button(page, "Designs").click();
}

// ---- the parts of the job ----

/** The areas of each stage. */
const STAGES = [
  ["Checks", "Pedal to fork", "Depth"],
  ["Dogs", "Measured", "Shift", "Load"],
  ["Plan", "Compare"],
  ["Sheets"],
];
/** Which stage an area belongs to. */
export const stageOf = (part) => STAGES.findIndex((areas) => areas.includes(part));

/** Shows one of the pictures of an area. */
export async function picture(page, name) {
  const choice = page.locator(".pictures").getByRole("button", { name, exact: true });
  await choice.click();
  await expect(choice).toHaveAttribute("aria-pressed", "true");
  await putUp(page);
}

/** The parts of the job, in their order. */
export const AREAS = ["Checks", "Pedal to fork", "Depth", "Dogs", "Measured", "Shift", "Load", "Plan", "Compare", "Sheets"];

/** Looks at each picture of the part of the job that is open, or at the part itself where it has none. */
export async function eachPicture(page, look) {
  const pictures = await page.locator(".pictures button").allTextContents();
  for (const one of pictures.length > 0 ? pictures : [""]) {
    if (one) await picture(page, one);
    await look(one);
  }
}

/** Looks at each picture of each part of the job. */
export async function walk(page, look, parts = AREAS) {
  for (const part of parts) {
    await go(page, part);
    await eachPicture(page, (one) => look(`${part} ${one}`));
  }
}

/** By how much the page scrolls sideways, CSS pixels. */
export const sideways = (page) => page.evaluate(() =>
  Math.max(document.documentElement.scrollWidth, document.body.scrollWidth) - document.documentElement.clientWidth);

/** Goes to a part of the job. */
export async function go(page, part) {
  const parts = page.getByRole("navigation", { name: "Parts of the job" });
  const tab = parts.getByRole("group").getByRole("button", { name: new RegExp(`^${part}`) });
  if (!(await tab.isVisible())) await parts.locator(".stage").nth(stageOf(part)).click();
  // An area that is not listed among those of its stage is found by its name.
  if (part !== "Measured" || (await tab.isVisible())) {
    await tab.click();
  } else {
    await page.keyboard.press("/");
    await page.getByRole("combobox", { name: "Find" }).fill(part);
    await page.getByRole("option", { name: new RegExp(`^${part}`) }).first().click();
  }
  await expect(tab).toHaveAttribute("aria-current", "page");
  await putUp(page);
}

/** Everything drawn in a drawing, without its handles. */
export const markup = (page, drawing) => view(page, drawing).locator("g[aria-hidden]").first().innerHTML();

/** A design with work on both rings. */
export const PLANNED = {
  crenel: 1,
  title: "T (invented)",
  a: {
    plan: [
      { do: "shorten", shorten_to_mm: 2.5, dogs: [2, 4, 6] },
      { do: "narrow_coast", flank_stock_mm: 0.4, dogs: [1, 3, 5] },
    ],
  },
  b: { plan: [{ do: "remove", dogs: [2, 4, 6] }] },
};

// ---- everybody ----

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What axe finds wrong with the page as it stands, a line each; by these of its rules, or by all. */
export async function violations(page, rules) {
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(AXE);
  const found = await page.evaluate(async (rules) => {
    // Half way from one colour to another, nothing is read.
    await new Promise(requestAnimationFrame);
    const under_way = document.getAnimations().filter((at) => at instanceof CSSTransition);
    await Promise.allSettled(under_way.map((at) => at.finished));
    return (await window.axe.run({ resultTypes: ["violations"], ...(rules && { runOnly: rules }) })).violations;
  }, rules);
  return found.map(({ id, impact, nodes }) =>
    `${impact} ${id}: ${nodes.length} × ${nodes[0].target.join(" ")}: ${nodes[0].failureSummary.replace(/\s+/g, " ")}`);
}

export const PAPER_AND_SLATE = { light: { colorScheme: "light" }, dark: { colorScheme: "dark" } };

/** The rules that look at colours. All others look at what is on the page and what of it is shown. */
const OF_COLOURS = ["color-contrast", "link-in-text-block"];

/** What axe finds in each of several looks, each line with its look before it. Where one shows just what the
 *  first does, only the rules for colours are asked again. */
export async function violationsIn(page, looks) {
  const lines = [];
  let first;
  for (const [look, media] of Object.entries(looks)) {
    await page.emulateMedia({ colorScheme: "light", forcedColors: "none", ...media });
    const shown = await page.evaluate(() =>
      [...document.querySelectorAll("*")]
        .map((at) => Number(at.checkVisibility({ visibilityProperty: true })))
        .join(""),
    );
    const found = await violations(page, shown === first ? OF_COLOURS : undefined);
    first ??= shown;
    lines.push(...found.map((line) => `${look}: ${line}`));
  }
  return lines;
}

// One walk through the built app in browsers other than Chromium: what is drawn, what is typed, every part of the
// job, a link, the help, and nothing on the console that is an error.
//
//     node tests/browsers/walk.mjs firefox=/usr/bin/firefox-esr webkit=/usr/bin/WebKitWebDriver
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { deflateRawSync } from "node:zlib";
import { serve } from "../browser/serve.mjs";
import { ELEMENT, firefox, webkit } from "./drivers.mjs";

const KINDS = { firefox, webkit };
const PICTURES = "target/browsers";
/** How long the page may take to come to what a step waits for, ms. */
const STEP_MS = 30_000;

/** Runs a script in the page; gives what it returns. */
async function inPage(browser, script, ...args) {
  const whole = `const done = arguments[arguments.length - 1];
    Promise.resolve((${script})(...arguments)).then((value) => done([value]), (error) => done(["", String(error)]));`;
  const { value: [value, error] } = await browser.send("ExecuteAsyncScript", { script: whole, args });
  if (error) throw new Error(error);
  return value;
}

/** Waits until a script gives something that is true, and gives that. */
async function until(browser, what, script, ...args) {
  let last = "";
  for (const start = Date.now(); Date.now() - start < STEP_MS; await pause(100)) {
    last = await inPage(browser, script, ...args).catch((error) => String(error));
    if (last && typeof last !== "string") return last;
  }
  throw new Error(`${what}: not so after ${STEP_MS / 1000} s ${last}`);
}

async function element(browser, css) {
  const { value } = await browser.send("FindElement", { using: "css selector", value: css });
  return value[ELEMENT];
}

/** Clicks as a person does: the driver refuses what is covered or out of sight. */
const click = async (browser, css) => browser.send("ElementClick", { id: await element(browser, css) });

async function type(browser, css, text) {
  const id = await element(browser, css);
  await browser.send("ElementClear", { id });
  await browser.send("ElementSendKeys", { id, text: `${text}\uE007` });
}

const putUp = (browser, what) => until(browser, what, () => {
  const main = document.querySelector("main");
  return main !== null && !main.hasAttribute("aria-busy");
});

async function picture(browser, name) {
  const { value } = await browser.send("TakeScreenshot", { full: false });
  mkdirSync(PICTURES, { recursive: true });
  writeFileSync(`${PICTURES}/${browser.name.split(" ")[0].toLowerCase()}-${name}.png`, Buffer.from(value, "base64"));
}

/** Presses the button that shows these words and nothing else. */
const press = (browser, within, words) => until(browser, `a button ${words}`, (within, words) => {
  const button = [...document.querySelectorAll(`${within} button`)].find((one) => one.textContent.trim() === words);
  button?.setAttribute("data-wanted", "");
  return Boolean(button);
}, within, words).then(() => click(browser, "[data-wanted]"))
  .then(() => inPage(browser, () => document.querySelector("[data-wanted]")?.removeAttribute("data-wanted")));

// ---- the walk ----

const WHAT = () => ({
  drawn: document.querySelector("svg:has([data-dog])")?.innerHTML,
  result: document.querySelector("[data-key=free_angle_deg] summary .now")?.textContent,
  link: location.hash,
});

const STEPS = {
  "opens, and draws six dogs of each ring": async (browser, url) => {
    await browser.send("Navigate", { url });
    await putUp(browser, "the page is put up");
    const widths = await until(browser, "the dogs are drawn", () => {
      const dogs = [...(document.querySelector("svg:has([data-dog])")?.querySelectorAll("path[data-dog]") ?? [])];
      return (
        new Set(dogs.map((dog) => dog.dataset.dog)).size === 12 && dogs.map((dog) => dog.getBoundingClientRect().width)
      );
    });
    if (Math.max(...widths) < 20) throw new Error(`the widest dog is ${Math.max(...widths)} pixels wide`);
    await picture(browser, "rings");
  },
  "takes a number with a comma: drawing, result and address follow": async (browser) => {
    const before = await inPage(browser, WHAT);
    await type(browser, 'input[data-slot="A.tip_width_deg"]', "20,5");
    for (const what of Object.keys(before)) {
      await until(
        browser,
        `${what} has changed`,
        (what, old) => {
          const now = {
            drawn: document.querySelector("svg:has([data-dog])")?.innerHTML,
            result: document.querySelector("[data-key=free_angle_deg] summary .now")?.textContent,
            link: location.hash,
          };
          return now[what] !== old;
        },
        what,
        before[what],
      );
    }
    const { result } = await inPage(browser, WHAT);
    // 360° / 6 − 24° − 20.5°, and what the flanks lean takes none of it at the tips.
    if (result !== "15.5°") throw new Error(`the free angle is ${result}`);
  },
  "goes through every part of the job": async (browser) => {
    const parts = await inPage(browser, () =>
      [...document.querySelectorAll('nav[aria-label="Parts of the job"] button')].map((one) => one.textContent.trim()),
    );
    if (parts.length < 9) throw new Error(`only ${parts} are there`);
    for (const part of parts) {
      await press(browser, 'nav[aria-label="Parts of the job"]', part);
      await until(
        browser,
        part,
        (part) => document.querySelector('nav [aria-current="page"]')?.textContent.trim() === part,
        part,
      );
      await putUp(browser, part);
      await picture(browser, part.toLowerCase());
    }
  },
  "works out an outcome map beside the page": async (browser) => {
    await press(browser, 'nav[aria-label="Parts of the job"]', "Shift");
    await until(
      browser,
      "cells are drawn",
      () => document.querySelector('[aria-label="Outcome map"] g[aria-hidden]')?.childElementCount > 2,
    );
  },
  "opens a design from a link": async (browser, url) => {
    const design = JSON.parse(readFileSync("examples/designs/half-height.json", "utf8"));
    await browser.send("Navigate", { url: "about:blank" });
    await browser.send("Navigate", { url: `${url}#1.${deflateRawSync(JSON.stringify(design)).toString("base64url")}` });
    await putUp(browser, "the page is put up");
    await until(
      browser,
      "its title",
      (title) => document.querySelector("label.title input")?.value === title,
      design.title,
    );
  },
  "keeps what was typed over a reload": async (browser) => {
    await type(browser, "label.title input", "Kept");
    await until(browser, "the work is kept", () =>
      Object.keys(localStorage).some((key) => localStorage.getItem(key).includes("Kept")),
    );
    await browser.send("Refresh");
    await putUp(browser, "the page is put up");
    await until(browser, "its title", () => document.querySelector("label.title input")?.value === "Kept");
  },
  "shows the licences from the help": async (browser) => {
    await press(browser, "header", "Help");
    await until(browser, "the help", () =>
      [...document.querySelectorAll(".help summary")].some((one) => {
        const is = one.textContent.startsWith("Licences");
        if (is) one.click();
        return is;
      }),
    );
    await until(browser, "the texts", () =>
      document.querySelector(".licences")?.textContent.includes("Permission is hereby granted"),
    );
    await picture(browser, "help");
  },
  "is kept for a visit without a network": (browser) =>
    until(browser, "a service worker", () =>
      navigator.serviceWorker.getRegistration().then((one) => one?.active?.state === "activated"),
    ),
};

/** Errors of every kind must be heard, or that there was none means nothing. */
async function provoke(browser) {
  const refused = await inPage(browser, () => {
    console.error("said aloud");
    setTimeout(() => { throw new Error("thrown"); });
    fetch("https://elsewhere.example/").catch(() => {});
    try {
      document.createElement("p").innerHTML = "<img src=x onerror=alert(1)>";
      return false;
    } catch {
      return true;
    }
  });
  if (!refused) throw new Error("the page takes markup with a handler");
  for (const kind of [/said aloud/, /\bthrown\b/, /elsewhere\.example/]) {
    const start = Date.now();
    while (!(await browser.errors()).some((error) => kind.test(error))) {
      if (Date.now() - start > STEP_MS)
        throw new Error(`the console does not tell of ${kind}: ${(await browser.errors()).join("; ")}`);
      await pause(100);
    }
  }
}

async function walk(kind, binary, url) {
  const browser = await KINDS[kind](binary);
  console.log(browser.name);
  try {
    await browser.send("SetTimeouts", { script: STEP_MS, pageLoad: STEP_MS, implicit: 0 });
    await browser.send("SetWindowRect", { x: 0, y: 0, width: 1280, height: 900 });
    for (const [what, step] of Object.entries(STEPS)) {
      await step(browser, url);
      console.log(`  ${what}`);
    }
    const errors = await browser.errors();
    if (errors.length > 0) throw new Error(`the console tells of ${errors.length} errors`);
    await provoke(browser);
    console.log("  without an error on its console");
  } catch (error) {
    await picture(browser, "failed").catch(() => {});
    console.error((await browser.errors().catch(() => [])).join("\n"));
    throw error;
  } finally {
    await browser.end();
  }
}

const asked = process.argv.slice(2).map((word) => word.split("="));
if (asked.length === 0) throw new Error("Name a browser: firefox=… or webkit=…");
const { server, url } = await serve();
try {
  for (const [kind, binary] of asked) await walk(kind, binary, url);
} finally {
  server.closeAllConnections();
  server.close();
}

// Measures the built app in a browser: its size and how soon it draws, beside an empty page of the
// same framework; how closely a drag is followed, and what drags leave in memory. It prints; it never
// fails on a number.
//
//     node tests/browser/bench.mjs
//     ONLY=ranges node tests/browser/bench.mjs       the first ranges in the worker alone
//     ONLY=drags node tests/browser/bench.mjs        the steps of a drag alone
//     ONLY=maps node tests/browser/bench.mjs         a map in the worker and natively alone
//     ONLY=walk node tests/browser/bench.mjs         a link opened on a phone alone
//     ONLY=slow node tests/browser/bench.mjs         areas and playing on a slow processor alone
//     AGAINST=folder node tests/browser/bench.mjs    the starts and drags of another build beside it, in turn
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { chromium } from "@playwright/test";
import { LAUNCH } from "./chromium.mjs";
import { by, drawn, go, handle, linkOf, middle, stageOf, turned, view } from "./kit.mjs";
import { DIST, serve } from "./serve.mjs";

const EMPTY = process.env.EMPTY ?? fileURLToPath(new URL("../../target/empty", import.meta.url));
const FRAME_MS = 1000 / 60;
const SIZE_AIM_KB = 450;
const STARTS = 7;
// A phone on a slow network of the fourth generation, and how long it may take from the tap on a link.
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 3, isMobile: true, hasTouch: true };
const SLOW_NETWORK = { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 0.75e6 / 8 };
const WALKS = 5;
const WALK_AIM_MS = 3500;
const SLOWED = 4;
const ANSWER_AIM_MS = 100;
const PLAY_AIM = 30;
const PLAY_MS = 3000;
const STEPS = 120;
/** What a step may take on the page's thread, painted, in 95 of 100, ms. */
const DRAG_AIMS_MS = { "6 on 6": 8, "64 on 64": 16 };
const LONG_DRAG = 1000;
const MANY_DRAGS = 1000;
// What is made once and for all is there after so many.
const FILLING_DRAGS = 200;
const DRAWN_MAPS = 3;
const RANGES_AIM_MS = 300;

const ring = { back_cut_drive_deg: 3, back_cut_coast_deg: 3, edge_break_mm: 0.2 };
const mixed = { ...ring, heights: [1, 0.5] };
const spline = { count: 64, tip_width_deg: 2.6, root_fillet_mm: 0.2 };
const listed = { dogs: Array.from({ length: 36 }, (_, at) => ({ centre_deg: 10 * at, tip_width_deg: 4 })) };
const DESIGNS = {
  "6 on 6, mixed heights": { crenel: 1, a: mixed, b: mixed },
  "64 on 64, spline": { crenel: 1, a: spline, b: spline },
  "36 on 36, listed dog by dog": { crenel: 1, a: listed, b: listed },
};

// drawing, key of the handle, where the nth pixel of a stroke lies, and how long a stroke is
const DRAGS = {
  "phase, on the map": ["Phase map", "phase_deg", (px) => by(px, 0), 60],
  "dog width, on the face": ["Face view", "tip_width_deg", (px) => turned(px / 4), 6],
};

// A cut in the area Plan, where every step works out as found and as cut and draws both solids.
const CUT = {
  plan: [
    { do: "shorten", shorten_to_mm: 2.5, dogs: [1, 3, 5] },
    { do: "narrow_coast", flank_stock_mm: 0.4, dogs: [2, 4, 6] },
  ],
};
const REWORKED = { "6 on 6, with a plan": { crenel: 1, a: { ...ring, ...CUT }, b: { ...ring, ...CUT } } };
const CUT_DRAGS = { "height that is left, unrolled": ["Developed view", "shorten_to_mm", (px) => by(0, px / 2), 30] };

// ---- arithmetic and print ----

const sorted = (list) => [...list].sort((a, b) => a - b);
const share = (list, part) => sorted(list)[Math.min(list.length - 1, Math.floor(part * list.length))];
const ms = (value) => value.toFixed(1).padStart(8);
const kb = (bytes) => (bytes / 1000).toFixed(1).padStart(8);
const line = (name, ...cells) => console.log(`  ${name.padEnd(52)}${cells.join("")}`);
const head = (name, ...cells) => console.log(`\n${name.padEnd(54)}${cells.map((cell) => cell.padStart(8)).join("")}`);

// ---- what is measured ----

/**
 * What of a built page is downloaded before the first drawing: name, bytes, bytes when packed. The empty page lies
 * unpacked.
 */
function downloaded(folder) {
  const endings = [".wasm", ".js", ".css", ".html"];
  const later = /^(part-|worker-|404|service)/;
  const names = readdirSync(folder).filter((name) => endings.includes(extname(name)) && !later.test(name));
  return names.sort().map((name) => {
    const file = join(folder, name);
    const bytes = readFileSync(file);
    const packed = existsSync(`${file}.gz`) ? readFileSync(`${file}.gz`) : gzipSync(bytes, { level: 9 });
    return [name.replace(/-[0-9a-f]{16}/, ""), bytes.length, packed.length];
  });
}

const packed = (files) => files.reduce((sum, [, , size]) => sum + size, 0);

function sizes() {
  head("Size, kB", "raw", "gzip");
  const files = downloaded(DIST);
  for (const [name, raw, size] of files) line(name, kb(raw), kb(size));
  const left = SIZE_AIM_KB - packed(files) / 1000;
  line(
    `before the first drawing; the aim is ${SIZE_AIM_KB} kB, ${Math.abs(left).toFixed(0)} kB ${left < 0 ? "too many" : "to spare"}`,
    " ".repeat(8),
    kb(packed(files)),
  );
  const empty = packed(downloaded(EMPTY));
  line("an empty page of the same framework", " ".repeat(8), kb(empty));
  console.log(`  the app is ${(packed(files) / empty).toFixed(1)} times that`);
}

/** Milliseconds from the start of loading to the frame after the first dog is drawn. The empty page has one, too. */
async function start(browser, url, { slowed = 1, network, device = {}, place = "/dogs" }) {
  const context = await browser.newContext(device);
  const page = await context.newPage();
  await page.addInitScript(() => {
    const seen = () => document.querySelector("svg [data-dog]") !== null;
    const watch = new MutationObserver(() => {
      if (!seen()) return;
      watch.disconnect();
      requestAnimationFrame(() => { setTimeout(() => { window.drawnAt = performance.now(); }); });
    });
    watch.observe(document, { childList: true, subtree: true });
  });
  const client = await context.newCDPSession(page);
  await client.send("Emulation.setCPUThrottlingRate", { rate: slowed });
  if (network) {
    await client.send("Network.enable");
    await client.send("Network.emulateNetworkConditions", network);
  }
  await page.goto(`${url}#${place}`, { waitUntil: "commit" });
  const at = await (await page.waitForFunction(() => window.drawnAt)).jsonValue();
  await context.close();
  return at;
}

/** The app and the empty page in turn, so that both meet the same machine. */
async function starts(browser, url) {
  const empty = await serve({ folder: EMPTY });
  head("First drawing after, ms (nothing cached)", "median", "worst", "empty", "worst", "ratio");
  for (const [name, slowed] of [["this machine", 1], ["processor slowed four times", 4]]) {
    const [ours, floor] = [[], []];
    for (let time = 0; time < STARTS; time += 1) {
      ours.push(await start(browser, url, { slowed }));
      floor.push(await start(browser, empty.url, { slowed }));
    }
    const cells = [ours, floor].flatMap((times) => [ms(share(times, 0.5)), ms(Math.max(...times))]);
    line(name, ...cells, `${(share(ours, 0.5) / share(floor, 0.5)).toFixed(1)} ×`.padStart(8));
  }
  empty.server.close();
}

/** From the tap on a link to a design that can be dragged, on a phone that has nothing of the app. */
async function walks(browser, url) {
  const empty = await serve({ folder: EMPTY });
  head("A link opened on a phone, 1.6 Mbit/s, 150 ms, ¼ speed, ms", "median", "worst", "empty", "worst", "ratio");
  for (const [name, place] of [["a place alone", "/dogs"], ["a design", linkOf(DESIGNS["6 on 6, mixed heights"])]]) {
    const [ours, floor] = [[], []];
    const phone = { slowed: 4, network: SLOW_NETWORK, device: PHONE, place };
    for (let time = 0; time < WALKS; time += 1) {
      ours.push(await start(browser, url, phone));
      floor.push(await start(browser, empty.url, phone));
    }
    const cells = [ours, floor].flatMap((times) => [ms(share(times, 0.5)), ms(Math.max(...times))]);
    line(name, ...cells, `${(share(ours, 0.5) / share(floor, 0.5)).toFixed(1)} ×`.padStart(8));
    const over = share(ours, 0.5) - WALK_AIM_MS;
    console.log(`  the aim is ${WALK_AIM_MS} ms: ${over > 0 ? `missed by ${over.toFixed(0)}` : "met"}`);
  }
  empty.server.close();
}

/** A page of the example as in a processor so many times slower. */
async function slowedPage(browser, url) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.goto(`${url}#/dogs`);
  await drawn(page);
  const client = await context.newCDPSession(page);
  await client.send("Emulation.setCPUThrottlingRate", { rate: SLOWED });
  return { context, page, client };
}

/**
 * How soon an area is on the screen after a click, and how soon nothing is built any more. Each is opened for the first
 * time.
 */
async function areas(browser, url) {
  head(`Areas at 1/${SLOWED} speed, ms from the click to`, "paint", "worst", "rest", "worst", "aim");
  for (const area of ["Shift", "Compare", "Sheets"]) {
    const [painted, rested] = [[], []];
    for (let time = 0; time < WALKS; time += 1) {
      const { context, page } = await slowedPage(browser, url);
      const parts = page.getByRole("navigation", { name: "Parts of the job" });
      const inStage = parts.getByRole("group").getByRole("button", { name: new RegExp(`^${area}`) });
      // Its stage is opened before; an area that is alone in its stage has no other button.
      if (area === "Compare") await go(page, "Plan");
      const tab = (await inStage.isVisible()) ? inStage : parts.locator(".stage").nth(stageOf(area));
      const [paint, rest] = await tab.evaluate((tab) => new Promise((done) => {
        const after = new MessageChannel();
        let began;
        let paint;
        const look = () => {
          if (document.querySelector("main").ariaBusy === "true") return requestAnimationFrame(look);
          return done([paint, performance.now() - began]);
        };
        after.port1.onmessage = () => { paint = performance.now() - began; look(); };
        began = performance.now();
        tab.click();
        requestAnimationFrame(() => after.port2.postMessage(null));
      }));
      painted.push(paint);
      rested.push(rest);
      await context.close();
    }
    const cells = [painted, rested].flatMap((times) => [ms(share(times, 0.5)), ms(Math.max(...times))]);
    const met = share(painted, 0.5) <= ANSWER_AIM_MS ? "met" : "missed";
    line(area, ...cells, met.padStart(8));
  }
  console.log(`  the aim: painted within ${ANSWER_AIM_MS} ms`);
}

/** Frames a second while a shift is played. */
async function plays(browser, url) {
  head(`${PLAY_MS / 1000} s of a shift played at 1/${SLOWED} speed`, "frames", "/s", "busy, %", "aim");
  const { context, page, client } = await slowedPage(browser, url);
  await go(page, "Shift");
  const play = page.getByRole("button", { name: "Play the shift", exact: true });
  const rates = [];
  for (let time = 0; time < WALKS; time += 1) {
    const before = await metrics(client);
    const [frames, took] = await play.evaluate((play, lasts) => new Promise((done) => {
      const began = performance.now();
      let frames = 0;
      play.click();
      const look = () => {
        const took = performance.now() - began;
        if (took < lasts) {
          frames += 1;
          return requestAnimationFrame(look);
        }
        // The same button ends the playing.
        play.click();
        return done([frames, took]);
      };
      requestAnimationFrame(look);
    }), PLAY_MS);
    const after = await metrics(client);
    rates.push([frames, (1000 * frames) / took, (100_000 * (after.TaskDuration - before.TaskDuration)) / took]);
  }
  const [frames, rate, busy] = [0, 1, 2].map((at) => share(rates.map((of) => of[at]), 0.5));
  const met = rate >= PLAY_AIM ? "met" : "missed";
  line("the example, median of five", ms(frames), ms(rate), ms(busy), met.padStart(8));
  console.log(`  the aim: ${PLAY_AIM} frames a second`);
  await context.close();
}

/**
 * Opens a design in an area, with a dog selected so that it has handles, in a new profile, and watches each pointer
 * move.
 */
async function opened(browser, url, design, area = "dogs") {
  const context = await browser.newContext({ viewport: { width: 1440, height: 1000 } });
  const page = await context.newPage();
  await page.addInitScript(() => {
    addEventListener("TrunkApplicationStarted", (event) => { window.benchWasm = event.detail.wasm; });
    const after = new MessageChannel();
    const steps = [];
    window.benchSteps = steps;
    after.port1.onmessage = () => { steps.at(-1).painted = performance.now(); };
    // Moves are handed out at the start of a frame: what runs from here to the frame's own
    // callback is script, and what follows up to the next task is style, layout and paint.
    addEventListener("pointermove", () => {
      const step = { moved: performance.now() };
      steps.push(step);
      requestAnimationFrame(() => {
        step.worked = performance.now();
        after.port2.postMessage(null);
      });
    }, { capture: true });
  });
  await page.goto(`${url}#${linkOf(design)}/${area}..A1`);
  await drawn(page);
  await page.waitForTimeout(500);
  return { context, page, client: await context.newCDPSession(page) };
}

/** Takes hold of a handle and moves it to and fro a pixel at a time. */
async function stroke(page, [drawing, key, move, length], steps) {
  const knob = handle(page, drawing, key).locator(".knob");
  const from = await middle(knob);
  const axis = await middle(view(page, drawing));
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.evaluate(() => { window.benchSteps.length = 0; });
  for (let step = 1; step <= steps; step += 1) {
    const px = Math.abs(((step + length) % (4 * length)) - 2 * length) - length;
    const to = move(-px)(from, axis);
    await page.mouse.move(to.x, to.y);
  }
  await page.mouse.up();
}

/** Chromium's own counts; times are of the processor, so that other work on the machine stays out. */
async function metrics(client) {
  await client.send("Performance.enable", { timeDomain: "threadTicks" });
  const { metrics } = await client.send("Performance.getMetrics");
  return Object.fromEntries(metrics.map(({ name, value }) => [name, value]));
}

async function allDrags(browser, url) {
  await drags(browser, url, "dogs");
  await drags(browser, url, "rework", REWORKED, CUT_DRAGS);
}

async function drags(browser, url, area, designs = DESIGNS, moves = DRAGS) {
  head(
    `A drag of ${STEPS} steps in “${area}”: from the move to`,
    "script",
    "p95",
    "/frame",
    "painted",
    "p95",
    "/frame",
    "cpu",
    "its js",
    "aim",
  );
  for (const [design, saved] of Object.entries(designs)) {
    for (const [name, drag] of Object.entries(moves)) {
      const { context, page, client } = await opened(browser, url, saved, area);
      const before = await metrics(client);
      await stroke(page, drag, STEPS);
      await page.waitForTimeout(100);
      const after = await metrics(client);
      const cpu = ["TaskDuration", "ScriptDuration"].map((key) => ms((1000 * (after[key] - before[key])) / STEPS));
      const steps = await page.evaluate(() => window.benchSteps.filter((step) => step.painted));
      const cells = ["worked", "painted"].flatMap((end) => {
        const times = steps.map((step) => step[end] - step.moved);
        const late = share(times, 0.95);
        return [ms(share(times, 0.5)), ms(late), (late / FRAME_MS).toFixed(2).padStart(8)];
      });
      const most = Object.entries(DRAG_AIMS_MS).find(([of]) => design.startsWith(of))?.[1];
      const late = share(steps.map((step) => step.painted - step.moved), 0.95);
      const aim = most ? `  ${most} ms: ${late > most ? "missed" : "met"}` : "";
      line(`${design}: ${name}`, ...cells, ...cpu, aim);
      await context.close();
    }
  }
  console.log(
    `  milliseconds; /frame is the 95th percentile over the ${FRAME_MS.toFixed(1)} ms of a frame; cpu is the mean`,
  );
  console.log("  of processor time that a step takes on the page's thread, and its js what script takes of it");
}

/** Processor time of a step and of its script, in ms. */
async function dragOnce(browser, url, saved, drag) {
  const { context, page, client } = await opened(browser, url, saved);
  await stroke(page, drag, STEPS);
  const before = await metrics(client);
  await stroke(page, drag, STEPS);
  await page.waitForTimeout(100);
  const after = await metrics(client);
  await context.close();
  return ["TaskDuration", "ScriptDuration"].map((key) => (1000 * (after[key] - before[key])) / STEPS);
}

/** Another build beside this one, in turn, so that both meet the same machine. */
async function against(browser, url, folder) {
  const other = await serve({ folder });
  head(`Beside ${folder}: first drawing, ms`, "other", "this", "ratio");
  for (const [name, slowed] of [["this machine", 1], ["processor slowed four times", 4]]) {
    const [theirs, ours] = [[], []];
    for (let time = 0; time < STARTS; time += 1) {
      theirs.push(await start(browser, other.url, { slowed }));
      ours.push(await start(browser, url, { slowed }));
    }
    const [was, is] = [theirs, ours].map((times) => share(times, 0.5));
    line(name, ms(was), ms(is), `${(is / was).toFixed(2)} ×`.padStart(8));
  }
  head("A step of a drag: processor time, and script of it, ms", "other", "this", "ratio", "script", "this", "ratio");
  for (const [design, saved] of Object.entries(DESIGNS)) {
    for (const [name, drag] of Object.entries(DRAGS)) {
      const [theirs, ours] = [[], []];
      for (let time = 0; time < 3; time += 1) {
        theirs.push(await dragOnce(browser, other.url, saved, drag));
        ours.push(await dragOnce(browser, url, saved, drag));
      }
      const cells = [0, 1].flatMap((at) => {
        const [was, is] = [theirs, ours].map((times) => Math.min(...times.map((time) => time[at])));
        return [ms(was), ms(is), `${(is / was).toFixed(2)} ×`.padStart(8)];
      });
      line(`${design}: ${name}`, ...cells);
    }
  }
  other.server.close();
}

/** Kinds of jobs of the app's worker. */
const MAPS = 0;
const RANGES = 2;

/** Milliseconds until the app's own worker has given so many answers to each of some jobs, one after another. */
async function inWorker(browser, url, jobs, answers = 1) {
  // The page's own policy lets no foreign script start a worker.
  const context = await browser.newContext({ bypassCSP: true });
  const page = await context.newPage();
  await page.goto(`${url}#/dogs`);
  await drawn(page);
  const worker = readdirSync(DIST).find((name) => name.startsWith("worker-"));
  const times = await page.evaluate(async ([worker, jobs, answers]) => {
    const helper = new Worker(worker, { type: "module" });
    await new Promise((done) => { helper.onmessage = done; });
    const times = [];
    for (const [number, job] of jobs.entries()) {
      const start = performance.now();
      await new Promise((done) => {
        let left = answers;
        helper.onmessage = ({ data }) => { if (data[0] === number && (left -= 1) === 0) done(); };
        helper.postMessage([number, ...job]);
      });
      times.push(performance.now() - start);
    }
    helper.terminate();
    return times;
  }, [worker, jobs, answers]);
  await context.close();
  return times;
}

/** Milliseconds of the outcome maps in the app's own worker, coarse ones first, best of a few. */
async function mapsInBrowser(browser, url, design) {
  return Math.min(...await inWorker(browser, url, Array(4).fill([MAPS, 0, design]), DRAWN_MAPS));
}

// Pairs as they are measured and cut.
const twelve = { dogs: Array.from({ length: 12 }, (_, at) => ({ centre_deg: 30 * at, tip_width_deg: 12 - 0.02 * at })) };
const RANGED = {
  "6 on 6, mixed heights": { crenel: 1, a: mixed, b: mixed },
  "12 on 12, listed dog by dog": { crenel: 1, a: twelve, b: twelve },
};

/** The first ranges of pairs in the app's worker. */
async function firstRanges(browser, url) {
  head("First ranges in the app's worker", "median", "worst", "of aim");
  for (const [name, design] of Object.entries(RANGED)) {
    // The first one fetches the code.
    const [, ...times] = await inWorker(browser, url, Array(STARTS + 1).fill([RANGES, JSON.stringify(design)]));
    const most = Math.max(...times);
    line(name, ms(share(times, 0.5)), ms(most), `${((100 * most) / RANGES_AIM_MS).toFixed(0)} %`.padStart(8));
  }
  console.log(`  milliseconds from the request on; the aim is ${RANGES_AIM_MS} ms`);
}

/** The same outcome maps natively and in the browser, in one run, as a ratio. */
async function outcomeMaps(browser, url) {
  const root = fileURLToPath(new URL("../..", import.meta.url));
  const bench = (...given) =>
    execFileSync("cargo", ["bench", "-q", "--bench", "outcomes", "--", ...given], {
      cwd: root,
      encoding: "utf8",
      stdio: ["ignore", "pipe", "ignore"],
    });
  const design = bench("--design").trim();
  const native = JSON.parse(bench());
  const page = await mapsInBrowser(browser, url, design);
  head("Outcome maps of the app, mixed six on six", "ms", "native");
  const each = { native: native.drawn_seconds * 1000, "the app's worker in the browser": page };
  for (const [name, time] of Object.entries(each))
    line(name, time.toFixed(2).padStart(8), `${(time / each.native).toFixed(1)} ×`.padStart(8));
  console.log("  the aim: the browser at most 2 ×");
}

async function memory(page, client) {
  await client.send("HeapProfiler.collectGarbage");
  const { usedSize } = await client.send("Runtime.getHeapUsage");
  const { Nodes, JSEventListeners } = await metrics(client);
  const wasm = await page.evaluate(() => window.benchWasm?.memory.buffer.byteLength ?? NaN);
  return [
    ["JS heap, kB", usedSize / 1000],
    ["wasm memory, kB", wasm / 1000],
    ["page nodes", Nodes],
    ["listeners", JSEventListeners],
  ];
}

/** Presses on a handle, moves it a few pixels there or back, and lets go: one step of the history each. */
async function manyDrags(page, drag, drags) {
  const [drawing, key, move] = drag;
  for (let time = 0; time < drags; time += 1) {
    const from = await middle(handle(page, drawing, key).locator(".knob"));
    const axis = await middle(view(page, drawing));
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    for (const px of [1, 2, 3]) {
      const to = move(time % 2 ? -px : px)(from, axis);
      await page.mouse.move(to.x, to.y);
    }
    await page.mouse.up();
  }
}

/** What is in memory after some work, and after as much again as is asked for. */
async function left(browser, url, name, first, then) {
  const { context, page, client } = await opened(browser, url, Object.values(DESIGNS)[0]);
  const emptied = () => page.evaluate(() => { window.benchSteps.length = 0; });
  // The first drags fill what is kept once and for all.
  await first(page);
  await emptied();
  const before = await memory(page, client);
  await then(page);
  await emptied();
  const after = await memory(page, client);
  before.forEach(([what, was], at) => {
    const now = after[at][1];
    line(`${name}: ${what}`, ...[was, now, now - was].map((value) => value.toFixed(0).padStart(8)));
  });
  await context.close();
}

async function leaks(browser, url) {
  const drags = Object.entries(DRAGS);
  head(`Left by one drag of ${LONG_DRAG} steps`, "before", "after", "more");
  for (const [name, drag] of drags) {
    await left(browser, url, name, (page) => stroke(page, drag, STEPS), (page) => stroke(page, drag, LONG_DRAG));
  }
  // Every drag is a step of the history, which keeps some thirty bytes of it.
  head(`Left by ${MANY_DRAGS} drags, to and fro in turn`, "before", "after", "more");
  for (const [name, drag] of drags) {
    await left(
      browser,
      url,
      name,
      (page) => manyDrags(page, drag, FILLING_DRAGS),
      (page) => manyDrags(page, drag, MANY_DRAGS),
    );
  }
}

const PARTS = {
  drags: [allDrags],
  maps: [outcomeMaps],
  ranges: [firstRanges],
  slow: [areas, plays],
  walk: [walks],
};
const ALL = [sizes, starts, walks, areas, plays, allDrags, outcomeMaps, firstRanges, leaks];

for (const [folder, what] of [[DIST, "make build"], [EMPTY, "make target/empty/index.html"]]) {
  if (existsSync(join(folder, "index.html"))) continue;
  console.error(`There is no built page in ${folder}. Build it first: ${what}.`);
  process.exit(1);
}
const { server, url } = await serve();
const browser = await chromium.launch(LAUNCH);
try {
  console.log(`${browser.browserType().name()} ${browser.version()}, headless`);
  if (process.env.AGAINST) {
    await against(browser, url, process.env.AGAINST);
  } else {
    for (const measure of PARTS[process.env.ONLY] ?? ALL) await measure(browser, url);
  }
} finally {
  await browser.close();
  server.close();
}

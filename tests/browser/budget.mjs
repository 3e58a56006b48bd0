// Fails when what a first visit downloads grows past its budget, packed as hosts pack it.
//
//     node tests/browser/budget.mjs
import { readdirSync, statSync } from "node:fs";
import { extname, join } from "node:path";
import { DIST } from "./serve.mjs";

/**
 * What is fetched before the first drawing can be dragged, kB. The aim is 450 by gzip and 350 by brotli. The verdict, the
 * saved form with link, history and store, the phase map, sizes, results and the keypad come right after it, each other
 * part when it is first wanted. What is left is the framework with the code of its generic parts (about half), the
 * analysis with its findings, and the first two drawings.
 */
const BUDGET_KB = { gzip: 403, brotli: 349 };

/**
 * All code of the app, kB of gzip, fetched part by part. The area of the whole gearbox has 160 of it: its tables, the
 * section along the shafts, the drum, the archive of all rings, and what tells the part at fault. The ignition cut and the
 * comparison's chart and player are 30 more. The six stories have 40, and sweeps, figures for papers and what the parts
 * share with them 80; of these 3 come before the first drawing. A photograph of a ring has 130: a part of its own, built for
 * speed, and what the other parts share with it; it is fetched when somebody opens one. A whole shift in time has 15, and the
 * whole driveline, with its fifteen inputs, 21; of these the inputs, 1, come before the first drawing. The report on a whole
 * gearbox, words that open where they stand, and figures printed as PDF are 20. A photograph that is kept in the file, dogs
 * cut down in it, and what a bent lens would change are 25; of these 1.6 come before the first drawing, where files are read.
 * Maps of sweeps, words of figures as outlines, the list of sources, lectures in Compare and the data of charts in time are
 * 26. The outlines themselves, 26 more, are no code: they are fetched when a figure wants them.
 * The verdict and what reads a link as parts of their own are 18: code that several parts share is packed by itself.
 * Every manner of a shift, the foot before it, another variant beside it, gears at rest and the formulas are 15, 3 of them texts of inputs.
 */
const TOTAL_KB = { gzip: 1850, brotli: 1628 };

const kB = (bytes) => (bytes / 1000).toFixed(1).padStart(8);

const weighed = (names) =>
  readdirSync(DIST).filter((name) => names.test(name)).map((name) => {
    const [raw, gzip, brotli] = ["", ".gz", ".br"].map((ending) => statSync(join(DIST, name + ending)).size);
    return { name, raw, gzip, brotli };
  });
const sizes = weighed(/^(index\.html|crenel-app-.*\.(js|wasm)|parts-.*\.js|style-.*\.css)$/);
const parts = weighed(/^part-.*\.(bin|wasm)$/);
const sum = (of, key) => of.reduce((sum, size) => sum + size[key], 0);
const line = (name, of) =>
  console.log(`  ${name.padEnd(34)}${["raw", "gzip", "brotli"].map((key) => kB(sum(of, key))).join("")}`);
console.log(`Before the first drawing, kB ${"raw".padStart(15)}${"gzip".padStart(8)}${"brotli".padStart(8)}`);
for (const size of sizes) line(size.name.replace(/-[0-9a-f]{16}/, ""), [size]);
line(`together; the budget is ${BUDGET_KB.gzip} and ${BUDGET_KB.brotli}`, sizes);
line(`${parts.length} parts, each when wanted`, parts);
line(`all; the budget is ${TOTAL_KB.gzip} and ${TOTAL_KB.brotli}`, [...sizes, ...parts]);
if (!sizes.some(({ name }) => extname(name) === ".wasm")) {
  console.error("There is no built app to weigh. Build it first: make build.");
  process.exit(1);
}
const budgets = [
  ["The first drawing waits for", sizes, BUDGET_KB],
  ["All parts together are", [...sizes, ...parts], TOTAL_KB],
].flatMap(([what, of, budget]) => Object.entries(budget).map(([key, most]) => [what, sum(of, key), key, most]));
for (const [what, bytes, key, most] of budgets.filter(([, bytes, , most]) => bytes > most * 1000)) {
  console.error(
    `${what} ${kB(bytes).trim()} kB by ${key}; the budget is ${most} kB. Find what grew, or raise the budget with a reason.`,
  );
  process.exitCode = 1;
}

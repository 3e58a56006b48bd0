// Fails when what a first visit downloads grows past its budget, packed as hosts pack it.
//
//     node tests/browser/budget.mjs
import { readdirSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";
import { DIST } from "./serve.mjs";

/**
 * What is fetched before the first drawing, kB of gzip. The aim is 450, and is missed until parts of the module are
 * fetched when they are wanted. Cuts with their tolerance and prices, exact shares, undo that outlives a reload, links
 * that survive and cautions on every file cost 45; the catalogues and drawings that are patched cost 13;
 * the catalogue of sentences with its reader, in two Englishes, costs 13; that every text of the page and the core is
 * in it, with a key by which another language replaces it and values that follow the reader's units, costs 52;
 * the verdict, the frame with its inspector, Find, bars, hatches and charts whose words never collide cost 112;
 * what is typed above the keypad of a phone, its keys, icons, the system's sheet and codes in digits cost 18;
 * the smallest cut sought dog by dog costs 20, and values not given, the doors and checks one at a time cost 30;
 * the smallest cut sought beside the page, with ceilings and its table of offers, costs 23; tolerances, ranges and
 * limits that hold together cost 35; set-up, plates, depths, the rotary axis, the check on the bench and measured
 * sizes judged cost 25; readings of gauges with their fit 12; forces, “as found, as cut, both” and “Why” 8;
 * variants with their lines, comparisons of six with what can be held, and their tables as files cost 25.
 */
const BUDGET_KB = 1275;

const brotli = (bytes) => brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } });
const kB = (bytes) => (bytes / 1000).toFixed(1).padStart(8);

const first = readdirSync(DIST).filter((name) => /^(index\.html|crenel-app-.*|style-.*\.css)$/.test(name));
const sizes = first.map((name) => {
  const bytes = readFileSync(join(DIST, name));
  return { name, raw: bytes.length, gzip: gzipSync(bytes, { level: 9 }).length, brotli: brotli(bytes).length };
});
const total = (key) => sizes.reduce((sum, size) => sum + size[key], 0);
console.log(`First visit, kB ${"raw".padStart(24)}${"gzip".padStart(8)}${"brotli".padStart(8)}`);
for (const { name, raw, gzip, brotli } of sizes) {
  console.log(`  ${name.replace(/-[0-9a-f]{16}/, "").padEnd(30)}${kB(raw)}${kB(gzip)}${kB(brotli)}`);
}
console.log(
  `  ${`all; the budget is ${BUDGET_KB}`.padEnd(30)}${kB(total("raw"))}${kB(total("gzip"))}${kB(total("brotli"))}`,
);
if (!sizes.some(({ name }) => extname(name) === ".wasm")) {
  console.error("There is no built app to weigh. Build it first: make build.");
  process.exit(1);
}
if (total("gzip") > BUDGET_KB * 1000) {
  console.error(
    `A first visit downloads ${kB(total("gzip")).trim()} kB; the budget is ${BUDGET_KB} kB. Find what grew, or ` +
      "raise the budget with a reason.",
  );
  process.exit(1);
}

// Makes the modules of a build small, all in one process: binaryen is compiled once, not once for each chunk.
//
//     node tools/build/optimise.mjs LEVEL FILE…      as `wasm-opt -OLEVEL` does, in place
//
// Then it puts functions that are alike near one another, which makes them smaller when packed.
import { readFileSync, writeFileSync } from "node:fs";
import binaryen from "binaryen";
import { alikeTogether, functionsOf, named } from "./order.mjs";

/** How much a level optimises, and how much of that for size. */
const LEVELS = { 0: [0, 0], 1: [1, 0], 2: [2, 0], 3: [3, 0], 4: [4, 0], s: [2, 1], z: [2, 2] };

const [level, ...files] = process.argv.slice(2);
if (!(level in LEVELS)) {
  console.error(`There is no level “${level}”. The levels are ${Object.keys(LEVELS).join(", ")}.`);
  process.exit(2);
}
const [optimise, shrink] = LEVELS[level];
binaryen.setOptimizeLevel(optimise);
binaryen.setShrinkLevel(shrink);
for (const file of files) {
  const module = binaryen.readBinary(readFileSync(file));
  module.optimize();
  // Only tools read what the module says of its features.
  module.runPasses(["strip-target-features"]);
  writeFileSync(file, reordered(module.emitBinary()));
  module.dispose();
}

function reordered(binary) {
  const { bodies, imported } = functionsOf(binary);
  const module = binaryen.readBinary(named(binary, alikeTogether(bodies), imported));
  module.runPasses(["reorder-functions-by-name"]);
  const ordered = module.emitBinary();
  module.dispose();
  return ordered;
}

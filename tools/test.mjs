// Runs the phases of `make test`, those that do not need each other side by side, and prints what each
// took. What a phase writes is shown when it ends. A phase that fails stops those that need it, no other.
//
//     node tools/test.mjs            all
//     node tools/test.mjs cross      some, with what they need
import { spawn } from "node:child_process";
import { cpus } from "node:os";

/**
 * A phase is a target of the Makefile. `needs` names phases that must have passed; `share` is how much of
 * the machine it keeps busy: what waits for the network takes none, what must not be slowed takes all.
 */
const PHASES = [
  { name: "rust", does: "toolchain and crates", make: "setup-rust", needs: [], share: 0 },
  { name: "node", does: "packages of npm", make: "setup-node", needs: [], share: 0 },
  { name: "python", does: "packages of pip", make: "setup-python", needs: [], share: 0 },
  { name: "chromium", does: "a browser", make: "setup-browser", needs: ["node"], share: 0 },
  { name: "app", does: "built and weighed", make: "budget", needs: ["rust", "node"], share: 0.5 },
  { name: "native", does: "tests of the core", make: "native", needs: ["rust"], share: 0.5 },
  { name: "lints", does: "format, lints, docs", make: "check", needs: ["rust"], share: 0.5 },
  { name: "cross", does: "against other libraries", make: "cross", needs: ["rust", "python"], share: 0.5 },
  { name: "canary", does: "set-up with a step missing", make: "canary", needs: ["app"], share: 0.5 },
  { name: "browser", does: "the page", make: "browser", needs: ["app", "python", "chromium"], share: 1 },
  {
    name: "lighthouse",
    does: "access, best practices",
    make: "lighthouse",
    needs: ["app", "python", "chromium"],
    share: 1,
  },
];

const asked = process.argv.slice(2);
for (const name of asked) {
  if (!PHASES.some((phase) => phase.name === name)) {
    console.error(`There is no phase “${name}”. The phases are ${PHASES.map((phase) => phase.name).join(", ")}.`);
    process.exit(2);
  }
}
const phases = asked.length ? withNeeds(asked) : PHASES;
const begun = Date.now();
const running = new Set();
const ended = new Map();

function withNeeds(names) {
  const wanted = new Set();
  const want = (name) => {
    wanted.add(name);
    PHASES.find((phase) => phase.name === name).needs.forEach(want);
  };
  names.forEach(want);
  return PHASES.filter((phase) => wanted.has(phase.name));
}

/** Runs a phase; gives its exit code. What it writes is kept in the order in which it is written. */
function run(phase) {
  return new Promise((done) => {
    const told = [];
    const make = spawn("make", ["--no-print-directory", phase.make], { stdio: ["ignore", "pipe", "pipe"] });
    make.stdout.on("data", (chunk) => told.push(chunk));
    make.stderr.on("data", (chunk) => told.push(chunk));
    make.on("error", (error) => told.push(Buffer.from(`${error.message}\n`)));
    make.on("close", (code) => done({ code, told: Buffer.concat(told).toString() }));
  });
}

const seconds = (ms) => `${Math.round(ms / 1000)} s`;
const busy = () => [...running].reduce((sum, phase) => sum + phase.share, 0);
const passed = (name) => ended.get(name)?.code === 0;
const lost = (phase) => phase.needs.some((name) => ended.has(name) && !passed(name));

async function begin(phase) {
  running.add(phase);
  const start = Date.now();
  console.log(`… ${phase.name} begins after ${seconds(start - begun)}`);
  const { code, told } = await run(phase);
  running.delete(phase);
  ended.set(phase.name, { code, start, end: Date.now() });
  console.log(
    `\n==== ${phase.name}: ${code === 0 ? "passed" : `FAILED with ${code}`} ` +
      `in ${seconds(Date.now() - start)} ====\n${told}`,
  );
}

/** Begins whatever may begin; ends when nothing runs and nothing may begin. */
async function all() {
  const waiting = new Set(phases);
  const ends = new Set();
  for (;;) {
    for (const phase of waiting) {
      if (lost(phase)) {
        waiting.delete(phase);
        ended.set(phase.name, { code: "not run" });
      } else if (phase.needs.every(passed) && busy() + phase.share <= 1) {
        waiting.delete(phase);
        const end = begin(phase).finally(() => ends.delete(end));
        ends.add(end);
      }
    }
    if (!ends.size) return;
    await Promise.race(ends);
  }
}

function table() {
  console.log(`\n${"phase".padEnd(12)}${"".padEnd(32)}${"begins".padStart(8)}${"takes".padStart(8)}`);
  for (const { name, does } of phases) {
    const { code, start, end } = ended.get(name);
    const times =
      start === undefined ? "not run" : `${seconds(start - begun).padStart(8)}${seconds(end - start).padStart(8)}`;
    console.log(`${name.padEnd(12)}${does.padEnd(32)}${times}${code === 0 ? "" : "  FAILED"}`);
  }
  console.log(`${"all".padEnd(12)}${`on ${cpus().length} cores`.padEnd(40)}${seconds(Date.now() - begun).padStart(8)}`);
}

await all();
table();
const failed = phases.filter(({ name }) => !passed(name)).map(({ name }) => name);
console.log(failed.length ? `failed: ${failed.join(", ")}` : "all tests passed");
process.exit(failed.length ? 1 : 0);

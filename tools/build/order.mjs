// The order of the functions of a module. Packers look back over a short stretch only – 32 kB for gzip – so a module
// packs smaller where functions that are alike stand near one another.

/** So many bytes in a row are looked at as one: a few instructions. */
const RUN = 6;

/** A run that more functions have than this says nothing of any two of them. */
const COMMON = 60;

/** How far back a packer looks, less what a function adds itself. */
const WINDOW = 30_000;

/** What a function has in common with those before it counts per byte, a little less so for the long ones. */
const LENGTH_POWER = 0.7;

const CUSTOM = 0;
const IMPORTS = 2;
const CODE = 10;
const FUNCTION_NAMES = 1;

/** The functions of a module, as bytes, and how many others it imports. */
export function functionsOf(module) {
  const bodies = [];
  let imported = 0;
  for (const { id, start } of sections(module)) {
    const read = reader(module, start);
    if (id === IMPORTS) imported = importedFunctions(read);
    if (id !== CODE) continue;
    for (let left = read.number(); left > 0; left -= 1) {
      const size = read.number();
      bodies.push(module.subarray(read.at, read.at + size));
      read.at += size;
    }
  }
  return { bodies, imported };
}

/** An order of byte strings in which each is like those just before it: indices, the longest first. */
export function alikeTogether(bodies) {
  const runs = telling(bodies.map(runsOf));
  const having = new Map();
  for (const [index, own] of runs.entries()) {
    for (const run of own) {
      if (!having.has(run)) having.set(run, []);
      having.get(run).push(index);
    }
  }
  const weight = bodies.map((body) => (body.length + 20) ** LENGTH_POWER);
  const shared = new Int32Array(bodies.length);
  const seen = new Map();
  const count = (index, by) => {
    for (const run of runs[index]) {
      const before = seen.get(run) ?? 0;
      seen.set(run, before + by);
      // Only the first to come into the window and the last to leave it change what others share with it.
      if (before === 0 || before + by === 0) for (const other of having.get(run)) shared[other] += by;
    }
  };
  const left = new Set(bodies.keys());
  const longestFirst = [...left].sort((a, b) => bodies[b].length - bodies[a].length);
  const order = [];
  let oldest = 0;
  let inWindow = 0;
  while (left.size > 0) {
    let next = -1;
    let most = 0;
    for (const index of left) {
      const score = shared[index] / weight[index];
      if (score > most) [most, next] = [score, index];
    }
    if (next < 0) next = longestFirst.find((index) => left.has(index));
    left.delete(next);
    order.push(next);
    count(next, 1);
    inWindow += bodies[next].length;
    for (; inWindow > WINDOW && oldest < order.length - 1; oldest += 1) {
      count(order[oldest], -1);
      inWindow -= bodies[order[oldest]].length;
    }
  }
  return order;
}

/** A module in which its functions are named so that sorting by name brings them into an order. */
export function named(module, order, imported) {
  const digits = String(order.length).length;
  const names = new Map(order.map((index, place) => [index + imported, String(place).padStart(digits, "0")]));
  const pairs = [...names].sort(([a], [b]) => a - b).flatMap(([index, name]) => [...number(index), ...text(name)]);
  const all = [...number(names.size), ...pairs];
  const content = [...text("name"), FUNCTION_NAMES, ...number(all.length), ...all];
  return Uint8Array.from([...module, CUSTOM, ...number(content.length), ...content]);
}

function* sections(module) {
  for (let at = 8; at < module.length; ) {
    const read = reader(module, at + 1);
    const size = read.number();
    yield { id: module[at], start: read.at };
    at = read.at + size;
  }
}

function importedFunctions(read) {
  let functions = 0;
  for (let left = read.number(); left > 0; left -= 1) {
    read.skip();
    read.skip();
    const kind = read.bytes[read.at];
    read.at += 1;
    if (kind === 0) {
      functions += 1;
      read.number();
    } else if (kind === 3) {
      read.at += 2;
    } else {
      // A table has a type before its limits.
      if (kind === 1) read.at += 1;
      const bounded = read.number() & 1;
      for (let numbers = 1 + bounded; numbers > 0; numbers -= 1) read.number();
    }
  }
  return functions;
}

/** Reads the numbers of a module, seven bits to a byte. */
const reader = (bytes, at) => ({
  bytes,
  at,
  number() {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = bytes[this.at++];
      value += (byte & 127) * 2 ** shift;
      if (byte < 128) return value;
    }
  },
  /** Passes by bytes whose number is told before them. */
  skip() {
    const size = this.number();
    this.at += size;
  },
});

const number = (value) => (value < 128 ? [value] : [(value & 127) | 128, ...number(value >>> 7)]);
const text = (string) => [...number(string.length), ...Buffer.from(string)];

/** All runs of bytes of a function, each as a number. */
function runsOf(body) {
  const runs = new Set();
  for (let at = 0; at + RUN <= body.length; at += 1) {
    let run = 0;
    for (let byte = 0; byte < RUN; byte += 1) run = (Math.imul(run, 0x01000193) ^ body[at + byte]) >>> 0;
    runs.add(run);
  }
  return runs;
}

/** Of runs, those that more than one has, but not many. */
function telling(all) {
  const times = new Map();
  for (const runs of all) for (const run of runs) times.set(run, (times.get(run) ?? 0) + 1);
  return all.map((runs) => [...runs].filter((run) => times.get(run) > 1 && times.get(run) <= COMMON));
}

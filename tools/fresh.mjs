// Proves that the first command works on a machine that has nothing but rustup, Node and make.
//
//     node tools/fresh.mjs              clones HEAD, runs `make serve` there, waits for the first drawing
//     node tools/fresh.mjs --canary     the same with a step of the set-up deleted, and with a source that
//                                       does not compile: each must fail
//
// Everything that a command may have left on this machine is out of reach: home, caches of cargo, npm and
// pip, and temporary files lie in a new folder. Only rustup's toolchains are kept.
import { execFileSync, spawn } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { homedir, tmpdir } from "node:os";
import { join } from "node:path";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

const HERE = fileURLToPath(new URL("..", import.meta.url));
const PATIENCE_MS = 20 * 60_000;

const bare = mkdtempSync(join(tmpdir(), "crenel-fresh-"));
const inside = (name) => {
  const path = join(bare, name);
  mkdirSync(path, { recursive: true });
  return path;
};

const trial = process.argv.includes("--canary");
const env = {
  ...process.env,
  // A fault shows without crates and packages being fetched once more.
  ...(trial ? {} : nothing()),
  // Another port than that of an app that may be running here.
  PORT: String(20000 + (process.pid % 20000)),
  CI: "1",
};
// What the surrounding make told its own children is not there on a bare machine.
for (const name of ["MAKEFLAGS", "MAKELEVEL", "MFLAGS", "CARGO_TARGET_DIR", "DIST"]) delete env[name];

/** Where a command looks for what was installed or fetched before, all empty. */
function nothing() {
  return {
    RUSTUP_HOME: process.env.RUSTUP_HOME ?? join(homedir(), ".rustup"),
    HOME: inside("home"),
    CARGO_HOME: inside("cargo"),
    npm_config_cache: inside("npm"),
    PIP_CACHE_DIR: inside("pip"),
    XDG_CACHE_HOME: inside("cache"),
    TMPDIR: inside("tmp"),
  };
}

/** A clone of HEAD. */
function clone(name) {
  const folder = join(bare, name);
  execFileSync("git", ["clone", "--quiet", "--no-hardlinks", HERE, folder], { stdio: "inherit" });
  return folder;
}

/** Runs `make serve` in a folder until it says where the page is; gives the address, or why there is none. */
function served(folder) {
  return new Promise((done) => {
    const make = spawn("make", ["serve"], { cwd: folder, env, detached: true });
    let said = "";
    const end = (result) => {
      clearTimeout(timer);
      done({ ...result, said, stop: () => stop(make) });
    };
    const hear = (stream) => (chunk) => {
      stream.write(chunk);
      said += chunk;
      const url = /Crenel is at (\S+)/.exec(said)?.[1];
      if (url) end({ url });
    };
    make.stdout.on("data", hear(process.stdout));
    make.stderr.on("data", hear(process.stderr));
    make.on("close", (code) => end({ code }));
    const timer = setTimeout(() => end({ code: "none in time" }), PATIENCE_MS);
  });
}

/** Ends make and what it started, whose complaints about that are nobody's business. */
function stop(make) {
  for (const stream of [make.stdout, make.stderr]) stream.removeAllListeners("data").resume();
  try {
    process.kill(-make.pid);
  } catch {
    // It has ended already.
  }
}

/** Opens the page in the browser that is here, goes in by the example's door and waits for its drawing. */
async function drawn(folder, url) {
  const executablePath = execFileSync("sh", ["tests/browser/find-chromium.sh", "--install"], {
    cwd: folder,
    encoding: "utf8",
  }).trim();
  const { chromium } = createRequire(join(folder, "package.json"))("@playwright/test");
  const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"];
  const browser = await chromium.launch({ executablePath, args });
  try {
    const page = await browser.newPage();
    const wrong = [];
    page.on("pageerror", (error) => wrong.push(error.message));
    await page.goto(url);
    await page.getByRole("button", { name: "Try the example" }).click({ timeout: 60_000 });
    await page.locator('path[data-dog="A1"]').first().waitFor({ timeout: 60_000 });
    if (wrong.length) throw new Error(`the page complains: ${wrong.join("; ")}`);
  } finally {
    await browser.close();
  }
}

async function fresh() {
  const started = Date.now();
  const folder = clone("crenel");
  const { url, code, stop } = await served(folder);
  if (!url) throw new Error(`\`make serve\` ended with ${code} and served nothing.`);
  try {
    const built = Date.now();
    await drawn(folder, url);
    const s = (ms) => `${Math.round(ms / 1000)} s`;
    console.log(`fresh: served after ${s(built - started)}, first drawing ${s(Date.now() - built)} later`);
  } finally {
    stop();
  }
}

/** What is missing or wrong in a clone, of which nothing may be served. */
const CANARIES = [
  ["the packages of npm are not installed", "Makefile", (text) => text.replace(/^\tnpm ci .*\n/m, "")],
  ["the build program is not built", "Makefile", (text) => text.replace(/^\tcargo build .*crenel-build.*\n/m, "")],
  ["the app does not compile", "www/index.html", (text) => text.replace('data-bin="crenel-app"', 'data-bin="none"')],
];

/** Each fault must end the command with a reason. What is built here already is used: faults are all that counts. */
async function canary() {
  const built = join(HERE, "target/tool");
  for (const [what, file, spoil] of CANARIES) {
    const folder = clone(what.replaceAll(" ", "-"));
    const path = join(folder, file);
    const sound = readFileSync(path, "utf8");
    if (spoil(sound) === sound) throw new Error(`canary: nothing to take out of ${file}: ${what}`);
    writeFileSync(path, spoil(sound));
    if (existsSync(built)) cpSync(built, join(folder, "target/tool"), { recursive: true, preserveTimestamps: true });
    rmSync(join(folder, "target/tool/crenel-build"), { force: true });
    const { url, code, said, stop } = await served(folder);
    stop();
    if (url) throw new Error(`canary: ${what}, and yet \`make serve\` served ${url}`);
    if (!/missing|error|No such file|not found/.test(said))
      throw new Error(`canary: ${what}, and \`make serve\` gave no reason`);
    console.log(`canary: ${what}: make serve ended with ${code} and served nothing, as it must`);
  }
}

try {
  await (trial ? canary() : fresh());
} catch (error) {
  console.error(`fresh: ${error.message}`);
  process.exitCode = 1;
} finally {
  rmSync(bare, { recursive: true, force: true, maxRetries: 5, retryDelay: 500 });
}

// The licences of all that the module is made of: every crate, those that write code into it (procedural
// macros) included, and Rust's standard library. Equal texts are printed once.
//
// Read from what the build has just compiled, so that the list cannot fall behind Cargo.lock. A crate
// for which no text can be found ends the build.
import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const TARGET = "wasm32-unknown-unknown";
const root = fileURLToPath(new URL("..", import.meta.url));
const run = (name, ...words) => execFileSync(name, words, { cwd: root, encoding: "utf8", maxBuffer: 1 << 28 }).trim();
const ours = (name) => readFileSync(join(root, name), "utf8");

// ---- the crates ----

/** Every crate that the module needs, with the texts that were published with it. */
function crates() {
  const { packages, resolve } = JSON.parse(run("cargo", "metadata", "--format-version=1", "--locked",
    `--filter-platform=${TARGET}`, "--manifest-path=src/app/Cargo.toml"));
  const needs = new Map(resolve.nodes.map(({ id, deps }) =>
    [id, deps.filter((dep) => dep.dep_kinds.some(({ kind }) => kind === null)).map((dep) => dep.pkg)]));
  const reached = new Set([resolve.root]);
  // A set goes on to what is added to it on the way.
  for (const id of reached) needs.get(id).forEach((need) => reached.add(need));
  const needed = packages.filter(({ id }) => reached.has(id)).map((made) => ({ ...made, texts: published(made) }));
  return needed.map((made) => ({ ...made, texts: made.texts.length > 0 ? made.texts : borrowed(made, needed) }));
}

/** The texts beside the manifest, or else at the head of the source. Crates of our own share those in the root. */
function published({ manifest_path: manifest, source }) {
  const folder = source === null ? root : dirname(manifest);
  const files = readdirSync(folder, { withFileTypes: true }).filter((entry) =>
    entry.isFile() && /^(licen[cs]e|copying|copyright|notice|unlicense)/i.test(entry.name));
  if (files.length > 0) return files.map(({ name }) => readFileSync(join(folder, name), "utf8"));
  const head = /^\/\*([\s\S]*?)\*\//.exec(readFileSync(join(folder, "src/lib.rs"), "utf8"))?.[1] ?? "";
  return head.includes("Permission is hereby granted") ? [head.replace(/^ \* ?/gm, "")] : [];
}

/**
 * Crates are often published without the licence file of their repository. Then it is that of another crate
 * from there; or else the text that the manifest names, with the authors that it names.
 */
function borrowed(made, all) {
  const home = ({ repository }) => /^https:\/\/[^/]+\/[^/]+\/[^/.]+/.exec(repository ?? "")?.[0];
  const sibling = all.find(
    (other) => other.texts.length > 0 && home(other) !== undefined && home(other) === home(made),
  );
  if (sibling) return sibling.texts;
  if (!/^(MIT|.* OR MIT|MIT OR .*)$/.test(made.license)) {
    throw new Error(`${made.name} ${made.version} came without a licence text. Say in www/licences.mjs which it is.`);
  }
  const authors = made.authors.map((author) => author.replace(/ <.*>/, "")).join(", ");
  return [mitOf(authors || `the authors of ${made.name}`)];
}

const mitOf = (holders) => ours("LICENSE-MIT").replace(/^Copyright.*$/m, `Copyright (c) ${holders}`);

// ---- the standard library ----

/** What of it is compiled for the module's target, from the notice that comes with the compiler. */
function standardLibrary() {
  const sysroot = run("rustc", "--print", "sysroot");
  const built = new Set(readdirSync(join(sysroot, "lib/rustlib", TARGET, "lib")).map((name) =>
    /^lib(.*)-[0-9a-f]+\.rlib$/.exec(name)?.[1]));
  const [own, ...parts] = readFileSync(join(sysroot, "share/doc/rust/COPYRIGHT-library.html"), "utf8").split("<h3>");
  const all = parts.map(standardPart).filter(({ name }) => built.has(name.replaceAll("-", "_")));
  return [{
    name: "std",
    version: run("rustc", "--version").split(" ")[1],
    license: "MIT OR Apache-2.0",
    texts: [bare(own.slice(own.indexOf('id="longer-version">') + 20, own.indexOf('<h2 id="out-of-tree'))),
      mitOf("The Rust Project Developers"), ours("LICENSE-APACHE")],
  }, ...all];
}

function standardPart(html) {
  const [, name, version] = /(\w\S*?)-(\d\S*)<\/h3>/.exec(html);
  const license = /License:<\/b>\s*([^<]+)</.exec(html)[1].trim();
  const texts = [...html.matchAll(/<pre>([\s\S]*?)<\/pre>/g)].map(([, text]) => bare(text));
  if (texts.length === 0) texts.push(mitOf(`the authors of ${name}`));
  return { name, version, license, texts };
}

const SIGNS = { lt: "<", gt: ">", quot: '"', amp: "&" };
const sign = (_, name) => SIGNS[name] ?? String.fromCodePoint(Number(name.slice(1).replace("x", "0x")));
const bare = (html) => html.replace(/<[^>]+>/g, "").replace(/&(lt|gt|quot|amp|#x?\w+);/g, sign);

// ---- the file ----

/** Without what differs between copies of one text: ends of lines, empty lines at either end and doubled. */
const tidy = (text) => text.replace(/^\uFEFF/, "").replace(/[ \t\r]+$/gm, "").replace(/\n{3,}/g, "\n\n")
  .replace(/^\n+|\n+$/g, "");

/** The file that goes with the download. */
export function licences() {
  const texts = new Map();
  const number = (text) => {
    const key = text.replace(/\s+/g, " ").trim();
    if (!texts.has(key)) texts.set(key, { number: texts.size + 1, text: tidy(text) });
    return texts.get(key).number;
  };
  const line = ({ name, version, license, texts: own }) =>
    `${`${name} ${version}`.padEnd(34)} ${license.padEnd(36)} ` +
      `${[...new Set(own.map(number))].sort((a, b) => a - b).join(", ")}`;
  const made = crates().map(line);
  const standard = standardLibrary().map(line);
  const [ofLetters] = ours("www/letters.txt").split("\n\n");
  const letters = line({ name: "Liberation Sans, outlines of", version: "2.1.5", license: "OFL-1.1", texts: [ofLetters] });
  const printed = [...texts.values()].map(
    ({ number: n, text }) => `${"-".repeat(20)} ${n} ${"-".repeat(20)}\n\n${text}\n`,
  );
  return `Licences of all that is in Crenel's download

Crenel is licensed under MIT or Apache 2.0, at your choice. Its module is made of these crates, each
under its own licence. Some wrote code into it and are not in it themselves. The numbers after a
licence are those of the texts below; equal texts are printed once.

Crates

${made.join("\n")}

Rust's standard library

${standard.join("\n")}

The letters of figures whose words are outlines

${letters}

Texts

${printed.join("\n")}`;
}

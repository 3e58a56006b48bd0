// Fails when a crate of the download has no licence text in `dist/licences.txt`.
//
//     node tests/browser/licences.mjs
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { DIST } from "./serve.mjs";

/** What cargo itself says the module is made of; the file is made from another of its lists. */
const tree = execFileSync("cargo", ["tree", "--locked", "--target", "wasm32-unknown-unknown", "--package", "crenel-app",
  "--edges", "normal,no-proc-macro", "--prefix", "none", "--format", "{p}"], { encoding: "utf8" });
const crates = [
  ...new Set(
    tree
      .split("\n")
      .map((line) => /^(\S+) v(\S+)/.exec(line))
      .filter(Boolean)
      .map(([, name, version]) => `${name} ${version}`),
  ),
];

/** The crates that the file does not name, or names without a text that is there and is one. */
function missing(file) {
  const texts = new Map(file.split(/^-{20} (?=\d+ -{20}$)/m).slice(1).map((part) => [parseInt(part), part]));
  const length = (number) => texts.get(Number(number))?.length ?? 0;
  return crates.filter((crate) => {
    const line = file.split("\n").find((one) => one.startsWith(`${crate} `)) ?? "";
    const numbers = /  ?(\d[\d, ]*)$/.exec(line)?.[1].split(", ") ?? [];
    // A notice of a line may stand beside it, but no licence is so short.
    return !numbers.every((number) => length(number) > 0) || !numbers.some((number) => length(number) > 500);
  });
}

const fail = (reason) => {
  console.error(reason);
  process.exit(1);
};
const file = readFileSync(join(DIST, "licences.txt"), "utf8");
if (crates.length < 100 || !crates.some((crate) => crate.startsWith("leptos ")))
  fail("The crates of the download were not found.");
const gone = missing(file);
if (gone.length > 0) fail(`In licences.txt is no text for ${gone.join(", ")}. See www/licences.mjs.`);
// The check itself: without a line, or without the text that it names, the crate must be missed.
const line = file.split("\n").find((one) => one.startsWith("leptos "));
const text = `-------------------- ${/(\d+)$/.exec(line)[1]} `;
for (const without of [file.replace(`${line}\n`, ""), file.replace(text, text.replace(" ", " 9"))]) {
  if (!missing(without).some((crate) => crate.startsWith("leptos "))) fail("This check does not see what is missing.");
}
console.log(`licences.txt has the texts of ${crates.length} crates`);

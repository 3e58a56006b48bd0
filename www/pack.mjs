// Packs the files of a build for hosts that send a file's `.br` in its place. What was packed once is kept under the
// hash of its content: the module takes seconds.
import { createHash } from "node:crypto";
import { mkdir, readFile, readdir, writeFile } from "node:fs/promises";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { brotliCompress, constants } from "node:zlib";

const KEPT = fileURLToPath(new URL("../target/packed", import.meta.url));

/** What gains by it; pictures are packed already. */
const GAINS = new Set([".bin", ".css", ".html", ".js", ".json", ".svg", ".txt", ".wasm", ".webmanifest"]);

const brotli = promisify(brotliCompress);
const SMALLEST = { params: { [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY } };

async function packed(content) {
  const kept = join(KEPT, `${createHash("sha256").update(content).digest("hex")}.br`);
  const found = await readFile(kept).catch(() => null);
  if (found) return found;
  const made = await brotli(content, SMALLEST);
  await writeFile(kept, made);
  return made;
}

/** Writes a packed copy of each file of a folder beside it. The program that builds adds those for gzip. */
export async function pack(folder) {
  await mkdir(KEPT, { recursive: true });
  const names = (await readdir(folder)).filter((name) => GAINS.has(extname(name)));
  const one = async (name) =>
    writeFile(join(folder, `${name}.br`), await packed(await readFile(join(folder, name))));
  await Promise.all(names.map(one));
}

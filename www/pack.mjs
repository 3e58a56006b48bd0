// Packs the files of a build for hosts that send a file's `.br` or `.gz` in its place. What was packed once is kept
// under the hash of its content: the module takes seconds.
import { createHash } from "node:crypto";
import { mkdir, readFile, readdir, writeFile } from "node:fs/promises";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";

const KEPT = fileURLToPath(new URL("../target/packed", import.meta.url));

/** What gains by it; pictures are packed already. */
const GAINS = new Set([".css", ".html", ".js", ".json", ".svg", ".txt", ".wasm", ".webmanifest"]);

const [toBrotli, toGzip] = [brotliCompress, gzip].map(promisify);
const PACKINGS = {
  br: (content) => toBrotli(content, { params: { [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY } }),
  gz: (content) => toGzip(content, { level: 9 }),
};

async function packed(content, ending) {
  const kept = join(KEPT, `${createHash("sha256").update(content).digest("hex")}.${ending}`);
  const found = await readFile(kept).catch(() => null);
  if (found) return found;
  const made = await PACKINGS[ending](content);
  await writeFile(kept, made);
  return made;
}

/** Writes a packed copy of each file of a folder beside it, both ways. */
export async function pack(folder) {
  await mkdir(KEPT, { recursive: true });
  const names = (await readdir(folder)).filter((name) => GAINS.has(extname(name)));
  const both = async (name) => {
    const content = await readFile(join(folder, name));
    const one = async (ending) => writeFile(join(folder, `${name}.${ending}`), await packed(content, ending));
    await Promise.all(Object.keys(PACKINGS).map(one));
  };
  await Promise.all(names.map(both));
}

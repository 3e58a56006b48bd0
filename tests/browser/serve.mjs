// A static file server for the built app. As a good host does, it sends the packed copies that the build
// made or packs itself, sends the headers that the build asks for in `_headers`, does not send again what the browser
// has, and has `404.html` for what is not there.
//
//     node tests/browser/serve.mjs PORT [FOLDER]
import { createHash } from "node:crypto";
import { readFile, stat } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, normalize, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { gzip } from "node:zlib";

const pack = promisify(gzip);

const KINDS = {
  ".bin": "application/octet-stream",
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".ico": "image/x-icon",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
  ".woff2": "font/woff2",
};

/** The built app. */
export const DIST = process.env.DIST ?? fileURLToPath(new URL("../../dist", import.meta.url));

/**
 * Serves `folder()` under the path `under`; resolves to the server and its address. Tells `sent` the path, the
 * status and the bytes of each answer.
 */
export async function serve({ port = 0, folder = DIST, under = "/", sent = () => {} } = {}) {
  const inside = typeof folder === "function" ? folder : () => folder;
  const server = createServer((request, response) => {
    answer(request, response, inside(), under, sent).catch(() => response.writeHead(400).end());
  });
  await new Promise((ready, failed) => server.once("error", failed).listen(port, "127.0.0.1", ready));
  return { server, url: `http://127.0.0.1:${server.address().port}${under}` };
}

async function answer(request, response, folder, under, sent) {
  const { pathname: path } = new URL(request.url, "http://localhost");
  const found = await find(path, folder, under);
  const file = found ?? (path.startsWith(under) ? await find(`${under}404.html`, folder, under) : null);
  if (!file || !["GET", "HEAD"].includes(request.method)) {
    return response.writeHead(404, { "content-type": KINDS[".txt"] }).end("not found\n");
  }
  const kind = KINDS[extname(file)] ?? "application/octet-stream";
  const content = await readFile(file);
  const etag = `"${createHash("sha256").update(content).digest("hex").slice(0, 16)}"`;
  const named = await headersOf(`/${file.slice(folder.length + 1)}`, folder);
  const headers = { "content-type": kind, ...named, etag, vary: "accept-encoding" };
  if (found && request.headers["if-none-match"] === etag) {
    sent({ path, status: 304, bytes: 0 });
    return response.writeHead(304, headers).end();
  }
  let body = content;
  if (PACKED.has(extname(file))) {
    const taken = (request.headers["accept-encoding"] ?? "").split(/[\s,;]+/);
    const [coding, packed] = (await copyOf(file, taken)) ?? ["gzip", taken.includes("gzip") && (await packedNow(file, content))];
    if (packed) {
      body = packed;
      headers["content-encoding"] = coding;
    }
  }
  const status = found ? 200 : 404;
  sent({ path, status, bytes: body.length });
  response.writeHead(status, { ...headers, "content-length": body.length });
  response.end(request.method === "HEAD" ? undefined : body);
}

const PACKED = new Set([".bin", ".css", ".html", ".js", ".json", ".svg", ".txt", ".wasm", ".webmanifest"]);

/** The codings that a build packs in, the smaller first, with the endings of their files. */
const CODINGS = [["br", ".br"], ["gzip", ".gz"]];

/** The packed copy of a file in the first coding that is taken, unless the file was changed after it. */
async function copyOf(file, taken) {
  const { mtimeMs: changed } = await stat(file);
  for (const [coding, ending] of CODINGS.filter(([coding]) => taken.includes(coding))) {
    const copy = await stat(file + ending).catch(() => null);
    if (copy && copy.mtimeMs >= changed) return [coding, await readFile(file + ending)];
  }
  return null;
}

const kept = new Map();

/** Packing takes longer than all else; it is done once for each content. */
async function packedNow(file, body) {
  const key = `${file} ${body.length} ${(await stat(file)).mtimeMs}`;
  if (!kept.has(key)) kept.set(key, await pack(body, { level: 9 }));
  return kept.get(key);
}

/** The headers for a path: lines without an indent name paths, the lines below them headers. */
async function headersOf(path, folder) {
  const lines = (await readFile(join(folder, "_headers"), "utf8").catch(() => "")).split("\n");
  const headers = {};
  let meant = false;
  for (const line of lines) {
    const [, indent, text] = /^(\s*)(.*)$/.exec(line);
    if (!indent) meant = matches(path, text);
    else if (meant) headers[text.slice(0, text.indexOf(":")).toLowerCase()] = text.slice(text.indexOf(":") + 1).trim();
  }
  return headers;
}

const matches = (path, pattern) => {
  const named = path === "/index.html" ? ["/", path] : [path];
  return named.some((name) => (pattern.endsWith("*") ? name.startsWith(pattern.slice(0, -1)) : name === pattern));
};

async function find(path, folder, under) {
  if (!path.startsWith(under)) return null;
  const asked = decodeURIComponent(path.slice(under.length));
  const inside = normalize(/(^|\/)$/.test(asked) ? `${asked}index.html` : asked);
  if (inside === ".." || inside.startsWith(`..${sep}`)) return null;
  const file = join(folder, inside);
  const found = await stat(file).catch(() => null);
  return found?.isFile() ? file : null;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [port, folder] = process.argv.slice(2);
  const { url } = await serve({ port: Number(port), folder });
  console.log(`serving at ${url}`);
}

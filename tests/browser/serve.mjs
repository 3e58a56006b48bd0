// A static file server for the built app, as plain as the host it will stand on.
//
//     node tests/browser/serve.mjs PORT [FOLDER]
import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, normalize, sep } from "node:path";
import { fileURLToPath } from "node:url";

const KINDS = {
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

/** Serves `folder` under the path `under`; resolves to the server and its address. */
export async function serve({ port = 0, folder = DIST, under = "/" } = {}) {
  const server = createServer((request, response) => {
    answer(request, response, folder, under).catch(() => response.writeHead(400).end());
  });
  await new Promise((ready, failed) => server.once("error", failed).listen(port, "127.0.0.1", ready));
  return { server, url: `http://127.0.0.1:${server.address().port}${under}` };
}

async function answer(request, response, folder, under) {
  const file = await find(new URL(request.url, "http://localhost").pathname, folder, under);
  if (!file || !["GET", "HEAD"].includes(request.method)) {
    return response.writeHead(404, { "content-type": KINDS[".txt"] }).end("not found\n");
  }
  const { size } = await stat(file);
  const kind = KINDS[extname(file)] ?? "application/octet-stream";
  response.writeHead(200, { "content-type": kind, "content-length": size, "cache-control": "no-cache" });
  if (request.method === "HEAD") return response.end();
  createReadStream(file).on("error", () => response.destroy()).pipe(response);
}

async function find(path, folder, under) {
  if (!path.startsWith(under)) return null;
  const inside = normalize(decodeURIComponent(path.slice(under.length)) || "index.html");
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

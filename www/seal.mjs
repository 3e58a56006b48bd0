// After a build: writes the script of the worker, and names the inline script that trunk writes in the
// page's Content-Security-Policy, by its hash, so that no other inline script runs and nothing is
// fetched from anywhere but the page's own origin.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const folder = process.env.TRUNK_STAGING_DIR;

// The worker runs the same module as the page, and carries the same hash in its name.
const [, hash] = readdirSync(folder).map((name) => /^crenel-app-([0-9a-f]+)\.js$/.exec(name)).find(Boolean) ?? [];
if (!hash) throw new Error("the build left no crenel-app-….js");
writeFileSync(join(folder, `worker-${hash}.js`), `import init from "./crenel-app-${hash}.js";
await init({ module_or_path: "./crenel-app-${hash}_bg.wasm" });
`);

const page = join(folder, "index.html");
const html = readFileSync(page, "utf8");
const scripts = [...html.matchAll(/<script(?![^>]*\ssrc=)[^>]*>([\s\S]*?)<\/script>/g)];
const hashes = scripts.map(([, body]) => `'sha256-${createHash("sha256").update(body).digest("base64")}'`);
const policy = [
  "default-src 'none'",
  `script-src 'self' 'wasm-unsafe-eval' ${hashes.join(" ")}`,
  "style-src 'self'",
  "img-src 'self' data:",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");
const meta = `<meta http-equiv="Content-Security-Policy" content="${policy}">`;
const sealed = html.replace(/<meta charset="?utf-8"?\s*\/?>/i, (charset) => charset + meta);
if (sealed === html) throw new Error("the page has no charset line to put the policy after");
writeFileSync(page, sealed);

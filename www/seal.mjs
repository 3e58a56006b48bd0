// After a build: writes what depends on the names and the content of the built files.
//
// - the script of the worker, which runs the same module as the page;
// - the licences of all that the module is made of, read only by who opens them;
// - the Content-Security-Policy of each page, which names its inline scripts by their hashes, so that no other
//   inline script runs and nothing is fetched from anywhere but the page's own origin;
// - the headers that a host should send, one file that many hosts read as it is;
// - the service worker with the list of all files and the hashes of their content, under a version made
//   from both;
// - all of it packed with brotli, for hosts that send packed files as they lie.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { licences } from "./licences.mjs";
import { pack } from "./pack.mjs";

const folder = process.env.TRUNK_STAGING_DIR;
const hashOf = (content, coding) => createHash("sha256").update(content).digest(coding);

const [, hash] = readdirSync(folder).map((name) => /^crenel-app-([0-9a-f]+)\.js$/.exec(name)).find(Boolean) ?? [];
if (!hash) throw new Error("the build left no crenel-app-….js");
writeFileSync(join(folder, `worker-${hash}.js`), `import init from "./crenel-app-${hash}.js";
await init({ module_or_path: "./crenel-app-${hash}_bg.wasm" });
`);

writeFileSync(join(folder, "licences.txt"), licences());

/** What a page with these inline scripts may do. */
const policyOf = (scripts) => [
  "default-src 'none'",
  `script-src 'self' 'wasm-unsafe-eval' ${scripts.map((script) => `'sha256-${hashOf(script, "base64")}'`).join(" ")}`,
  "style-src 'self'",
  "img-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  // What text becomes markup or a script is decided by the page's own policy.
  "require-trusted-types-for 'script'",
  "trusted-types default",
].join("; ");

/** Writes its policy into a page; gives the inline scripts it has. */
function sealPage(name) {
  const html = readFileSync(join(folder, name), "utf8");
  const scripts = [...html.matchAll(/<script(?![^>]*\ssrc=)[^>]*>([\s\S]*?)<\/script>/g)].map(([, script]) => script);
  const meta = `<meta http-equiv="Content-Security-Policy" content="${policyOf(scripts)}">`;
  // A browser does not look at the integrity of what is only fetched ahead, and complains of it.
  const quiet = html.replace(/<link[^>]*rel="?preload"?[^>]*>/g, (link) =>
    link.replace(/\sintegrity="?[^\s">]+"?/, ""),
  );
  const sealed = quiet.replace(/<meta charset="?utf-8"?\s*\/?>/i, (charset) => charset + meta);
  if (sealed === quiet) throw new Error(`${name} has no charset line to put the policy after`);
  writeFileSync(join(folder, name), sealed);
  return scripts;
}

const scripts = ["index.html", "404.html"].flatMap(sealPage);

// A page cannot forbid in itself that it is framed; only its host can.
writeFileSync(join(folder, "_headers"), `/*
  Content-Security-Policy: ${policyOf(scripts)}; frame-ancestors 'none'
  Cross-Origin-Opener-Policy: same-origin
  Cross-Origin-Resource-Policy: same-origin
  Permissions-Policy: camera=(), geolocation=(), microphone=()
  Referrer-Policy: no-referrer
  X-Content-Type-Options: nosniff
/
  Cache-Control: no-cache
/index.html
  Cache-Control: no-cache
/service-worker.js
  Cache-Control: no-cache
/crenel-app-*
  Cache-Control: public, max-age=31536000, immutable
/part-*
  Cache-Control: public, max-age=31536000, immutable
/parts-*
  Cache-Control: public, max-age=31536000, immutable
/style-*
  Cache-Control: public, max-age=31536000, immutable
/worker-*
  Cache-Control: public, max-age=31536000, immutable
`);

// What a host sends in place of a page that is none is no part of the app.
const apart = ["404.html", "_headers", "index.html", "service-worker.js"];
const files = readdirSync(folder).filter((name) => !apart.includes(name)).sort();
const held = (name) => hashOf(readFileSync(join(folder, name)), "base64");
const kept = Object.fromEntries(
  [["", "index.html"], ...files.map((name) => [name, name])].map(([name, file]) => [name, held(file)]),
);
const keeper = readFileSync(fileURLToPath(new URL("service-worker.js", import.meta.url)), "utf8");
const version = hashOf(JSON.stringify(kept) + keeper, "hex").slice(0, 16);
writeFileSync(join(folder, "service-worker.js"),
  `const VERSION = "${version}";\nconst FILES = ${JSON.stringify(kept)};\n${keeper}`);

await pack(folder);

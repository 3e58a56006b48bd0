// Serves the built app on this machine only and says where; opens it where there is a desktop.
//
//     node tools/serve.mjs          PORT=8081 for another port than 8080
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { DIST, serve } from "../tests/browser/serve.mjs";

/** So many ports are tried where the one that is asked for is taken. */
const TRIED = 20;

if (!existsSync(join(DIST, "index.html"))) {
  console.error("There is no built app. Build it first: make build.");
  process.exit(1);
}
const url = await served(Number(process.env.PORT ?? 8080));
console.log(`Crenel is at ${url} until you press Ctrl+C.`);
show(url);

async function served(wanted) {
  for (let port = wanted; ; port += 1) {
    try {
      return (await serve({ port })).url;
    } catch (error) {
      if (error.code !== "EADDRINUSE" || port === wanted + TRIED) throw error;
    }
  }
}

/** Opens the page in the reader's browser; where there is none to be asked, the address is enough. */
function show(url) {
  const opener = { darwin: ["open"], win32: ["cmd", "/c", "start", ""] }[process.platform] ?? ["xdg-open"];
  const desktop = process.platform !== "linux" || process.env.DISPLAY || process.env.WAYLAND_DISPLAY;
  if (!desktop || process.env.CI) return;
  spawn(opener[0], [...opener.slice(1), url], { stdio: "ignore", detached: true }).on("error", () => {}).unref();
}

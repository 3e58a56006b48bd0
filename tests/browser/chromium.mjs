import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const finder = fileURLToPath(new URL("find-chromium.sh", import.meta.url));

/** The path of a browser; with "--whole" of one as people have it. */
const found = (...which) => execFileSync("sh", [finder, ...which], { encoding: "utf8" }).trim();
export const wholeBrowser = () => found("--whole");

/** How Chromium is started: in a container, without a graphics card, and quiet on the network. */
export const LAUNCH = {
  executablePath: found(),
  args: [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
  ],
};

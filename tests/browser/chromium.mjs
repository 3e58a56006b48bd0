import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const finder = fileURLToPath(new URL("find-chromium.sh", import.meta.url));

/** How Chromium is started: in a container, without a graphics card, and quiet on the network. */
export const LAUNCH = {
  executablePath: execFileSync("sh", [finder], { encoding: "utf8" }).trim(),
  args: [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
  ],
};

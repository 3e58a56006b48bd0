import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { defineConfig } from "@playwright/test";
import { LAUNCH } from "./chromium.mjs";

const path = (relative) => fileURLToPath(new URL(relative, import.meta.url));

// Workers read this file again and have to arrive at the same port.
process.env.CRENEL_TEST_PORT ??= String(20000 + (process.pid % 20000));
const port = process.env.CRENEL_TEST_PORT;

export default defineConfig({
  testDir: ".",
  testMatch: "*.spec.mjs",
  outputDir: path("../../target/playwright"),
  reporter: [["list"], [path("closing-line.mjs")]],
  // A page waits as often as it computes: one more than there are cores keeps them busy.
  workers: cpus().length + 1,
  // Two cores run page, worker and test at once; a test that fails is tried once more, and is reported as flaky.
  retries: 1,
  fullyParallel: true,
  timeout: 60_000,
  expect: { timeout: 5_000 },
  use: {
    baseURL: `http://127.0.0.1:${port}/`,
    viewport: { width: 1440, height: 1000 },
    locale: "en-GB",
    launchOptions: LAUNCH,
    actionTimeout: 8_000,
    screenshot: "only-on-failure",
  },
  webServer: {
    command: `node "${path("serve.mjs")}" ${port}`,
    url: `http://127.0.0.1:${port}/`,
    reuseExistingServer: false,
  },
});

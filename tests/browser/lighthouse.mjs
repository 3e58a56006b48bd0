// Runs Lighthouse on the built app, served with the headers it asks for.
//
//     node tests/browser/lighthouse.mjs          accessibility and best practices must be 100
//     node tests/browser/lighthouse.mjs --speed  prints the score for speed too, telephone and desk
import { launch } from "chrome-launcher";
import lighthouse, { desktopConfig } from "lighthouse";
import { LAUNCH, wholeBrowser } from "./chromium.mjs";
import { serve } from "./serve.mjs";

const MUST = { accessibility: 1, "best-practices": 1 };

async function scores(url, port, categories, config) {
  const options = { port, output: "json", logLevel: "error", onlyCategories: categories };
  const { lhr } = await lighthouse(url, options, config);
  const failed = Object.values(lhr.audits).filter(
    ({ score, scoreDisplayMode }) => score !== null && score < 1 && scoreDisplayMode === "binary",
  );
  return { lhr, failed: failed.map(({ id, title }) => `${id}: ${title}`) };
}

const speed = process.argv.includes("--speed");
const { server, url } = await serve();
const chrome = await launch({ chromePath: wholeBrowser(), chromeFlags: ["--headless=new", ...LAUNCH.args] });
let low = false;
try {
  const { lhr, failed } = await scores(url, chrome.port, Object.keys(MUST));
  for (const [key, least] of Object.entries(MUST)) {
    const { score, title } = lhr.categories[key];
    console.log(`${title}: ${Math.round(100 * score)}`);
    low ||= score < least;
  }
  if (low) console.error(failed.join("\n"));
  for (const [name, config] of speed ? [["telephone", undefined], ["desk", desktopConfig]] : []) {
    // One run may be off by a fifth: the middle of three.
    const runs = [];
    for (let run = 0; run < 3; run += 1) runs.push((await scores(url, chrome.port, ["performance"], config)).lhr);
    const [, middle] = runs.sort((a, b) => a.categories.performance.score - b.categories.performance.score);
    const parts = [
      "first-contentful-paint",
      "largest-contentful-paint",
      "total-blocking-time",
      "cumulative-layout-shift",
      "speed-index",
    ];
    const cells = parts.map((id) => `${id} ${middle.audits[id].displayValue}`);
    const all = runs.map((lhr) => Math.round(100 * lhr.categories.performance.score)).join(", ");
    console.log(
      `Speed on a ${name}: ${Math.round(100 * middle.categories.performance.score)}, the middle of ${all} ` +
        `(${cells.join(", ")})`,
    );
  }
} finally {
  await chrome.kill();
  server.close();
}
process.exit(low ? 1 : 0);

// axe over the states of the page that differ, on paper and on slate, wide and narrow.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import {
  AREAS, button, dog, eachPicture, expect, field, figure, go, linkOf, more, open, openDesigns, panel,
  PAPER_AND_SLATE, putUp, test, type, violationsIn,
} from "./kit.mjs";

/** Fails on what shuts somebody out; lesser things are written down with the test. */
async function check(page, state) {
  const lines = await violationsIn(page, PAPER_AND_SLATE);
  for (const line of lines) test.info().annotations.push({ type: state, description: line });
  expect.soft(lines.filter((line) => /^\w+: (serious|critical) /.test(line)), state).toEqual([]);
}

for (const width of [1440, 390]) {
  test.describe(`${width} px`, () => {
    test.use({ viewport: { width, height: 900 } });

    test("nobody is shut out", async ({ page }) => {
      await open(page);
      await dog(page, "A2").click();
      await button(page, "Shorten").click();
      await figure(page, "free_angle_deg").locator("summary").click();
      await type(page, "B.height_mm", "abc");
      await panel(page, "A").getByRole("button", { name: /^List each dog/ }).click();
      await expect(field(page, "A1.centre_deg")).toBeVisible();
      await check(page, "a finding, a figure open, a wrong text, dogs listed");

      await type(page, "A1.tip_width_deg", "150");
      await expect(page.locator(".finding.error").first()).toBeVisible();
      await more(page);
      await button(page, "Dog positions (CSV)").click();
      await more(page);
      await check(page, "an error, a notice, the menu open");
    });
  });
}

test("nobody is shut out as the page opens, nor from sharing", async ({ page }) => {
  await open(page);
  await check(page, "as it opens");
  await button(page, "Share").click();
  await check(page, "the share dialog");
});

const LOOKS = { ...PAPER_AND_SLATE, "forced colours": { forcedColors: "active" } };

// A design that has something in every part of the job.
const WHOLE = readFileSync(fileURLToPath(new URL("../../examples/designs/kicks-back.json", import.meta.url)), "utf8");

for (const width of [1440, 360]) {
  test(`every part of the job, ${width} px: axe finds nothing at all`, async ({ page }) => {
    test.setTimeout(300_000);
    await page.setViewportSize({ width, height: 900 });
    await open(page, `./#${linkOf(WHOLE)}`);
    for (const area of [...AREAS, "Help"]) {
      if (area === "Help") {
        if (width < 600) await more(page);
        await button(page, area).click();
        await putUp(page);
      } else {
        await go(page, area);
      }
      await eachPicture(page, async (one) =>
        expect.soft(await violationsIn(page, LOOKS), `${area} ${one}`).toEqual([]));
    }
    await openDesigns(page);
    expect.soft(await violationsIn(page, LOOKS), "designs").toEqual([]);
  });
}

test("no motion where it is not wanted, and outlines where colours are forced", async ({ page }) => {
  await page.emulateMedia({ reducedMotion: "reduce", forcedColors: "active" });
  await open(page);
  await dog(page, "A2").click();
  expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
  const invisible = await page.evaluate(() => [".tip", ".knob", ".blocked"].filter((name) => {
    const { stroke, fill } = getComputedStyle(document.querySelector(`.view ${name}`));
    return stroke === "none" && fill === "none";
  }));
  expect(invisible).toEqual([]);
});

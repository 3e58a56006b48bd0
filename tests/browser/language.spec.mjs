// The two Englishes of the page: what the browser asks for, and what is chosen by hand.
import { button, drawn, expect, field, finding, notice, open, test, type } from "./kit.mjs";

const inHelp = (page) => page.locator("section.help");

test("the English that is chosen under Help is kept, and so is the work", async ({ page }) => {
  await open(page);
  await type(page, "overlap_mm", "3.75");
  await button(page, "Help").click();
  await expect(inHelp(page)).toContainText("dead centre");
  await expect(button(page, "English (UK)")).toHaveAttribute("aria-pressed", "true");
  await button(page, "English (US)").click();
  await expect(page.locator("html")).toHaveAttribute("lang", "en-US");
  await drawn(page);
  await expect(field(page, "overlap_mm")).toHaveValue("3.75");
  await button(page, "Help").click();
  await expect(inHelp(page)).toContainText("dead center");
  await expect(inHelp(page)).not.toContainText("dead centre");
  await expect(button(page, "English (US)")).toHaveAttribute("aria-pressed", "true");
});

test.describe("with a browser that asks for American English", () => {
  test.use({ locale: "en-US" });

  test("the page speaks it", async ({ page }) => {
    await open(page);
    await expect(page.locator("html")).toHaveAttribute("lang", "en-US");
    await expect(page.getByText("Lash at the tire")).toBeVisible();
    for (const ring of ["A", "B"]) await type(page, `${ring}.back_cut_coast_deg`, "-8");
    await expect(finding(page, "pushed_out_on_overrun")).toContainText("When coasting the coast flanks");
  });
});

/** Opens a file under Help, Language. */
async function openLanguage(page, name, text) {
  await button(page, "Help").click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    button(page, "Open a language file").click(),
  ]);
  await chooser.setFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });
}

const SHORT = JSON.stringify({
  tag: "en-XA",
  name: "Short",
  texts: { "page.rings.title": "Rs", "place.of_ring": "R {side}: {label}", "page.frame.open_language": "Open" },
});

test("a language file is kept and used, and what it lacks is English", async ({ page }) => {
  await open(page);
  await type(page, "overlap_mm", "3.75");
  await openLanguage(page, "short.json", SHORT);
  await expect(page.locator("html")).toHaveAttribute("lang", "en-XA");
  await drawn(page);
  await expect(field(page, "overlap_mm"), "the work is kept").toHaveValue("3.75");
  await expect(button(page, "Rs")).toBeVisible();
  await expect(button(page, "Undo"), "English where the file has no text").toBeVisible();
  await page.reload();
  await drawn(page);
  await expect(button(page, "Rs")).toBeVisible();
  await button(page, "Help").click();
  await expect(button(page, "Short")).toHaveAttribute("aria-pressed", "true");
  await button(page, "English (UK)").click();
  await expect(page.locator("html")).toHaveAttribute("lang", "en-GB");
  await drawn(page);
  await button(page, "Help").click();
  await button(page, "Short").click();
  await expect(page.locator("html")).toHaveAttribute("lang", "en-XA");
  await drawn(page);
  await button(page, "Help").click();
  await button(page, "Remove Short").click();
  await expect(page.locator("html")).toHaveAttribute("lang", "en-GB");
  await drawn(page);
  await button(page, "Help").click();
  await expect(button(page, "Short")).toHaveCount(0);
});

test("a file that is no language is refused in a sentence", async ({ page }) => {
  await open(page);
  for (const [text, why] of [
    ["a note", "“tag” is missing"],
    ['{ "tag": "xx", "name": "X" }', "“texts” is missing"],
    ['{ "tag": "xx", "name": "X", "texts": { "page.rings.title": 7 } }', "“page.rings.title” is not text"],
    [SHORT.padEnd(450_001), /at most 450\s?000 characters/],
  ]) {
    await openLanguage(page, "odd.json", text);
    await expect(notice(page)).toContainText("“odd.json” was not opened; the language is unchanged.");
    await expect(notice(page)).toContainText(why);
  }
  await expect(page.locator("html")).toHaveAttribute("lang", "en-GB");
  await expect(button(page, "Dogs")).toBeVisible();
});

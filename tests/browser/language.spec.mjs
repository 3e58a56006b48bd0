// The two Englishes of the page: what the browser asks for, and what is chosen by hand.
import { button, drawn, expect, field, finding, open, test, type } from "./kit.mjs";

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

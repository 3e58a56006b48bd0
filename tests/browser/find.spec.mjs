// Find: a few letters go to a size, a result, a word, an area, an example or an action.
import { button, download, expect, now, openPlain, test } from "./kit.mjs";

const box = (page) => page.getByRole("combobox", { name: "Find" });
const lines = (page) => page.getByRole("listbox", { name: "Matches" }).getByRole("option");

/** Looks for something by the key that works anywhere. */
async function seek(page, words, key = "/") {
  await page.keyboard.press(key);
  await expect(box(page)).toBeFocused();
  await box(page).fill(words);
}

test("a number after a name sets it, and the field takes the cursor", async ({ page }) => {
  await openPlain(page);
  await seek(page, "width a1 30");
  await expect(lines(page).first()).toContainText("24");
  await page.keyboard.press("Enter");
  await expect(box(page)).toHaveCount(0);
  // The rings are not alike any more, so the panel of ring A is open in the inspector.
  await expect(page.locator('.inspector input[data-slot="A.tip_width_deg"]')).toHaveValue("30");
  await expect.poll(() => page.evaluate(() => document.activeElement.dataset.slot)).toBe("A.tip_width_deg");
});

test("a number that is folded away is unfolded, and takes the cursor", async ({ page }) => {
  await openPlain(page);
  await seek(page, "sag of the hanging chain 25");
  await page.keyboard.press("Enter");
  await expect(page.locator('.driveline[open] input[data-slot="chain_sag_mm"]')).toHaveValue("25");
  await expect.poll(() => page.evaluate(() => document.activeElement.dataset.slot)).toBe("chain_sag_mm");
});

test("a result opens, an area opens, and what is not there is said", async ({ page }) => {
  await openPlain(page);
  await seek(page, "retaining force", "ControlOrMeta+k");
  await page.keyboard.press("Enter");
  await expect(page.locator("#results .figure[open]")).toHaveCount(1);
  await seek(page, "pedal to fork");
  await lines(page).filter({ hasText: "Pedal to fork" }).first().click();
  await expect(page.locator(".areas [aria-current=page]")).toHaveText("Pedal to fork");
  await seek(page, "xyzzy");
  await expect(page.getByText("No match.")).toBeVisible();
});

test("actions are found: undo, units, sharing and files", async ({ page }) => {
  await openPlain(page);
  const before = await now(page, "window_time_ms").textContent();
  await seek(page, "width a1 30");
  await page.keyboard.press("Enter");
  await expect(now(page, "window_time_ms")).not.toHaveText(before);
  await page.locator("body").click({ position: { x: 2, y: 2 } });
  await seek(page, "undo");
  await lines(page).filter({ hasText: "Action" }).first().click();
  await expect(now(page, "window_time_ms")).toHaveText(before);
  await seek(page, "inches");
  await page.keyboard.press("Enter");
  await expect(page.locator(".inspector")).toContainText(/in\b/);
  await seek(page, "share");
  await lines(page).filter({ hasText: "Action" }).first().click();
  await expect(page.getByRole("dialog", { name: "Share this design" })).toBeVisible();
  await page.keyboard.press("Escape");
  await seek(page, "dog positions csv");
  const { name } = await download(page, () => lines(page).filter({ hasText: "Action" }).first().click());
  expect(name).toMatch(/-dogs\.csv$/);
  await expect(button(page, "Share")).toBeVisible();
});

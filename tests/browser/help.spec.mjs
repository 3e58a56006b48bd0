// What a newcomer finds: the words, the keys, how everything is computed, designs to open.
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import {
  button, drawn, dog, expect, field, figure, go, keptLink, linkOf, notice, open, openDesigns, test, title, type,
} from "./kit.mjs";

const help = (page) => page.getByRole("region", { name: "Help", exact: true });

test("the key ? opens the help, but not while somebody types", async ({ page }) => {
  await open(page);
  await title(page).focus();
  await page.keyboard.type("Why?");
  await expect(title(page)).toHaveValue(/Why\?/);
  await dog(page, "A2").click();
  await page.keyboard.press("?");
  await expect(help(page).getByRole("heading", { name: "Keys" })).toBeVisible();
});

test("a word is found by itself, by its other name and by what explains it", async ({ page }) => {
  await open(page);
  await button(page, "Help").click();
  const terms = help(page).locator(".terms dt");
  const all = await terms.count();
  expect(all).toBeGreaterThan(40);
  const search = help(page).getByRole("searchbox", { name: "Find a word" });
  for (const word of ["undercut", "LASH", "shim"]) {
    await search.fill(word);
    await expect(terms.first(), word).toBeVisible();
    expect(await terms.count(), word).toBeLessThan(all);
  }
  await search.fill("zzz");
  await expect(help(page).getByText("Not found.")).toBeVisible();
});

test("how it is computed is the text that the results open to", async ({ page }) => {
  await open(page);
  const lash = figure(page, "free_angle_deg");
  await lash.locator("summary").click();
  const told = await lash.locator("dd").allTextContents();
  await button(page, "Help").click();
  const entry = help(page).locator("details.figure").filter({ has: page.getByText("Window width", { exact: true }) });
  await entry.locator("summary").click();
  const [meaning, formula, here, source] = await entry.locator("dd").allTextContents();
  expect([meaning, formula, source]).toEqual([told[0], told[1], told[4]]);
  expect(here).toContain(told[2]);
  await expect(help(page).locator("details.figure").nth(60)).toBeAttached();
});

test("the list of checks passed is there with its sources", async ({ page }) => {
  await open(page);
  await button(page, "Help").click();
  await help(page).getByText("The check values", { exact: true }).click();
  const rows = help(page).getByRole("region", { name: "Check values" }).locator("tbody tr");
  await expect(rows.nth(246)).toBeAttached();
  await expect(help(page).getByText(/^\d{3} results are compared with/)).toBeVisible();
});

test("the licences of what the app is made of are fetched when they are opened, and not before", async ({ page }) => {
  const asked = [];
  page.on("request", (request) => { if (request.url().endsWith("/licences.txt")) asked.push(request.url()); });
  await open(page);
  await button(page, "Help").click();
  const summary = help(page).getByText("Licences of everything in Crenel", { exact: true });
  await expect(summary).toBeVisible();
  expect(asked).toEqual([]);
  await summary.click();
  const texts = help(page).getByRole("region", { name: "Licences" });
  await expect(texts).toContainText(/^leptos \d\S* +MIT /m);
  await expect(texts).toContainText("Permission is hereby granted");
  expect(asked.length).toBe(1);
});

test("every example opens from the sheet of designs, without an error, with a short link", async ({ page }) => {
  test.setTimeout(120_000);
  const folder = fileURLToPath(new URL("../../examples/designs", import.meta.url));
  const files = readdirSync(folder).filter((name) => name.endsWith(".json"));
  await open(page);
  await openDesigns(page);
  const items = page.getByRole("dialog", { name: "Designs" }).getByRole("button", { name: /^Open: / });
  await expect(items).toHaveCount(files.length);
  for (let at = 0; at < files.length; at += 1) {
    await items.nth(at).click();
    await expect(page.getByRole("dialog", { name: "Designs" })).toBeHidden();
    await expect(notice(page)).toContainText("Undo returns to your earlier work.");
    await expect(page.locator(".finding.error")).toHaveCount(0);
    expect((await keptLink(page)).length, await title(page).inputValue()).toBeLessThan(1950);
    await openDesigns(page);
  }
});

test("what was on the board is kept when another design is opened, and brought back from the sheet", async ({
  page,
}) => {
  await open(page);
  await title(page).fill("My own gearbox");
  await type(page, "A.outer_diameter_mm", "61");
  await keptLink(page);
  await openDesigns(page);
  await button(page, "Open: Flanks worn round").click();
  await keptLink(page);
  await page.reload();
  await drawn(page);
  await openDesigns(page);
  const kept = page.getByRole("dialog", { name: "Designs" }).locator(".kept li").filter({ hasText: "My own gearbox" });
  await kept.getByRole("button", { name: "Open", exact: true }).click();
  await expect(title(page)).toHaveValue("My own gearbox");
  await go(page, "Dogs");
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("61");
});

test("a kept design is given up only when asked", async ({ page, context }) => {
  await open(page);
  await title(page).fill("To be given up");
  await title(page).press("Enter");
  await keptLink(page);
  await page.close();
  const fresh = await context.newPage();
  await open(fresh, `./#${linkOf({ crenel: 1, title: "A friend's" })}`);
  const sheet = fresh.getByRole("dialog", { name: "Designs" });
  await openDesigns(fresh);
  const item = sheet.locator(".kept li").filter({ hasText: "To be given up" });
  await expect(item).toContainText(/\d\d:\d\d:\d\d, [0-9.]+ kB/);
  await expect(sheet.locator(".kept")).toContainText(/2 designs take [0-9.]+ kB of 2000 kB/);
  await button(item, "Delete To be given up").click();
  await expect(item).toContainText("Deleted.");
  await expect(sheet.locator(".kept")).toContainText("1 design takes");
  // By mistake: it is put back as it was.
  await button(item, "Restore To be given up").click();
  await expect(sheet.locator(".kept")).toContainText("2 designs take");
  await button(item, "Delete To be given up").click();
  await sheet.getByRole("button", { name: "Close" }).click();
  await fresh.reload();
  await drawn(fresh);
  await openDesigns(fresh);
  await expect(sheet.getByText("Invented examples")).toBeVisible();
  await expect(sheet.getByText("To be given up")).toHaveCount(0);
});

test("a word of the trade opens to what it means where it stands", async ({ page }) => {
  await open(page);
  const row = figure(page, "window_time_ms");
  await row.locator("summary").click();
  const word = row.locator("button.term").first();
  await word.focus();
  await page.keyboard.press("Enter");
  await expect(word).toHaveAttribute("aria-expanded", "true");
  const told = await row.getByRole("note").textContent();
  expect(told.length).toBeGreaterThan(20);
  await page.keyboard.press("Enter");
  await expect(row.getByRole("note")).toHaveCount(0);
});

// The whole job by keyboard alone.
import {
  button, dog, dogButton, download, expect, field, go, handle, menu, now, open, openPlain, picture, select, test,
} from "./kit.mjs";

/** What is focused: a handle by its key, anything else by its name. */
const focused = (page) => page.evaluate(() => {
  const at = document.activeElement;
  return at.dataset.field ?? at.getAttribute("aria-label") ?? at.textContent.trim();
});

const fileMenu = (page) => page.locator("header details.menu").filter({ has: page.locator("summary", { hasText: "File" }) });

/** Tabs on until `wanted` is focused. */
async function tabTo(page, wanted, most = 60) {
  for (let pressed = 0; pressed < most; pressed += 1) {
    await page.keyboard.press("Tab");
    if (wanted.test(await focused(page))) return;
  }
  throw new Error(`Tab does not reach ${wanted}`);
}

test("the first Tab skips to the results and leaves the address alone", async ({ page }) => {
  await open(page);
  await page.keyboard.press("Tab");
  const skip = page.getByRole("link", { name: "Skip to the results" });
  await expect(skip).toBeFocused();
  await expect(skip).toBeInViewport();
  await page.keyboard.press("Enter");
  await expect(page.locator("#results")).toBeFocused();
  await expect(page.locator("#results")).toBeInViewport();
  await expect(page).not.toHaveURL(/#results/);
});

test("Tab reaches every handle, and each speaks its name, number, unit and limits", async ({ page }) => {
  await open(page);
  const spoken = [];
  while (spoken.at(-1) !== "Dogs of ring A") {
    await page.keyboard.press("Tab");
    spoken.push(await page.evaluate(() => {
      const at = document.activeElement;
      if (at.getAttribute("role") !== "slider") return at.closest('[role="group"]')?.getAttribute("aria-label") ?? "";
      return `${at.getAttribute("aria-label")} ${at.getAttribute("aria-valuetext")}`;
    }));
    expect(spoken.length, spoken.join("\n")).toBeLessThan(120);
  }
  const sliders = page.getByRole("slider");
  for (const slider of await sliders.all()) {
    const [name, text, least, value, most] = await slider.evaluate((at) =>
      ["label", "valuetext", "valuemin", "valuenow", "valuemax"].map((key) => at.getAttribute(`aria-${key}`)));
    expect(spoken).toContain(`${name} ${text}`);
    expect(text).toMatch(/^-?[\d.]+(°| mm)$/);
    expect(Number(least)).toBeLessThan(Number(value));
    expect(Number(value)).toBeLessThan(Number(most));
  }
  await expect(sliders, "phase and overlap, until a dog is selected").toHaveCount(5);
});

test("arrows, Shift, Page and Home and End step a handle", async ({ page }) => {
  await open(page);
  await select(page);
  await tabTo(page, /^outer_diameter_mm$/);
  const outer = field(page, "A.outer_diameter_mm");
  const knob = handle(page, "Face view", "outer_diameter_mm");
  for (const [key, value] of [
    ["ArrowUp", "60.1"], ["ArrowRight", "60.2"], ["ArrowDown", "60.1"], ["ArrowLeft", "60"],
    ["Shift+ArrowUp", "61"], ["Shift+ArrowDown", "60"], ["PageUp", "61"], ["PageDown", "60"],
    ["Home", "44.5"], ["End", "500"],
  ]) {
    await page.keyboard.press(key);
    await expect(outer, key).toHaveValue(value);
    await expect(knob, key).toHaveAttribute("aria-valuenow", value);
  }
  await expect(knob, "the focus stays").toBeFocused();
});

test("phase runs round past 0", async ({ page }) => {
  await open(page);
  await handle(page, "Phase map", "phase_deg").focus();
  for (const [key, value] of [["Home", "0"], ["ArrowDown", "359.5"], ["ArrowUp", "0"], ["Shift+ArrowDown", "355"]]) {
    await page.keyboard.press(key);
    await expect(field(page, "phase_deg"), key).toHaveValue(value);
  }
});

test("holding a key is one step, on a handle and in a field", async ({ page }) => {
  await open(page);
  await select(page);
  const height = field(page, "A.height_mm");
  for (const held of [handle(page, "Developed view", "height_mm"), height]) {
    await held.focus();
    for (let repeat = 0; repeat < 6; repeat += 1) await page.keyboard.down("ArrowUp");
    await page.keyboard.up("ArrowUp");
    await expect(height).toHaveValue("5.3");
    await page.keyboard.press("Control+z");
    await expect(height).toHaveValue("5");
    await expect(button(page, "Undo")).toBeDisabled();
    await page.keyboard.press("Control+y");
    await expect(height).toHaveValue("5.3");
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+Shift+z");
    await expect(height).toHaveValue("5.3");
    await page.keyboard.press("Control+z");
    await expect(height).toHaveValue("5");
  }
});

test("Escape gives up a held key", async ({ page }) => {
  await open(page);
  await handle(page, "Developed view", "overlap_mm").focus();
  await page.keyboard.down("ArrowDown");
  await expect(field(page, "overlap_mm")).toHaveValue("4.45");
  await page.keyboard.press("Escape");
  await expect(field(page, "overlap_mm")).toHaveValue("4.5");
  await page.keyboard.up("ArrowDown");
  await expect(button(page, "Undo")).toBeDisabled();
});

test("dogs are cut, kept and undone by keys", async ({ page }) => {
  await open(page);
  await dogButton(page, "A2").focus();
  await page.keyboard.press("Enter");
  await expect(dogButton(page, "A2")).toHaveAttribute("aria-pressed", "true");
  const status = page.locator("p.sr[role=status]");
  for (const [key, state, words] of [
    ["s", "short", "shortened to 2.5 mm"],
    ["Delete", "gone", "removed"],
    ["k", "kept", "5 mm high"],
  ]) {
    await page.keyboard.press(key);
    await expect(dogButton(page, "A2")).toHaveAttribute("data-state", state);
    await expect(dogButton(page, "A2")).toHaveAccessibleName(new RegExp(`${words}$`));
    await expect(status).toHaveText(`Dog A2: ${words}`);
    await expect(dogButton(page, "A2")).toBeFocused();
  }
  await page.keyboard.press("Control+z");
  await expect(dogButton(page, "A2")).toHaveAttribute("data-state", "gone");
  // What is done to others like it is in the inspector, which comes before the drawer, round the end of the page.
  await tabTo(page, /^Same for every second dog/, 250);
  await page.keyboard.press("Enter");
  await tabTo(page, /^Same cuts on ring B/);
  await page.keyboard.press("Space");
  await expect(now(page, "free_angle_deg")).toHaveText("72°");
});

test("the file menu opens, gives a file and closes", async ({ page }) => {
  await open(page);
  await tabTo(page, /^File$/);
  await page.keyboard.press("Enter");
  // Files to export come once their code is here.
  await expect(fileMenu(page).getByRole("button", { name: "Dog positions (CSV)" })).toBeVisible();
  await tabTo(page, /^Dog positions \(CSV\)$/, 26);
  const { name, text } = await download(page, () => page.keyboard.press("Enter"));
  expect(name).toMatch(/-dogs\.csv$/);
  expect(text).toMatch(/^ring,dog,do,/m);
  await expect(fileMenu(page)).not.toHaveAttribute("open", /.*/);
  expect(await page.evaluate(() => document.activeElement.tagName), "the focus is not lost").toBe("SUMMARY");
});

test("Escape closes the file menu", async ({ page }) => {
  await open(page);
  await fileMenu(page).locator("summary").press("Enter");
  await expect(fileMenu(page)).toHaveAttribute("open", /.*/);
  await page.keyboard.press("Tab");
  await page.keyboard.press("Escape");
  await expect(fileMenu(page)).not.toHaveAttribute("open", /.*/);
  expect(await page.evaluate(() => document.activeElement.tagName)).toBe("SUMMARY");
});

test("the share dialog opens, keeps the focus inside, and closes with Escape", async ({ page }) => {
  await open(page);
  await tabTo(page, /^Share$/);
  const dialog = page.getByRole("dialog", { name: "Share this design" });
  for (let time = 0; time < 2; time += 1) {
    await page.keyboard.press("Enter");
    await expect(dialog).toBeVisible();
    expect(await dialog.evaluate((at) => at.contains(document.activeElement))).toBe(true);
    await page.keyboard.press("Escape");
    await expect(dialog).toBeHidden();
    await expect(button(page, "Share")).toBeFocused();
  }
});

test("a figure opens to its formula by keyboard", async ({ page }) => {
  await open(page);
  await page.locator('[data-key="window_time_ms"] summary').focus();
  await page.keyboard.press("Enter");
  await expect(page.locator('[data-key="window_time_ms"] .formula')).toBeVisible();
});

test("a button that goes with its press hands the focus on, and the page does not begin anew", async ({ page }) => {
  const place = () => page.evaluate(() => {
    const at = document.activeElement;
    return at === document.body ? "lost" : (at.dataset.slot ?? at.getAttribute("aria-label") ?? at.textContent.trim());
  });
  await open(page);
  await dog(page, "A2").click();
  await button(page, "Show the pair").focus();
  await page.keyboard.press("Enter");
  await expect(button(page, "Show the pair")).toHaveCount(0);
  await expect.poll(place).not.toBe("lost");

  await page.getByRole("button", { name: /^List each dog/ }).first().focus();
  await page.keyboard.press("Enter");
  await expect(field(page, "A1.tip_width_deg")).toBeVisible();
  await expect.poll(place).not.toBe("lost");
  expect(await page.evaluate(() => document.activeElement.closest(".ring-a") !== null), "in the same panel").toBe(true);

  await go(page, "Pedal to fork");
  await button(page, "Start with an example claw").last().focus();
  await page.keyboard.press("Enter");
  await expect.poll(place).not.toBe("lost");
  expect(
    await page.evaluate(() => document.activeElement.closest("fieldset").querySelector("legend").textContent),
  ).toBe("Claw and stop");
  await button(page, "Start with an example linkage").first().focus();
  await page.keyboard.press("Space");
  await expect(page.locator(".view.linkage .missing")).toHaveCount(0);
  await expect.poll(place).toMatch(/^More: Pedal and linkage/);

  await go(page, "Compare");
  await menu(page, "Add a layout");
  await button(page, "Current design").click();
  await button(page, "Remove").focus();
  await page.keyboard.press("Enter");
  await expect(button(page, "Remove")).toHaveCount(0);
  await expect.poll(place).toBe("Keep this layout");
});

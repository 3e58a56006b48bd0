// Six short stories: each is told, dragged, guessed and answered by mouse, keyboard and touch, and has a link.
import { button, expect, open, openPlain, PAPER_AND_SLATE, putUp, test, violationsIn } from "./kit.mjs";

// What the model answers for the example; the numbers are held against others in tests/cross/test_stories.py.
const STORIES = [
  { key: "doors", title: "Fewer doors, wider doors", says: "4 dogs: they go straight in up to 875 rpm", drag: "Number of dogs" },
  { key: "row", title: "The second row stands back", says: "By 1 mm, to 4 mm", drag: "Height of every second dog" },
  { key: "two", title: "It takes two", says: "it stays 12° until the mate follows", drag: "Dogs cut so far" },
  { key: "throttle", title: "What the throttle finds", says: "604 N·m at a lash of 13°, 758 N·m at 26.1°", drag: "Lash at the dogs" },
  { key: "lean", title: "A lean that pulls", says: "From 16.2°", drag: "Flank angle, drive side" },
  { key: "faces", title: "Face to face", says: "hang tip on tip", drag: "Start phase" },
];

const story = (page, key) => page.locator(`.story[data-story="${key}"]`);
const answer = (page) => page.locator(".story .answer");
const slider = (page, name) => page.locator(".story .live").getByRole("slider", { name, exact: true });
const beside = (page) => page.locator(".beside-drawing");

/** Opens a story by its link. */
async function tell(page, key) {
  await open(page, `./#/learn.${key}`);
  await expect(story(page, key)).toBeVisible();
  await putUp(page);
}

test("a newcomer goes from the first visit to the first answer", async ({ page }) => {
  await page.addInitScript(() => {
    try {
      localStorage.clear();
    } catch {
      // A blank page keeps nothing.
    }
  });
  await page.goto("./");
  await button(page, "Learn in six short stories").click();
  await expect(page.getByRole("heading", { name: STORIES[0].title })).toBeVisible();
  await button(page, "Show the answer").click();
  await expect(answer(page)).toContainText(STORIES[0].says);
  await expect(answer(page)).toContainText("You said 6; the model says 4.");
});

test("help and Find lead to the stories, and closing leads back", async ({ page }) => {
  await open(page);
  await page.keyboard.press("?");
  await button(page, "Learn in six short stories").click();
  await expect(page.locator(".learn")).toBeVisible();
  await page.locator(".learn").getByRole("button", { name: "Close" }).click();
  await expect(page.locator(".learn")).toHaveCount(0);
  await page.keyboard.press("/");
  await page.getByRole("combobox", { name: "Find" }).fill("stories");
  await page.keyboard.press("Enter");
  await expect(page.locator(".learn")).toBeVisible();
});

for (const { key, title, says, drag } of STORIES) {
  test(`${title}: by keyboard alone`, async ({ page }) => {
    await tell(page, key);
    const before = await beside(page).innerText();
    const dragged = slider(page, drag);
    const value = await dragged.getAttribute("aria-valuetext");
    await dragged.focus();
    await page.keyboard.press(key === "row" ? "Home" : "End");
    await expect(dragged).not.toHaveAttribute("aria-valuetext", value);
    if (key !== "faces") await expect.poll(() => beside(page).innerText()).not.toBe(before);
    await expect(answer(page)).toBeEmpty();
    const show = button(page, "Show the answer");
    for (let presses = 0; presses < 12 && !(await show.evaluate((at) => at === document.activeElement)); presses += 1) {
      await page.keyboard.press("Tab");
    }
    await page.keyboard.press("Enter");
    await expect(answer(page)).toContainText(says);
    await expect(answer(page), "a screen reader reads it").toHaveAttribute("role", "status");
    await expect(answer(page).getByRole("table")).toBeVisible();
    await answer(page).getByText("How it is worked out").click();
    await expect(answer(page).getByText("Source").first()).toBeVisible();
  });
}

test.describe("by touch", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

  test("all six, one after the other", async ({ page }) => {
    await open(page, "./#/learn");
    for (const [nth, { key, says, drag }] of STORIES.entries()) {
      await expect(story(page, key)).toBeVisible();
      await putUp(page);
      const dragged = slider(page, drag);
      await dragged.scrollIntoViewIfNeeded();
      const value = await dragged.getAttribute("aria-valuetext");
      const box = await dragged.boundingBox();
      expect(box.height, "a finger finds it").toBeGreaterThanOrEqual(44);
      await page.touchscreen.tap(box.x + box.width * 0.7, box.y + box.height / 2);
      await expect(dragged).not.toHaveAttribute("aria-valuetext", value);
      await button(page, "Show the answer").tap();
      await expect(answer(page)).toContainText(says);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(wide, "nothing is cut off at the side").toBeLessThanOrEqual(390);
      if (nth + 1 < STORIES.length) await page.getByRole("button", { name: /Next story/ }).tap();
    }
    await expect(page.getByRole("button", { name: /Next story/ })).toBeDisabled();
  });
});

test("a press on the map moves phase and speed difference", async ({ page }) => {
  await tell(page, "faces");
  const map = page.locator(".story .view.outcome svg");
  await map.scrollIntoViewIfNeeded();
  const box = await map.boundingBox();
  const read = () => Promise.all(["Start phase", "Speed difference"].map((name) => slider(page, name).inputValue()));
  const before = await read();
  await page.mouse.click(box.x + box.width * 0.6, box.y + box.height * 0.5);
  const after = await read();
  expect(after[0]).not.toBe(before[0]);
  expect(after[1]).not.toBe(before[1]);
});

test("Back returns to the story before, and a link opens one in a page that is open", async ({ page }) => {
  await tell(page, "doors");
  await page.getByRole("button", { name: /Next story/ }).click();
  await expect(story(page, "row")).toBeVisible();
  await page.goBack();
  await expect(story(page, "doors")).toBeVisible();
  await page.evaluate(() => { location.hash = "#/learn.lean"; });
  await expect(story(page, "lean")).toBeVisible();
  await expect(page.getByText("cut short")).toHaveCount(0);
});

test("the reader's own gear takes the place of the example's", async ({ page }) => {
  await open(page);
  await page.locator("[data-slot='A.count']").first().fill("4");
  await page.keyboard.press("Enter");
  await page.evaluate(() => { location.hash = "#/learn.throttle"; });
  await expect(story(page, "throttle")).toBeVisible();
  const before = await beside(page).innerText();
  await button(page, "Do this with my gear").click();
  await expect(button(page, "Do this with my gear")).toHaveAttribute("aria-pressed", "true");
  await expect.poll(() => beside(page).innerText()).not.toBe(before);
  await expect(answer(page)).toBeEmpty();
});

test("the gears of a story become the design, and Undo takes them back", async ({ page }) => {
  await tell(page, "doors");
  await slider(page, "Number of dogs").fill("4");
  await button(page, "Open as my design").click();
  await expect(page.locator("[data-slot='A.count']").first()).toHaveValue("4");
  await button(page, "Undo").click();
  await expect(page.locator("[data-slot='A.count']").first()).toHaveValue("6");
});

test("a lecture has the story alone, larger, and turns by the keys of a presenter", async ({ page }) => {
  await openPlain(page, "./#/learn.doors");
  const size = () => page.locator(".story .told").evaluate((told) => parseFloat(getComputedStyle(told).fontSize));
  const before = await size();
  await button(page, "Full screen").click();
  await expect.poll(size).toBeCloseTo(before * 1.5, 1);
  const covers = await page.locator(".learn").evaluate((learn) => {
    const { width, height } = learn.getBoundingClientRect();
    return width >= innerWidth - 1 && height >= innerHeight - 1;
  });
  expect(covers).toBe(true);
  await page.keyboard.press("ArrowRight");
  await expect(story(page, "row")).toBeVisible();
  await page.keyboard.press("PageDown");
  await expect(story(page, "two")).toBeVisible();
  await page.keyboard.press("ArrowLeft");
  await expect(story(page, "row")).toBeVisible();
  await page.keyboard.press("Escape");
  await expect.poll(size).toBeCloseTo(before, 1);
});

test("in a lecture Space plays the film of a story", async ({ page }) => {
  await openPlain(page, "./#/learn.faces");
  await expect(story(page, "faces")).toBeVisible();
  await button(page, "Full screen").click();
  await page.locator(".story h3").click();
  await page.keyboard.press("Space");
  await expect(button(page, "Pause")).toBeVisible();
  await page.keyboard.press("Space");
  await expect(button(page, "Pause")).toHaveCount(0);
});

for (const width of [1440, 390]) {
  test(`axe finds nothing in any story, ${width} px`, async ({ page }) => {
    test.setTimeout(180_000);
    await page.setViewportSize({ width, height: 900 });
    for (const { key } of STORIES) {
      await tell(page, key);
      await button(page, "Show the answer").click();
      await answer(page).getByText("How it is worked out").click();
      expect.soft(await violationsIn(page, PAPER_AND_SLATE), key).toEqual([]);
    }
  });
}

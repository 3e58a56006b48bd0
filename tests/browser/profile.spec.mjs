// The profile that tests share: nothing of one reaches the next.
import { EXAMPLE, expect, keptLink, notice, open, test, title } from "./kit.mjs";
import { KeptProfile } from "./profile.mjs";

const LOOK = {
  viewport: { width: 1440, height: 1000 },
  colorScheme: "light", reducedMotion: "no-preference", forcedColors: "none", contrast: "no-preference",
};

/** What a page can tell of those before it. */
const told = (page) =>
  page.evaluate(async () => ({
    width: innerWidth,
    scrolled: scrollY,
    hovered: document.querySelectorAll("main :hover").length,
    looks: ["print", "(prefers-color-scheme: dark)", "(forced-colors: active)"].filter(
      (look) => matchMedia(look).matches,
    ),
    cookie: document.cookie,
    session: sessionStorage.getItem("left"),
    local: localStorage.getItem("left"),
    databases: (await indexedDB.databases()).map(({ name }) => name).filter((name) => name === "left"),
  }));

test("what a test leaves is cleared away, and the page is the same", async ({ browser, baseURL }) => {
  const kept = new KeptProfile(browser);
  const { context, page } = await kept.take(baseURL, LOOK, []);
  await open(page);
  const before = await told(page);
  await title(page).fill("Left behind");
  await title(page).press("Enter");
  await keptLink(page);
  await page.evaluate(() => new Promise((done) => {
    document.cookie = "left=1";
    sessionStorage.setItem("left", "1");
    localStorage.setItem("left", "1");
    indexedDB.open("left").onsuccess = done;
  }));
  await page.setViewportSize({ width: 390, height: 844 });
  await page.emulateMedia({ media: "print", colorScheme: "dark", forcedColors: "active" });
  await page.mouse.move(200, 300);
  await open(await context.newPage());
  await kept.giveBack();

  const next = await kept.take(baseURL, LOOK, []);
  expect(next.page).toBe(page);
  await open(page);
  expect(context.pages()).toHaveLength(1);
  await expect(title(page)).toHaveValue(EXAMPLE);
  await expect(notice(page)).toHaveCount(0);
  expect(await told(page)).toEqual(before);
  await kept.close();
});

for (const [what, act] of Object.entries({
  "an init script": (page) => page.addInitScript(() => {}),
  "a route": (page) => page.route("**/nothing", (route) => route.abort()),
  "a permission": (page) => page.context().grantPermissions(["clipboard-read"]),
  "a key held down": (page) => page.keyboard.down("Shift"),
})) {
  test(`${what} ends the profile`, async ({ browser, baseURL }) => {
    const kept = new KeptProfile(browser);
    const { page } = await kept.take(baseURL, LOOK, []);
    await act(page);
    await kept.giveBack();
    expect(page.isClosed()).toBe(true);
    await open((await kept.take(baseURL, LOOK, [])).page);
    await kept.close();
  });
}

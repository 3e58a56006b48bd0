// Parts of the page whose code is fetched when they are first wanted.
import { drawn, expect, go, test } from "./kit.mjs";
import { openAll } from "./profile.mjs";

/** Opens the app for someone who keeps nothing, so that each part comes over the network. */
async function openUnkept(browser, baseURL) {
  const context = await browser.newContext({ baseURL, viewport: { width: 1440, height: 900 } });
  await context.addInitScript(openAll);
  await context.addInitScript(() => {
    navigator.serviceWorker.register = () => Promise.reject(new Error("not here"));
  });
  return context.newPage();
}

test("an area is fetched when it is opened, and once only", async ({ browser, baseURL }) => {
  const page = await openUnkept(browser, baseURL);
  const fetched = [];
  page.on("request", (request) => fetched.push(...(/part-split_\w+(?=-)/.exec(request.url()) ?? [])));
  await page.goto("./");
  await drawn(page);
  expect(fetched).not.toContain("part-split_work");
  await go(page, "Load");
  await expect(page.getByRole("heading", { name: "Forces under power", exact: true })).toBeVisible();
  await go(page, "Dogs");
  await go(page, "Load");
  expect(fetched.filter((name) => name === "part-split_work")).toHaveLength(1);
  await page.context().close();
});

test("a part that cannot be fetched says so, and is there at the second try", async ({ browser, baseURL }) => {
  const page = await openUnkept(browser, baseURL);
  const stopped = [];
  page.on("pageerror", (error) => stopped.push(error.message));
  await page.goto("./");
  await drawn(page);
  // As after a new version is out: the files of the old one are gone.
  await page.route("**/part-*", (route) => route.fulfill({ status: 404, body: "" }));
  await page.getByRole("navigation", { name: "Parts of the job" }).getByRole("button", { name: /Change/ }).click();
  const told = page.getByRole("alert").filter({ hasText: "could not be fetched" }).first();
  await expect(told).toBeVisible();
  await page.unroute("**/part-*");
  // One press tries all that is missing.
  await told.getByRole("button", { name: "Try again" }).click();
  await expect(page.getByRole("button", { name: "Try again" })).toHaveCount(0);
  await expect(page.getByRole("button", { name: "Find the smallest cut" })).toBeVisible();
  expect(stopped).toEqual([]);
  await page.context().close();
});

// Parts of the page whose code is fetched when they are first wanted.
import { expect, go, open, test } from "./kit.mjs";

/** Someone who has nothing stored: without a service worker, so that each part comes over the network. */
const fresh = async (profile, baseURL) =>
  (await profile({ baseURL, serviceWorkers: "block", viewport: { width: 1440, height: 900 } })).newPage();

test("an area is fetched when it is opened, and once only", async ({ profile, baseURL }) => {
  const page = await fresh(profile, baseURL);
  const fetched = [];
  page.on("request", (request) => {
    const name = /part-split_(\w+)-/.exec(request.url())?.[1];
    if (name) fetched.push(name);
  });
  await open(page);
  expect(fetched).not.toContain("work");
  await go(page, "Load");
  await expect(page.getByRole("button", { name: "Forces", exact: true })).toHaveAttribute("aria-pressed", "true");
  await go(page, "Dogs");
  await go(page, "Load");
  expect(fetched.filter((name) => name === "work")).toEqual(["work"]);
});

test("a part that cannot be fetched says so, and is there at the second try", async ({ profile, baseURL }) => {
  const page = await fresh(profile, baseURL);
  await open(page);
  // As after a new version is out: the files of the old one are gone.
  await page.route("**/part-*", (route) => route.fulfill({ status: 404, body: "" }));
  await page.getByRole("navigation", { name: "Parts of the job" }).getByRole("button", { name: /Change/ }).click();
  const told = page.getByRole("alert").filter({ hasText: "could not be fetched" }).first();
  await expect(told).toBeVisible();
  await page.unroute("**/part-*");
  await told.getByRole("button", { name: "Try again" }).click();
  await expect(page.getByRole("button", { name: "Find the smallest cut" })).toBeVisible();
});

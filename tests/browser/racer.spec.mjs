// A racer sends a link to a friend; whatever arrives, nobody's work is lost.
import {
  button, dog, dogButton, drawn, EXAMPLE, expect, field, hash, keptLink, linkOf, notice, now, open, openByHand, putHash, test,
  title, type,
} from "./kit.mjs";

const FRIEND = linkOf({ crenel: 1, title: "Friend's gearbox", a: { count: 4 }, b: { count: 4 } });

/** Makes work of one's own and waits until it is kept. */
async function ownWork(page) {
  await open(page);
  await title(page).fill("My own work");
  await type(page, "A.outer_diameter_mm", "63.5");
  return keptLink(page);
}

async function isOwnWork(page) {
  await drawn(page);
  await expect(title(page)).toHaveValue("My own work");
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("63.5");
}

test("shares the link and the friend sees the same", async ({ page, profile }) => {
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await open(page);
  await title(page).fill("Box of “Nº 7” – ½ Größe");
  await type(page, "B.inner_diameter_mm", "43.2");
  await dog(page, "A2").click();
  await button(page, "Shorten").click();
  await dog(page, "B3").click();
  await button(page, "Remove").click();

  await button(page, "Share").click();
  const dialog = page.getByRole("dialog", { name: "Share this design" });
  const link = await dialog.getByLabel("Link").inputValue();
  expect(link.length).toBeLessThan(2000);
  expect(link, "the address has it too").toMatch(new RegExp(`#${await keptLink(page)}(/.*)?$`));
  await expect(dialog).toContainText(new RegExp(`${[...String(link.length)].join("\\s?")} characters`));
  await button(page, "Copy link").click();
  await expect(dialog.getByRole("status")).toHaveText("Link copied.");
  expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(link);
  await dialog.getByRole("button", { name: "Close" }).click();
  await expect(dialog).toBeHidden();

  const friend = await (await profile()).newPage();
  await friend.goto(link);
  await drawn(friend);
  await expect(title(friend)).toHaveValue("Box of “Nº 7” – ½ Größe");
  await expect(field(friend, "B.inner_diameter_mm")).toHaveValue("43.2");
  await expect(dogButton(friend, "A2")).toHaveAttribute("data-state", "short");
  await expect(dogButton(friend, "B3")).toHaveAttribute("data-state", "gone");
  await expect(notice(friend)).toHaveCount(0);
  for (const key of ["free_angle_deg", "lash_deg", "b_dogs_mass_g"]) {
    await expect(now(friend, key)).toHaveText(await now(page, key).textContent());
  }
});

test("says so when the browser does not let it copy", async ({ page }) => {
  await page.addInitScript(() => {
    navigator.clipboard.writeText = () => Promise.reject(new DOMException("denied", "NotAllowedError"));
  });
  await open(page);
  await button(page, "Share").click();
  await button(page, "Copy link").click();
  await expect(page.getByRole("dialog").getByRole("status")).toContainText("copy it by hand");
});

// ---- links that cannot be read ----

const GOOD = linkOf({ crenel: 1, title: "Whole" });
const BAD_LINKS = [
  ["cut in half", GOOD.slice(0, GOOD.length / 2), /is cut short: only \d+ characters arrived/],
  ["of another kind", `7.${GOOD.slice(2)}`, /must begin with “1\.”/],
  ["a word", "results", /must begin with “1\.”/],
  ["with strange characters", "1.%7B%22a%22%7D", /is cut short: only 3 characters/],
  ["of random letters", "1.____________________", /is damaged/],
  ["of a newer version", linkOf({ crenel: 2, title: "From the future" }), /version 2; this app reads up to version 1/],
  ["that is no design", linkOf("[1, 2]"), /not a design/],
  [
    "with a wrong kind of value",
    linkOf({ crenel: 1, a: { count: "six" } }),
    /“count” \(Ring A, dog positions\) is not a number/,
  ],
  ["that unpacks to too much", linkOf(" ".repeat(400_000)), /unpacks to more than/],
  ["that is too long", `1.${"A".repeat(40_000)}`, /at most 32\s?768 are read/],
];

test("a link that cannot be read says why and leaves the open work alone", async ({ page }) => {
  const own = await ownWork(page);
  for (const [kind, link, why] of BAD_LINKS) {
    await test.step(kind, async () => {
      await putHash(page, link);
      await expect(notice(page)).toContainText(why);
      await expect(notice(page)).toContainText("Your own work is unchanged.");
      await expect(notice(page)).toHaveRole("alert");
      await isOwnWork(page);
      await expect.poll(() => hash(page), "the address holds the work again").toBe(own);
      await button(page, "Dismiss").click();
    });
  }
});

test("a link that cannot be read, opened afresh, brings back the kept work", async ({ page, context }) => {
  const own = await ownWork(page);
  await page.close();
  for (const [kind, link, why] of BAD_LINKS.slice(0, 3)) {
    await test.step(kind, async () => {
      const fresh = await context.newPage();
      await fresh.goto(`./#${link}`);
      await isOwnWork(fresh);
      await expect(notice(fresh)).toContainText(why);
      await expect(notice(fresh)).toContainText("your own work as you left it");
      expect(await keptLink(fresh)).toBe(own);
      await fresh.close();
    });
  }
});

test("a link that cannot be read, with nothing kept, shows the example", async ({ page }) => {
  await open(page, `./#${BAD_LINKS[0][1]}`);
  await expect(notice(page)).toContainText("is cut short");
  await expect(notice(page)).toContainText("This page shows the invented example instead");
  await expect(title(page)).toHaveValue(EXAMPLE);
  // It is still nobody's work when the tab has kept it, for longer than a reload takes.
  await page.waitForTimeout(2500);
  await page.goto("about:blank");
  await open(page, `./#${BAD_LINKS[0][1]}`);
  await expect(notice(page)).toContainText("This page shows the invented example instead");
});

// ---- links that survive the road ----

const ON_THE_ROAD = [".", ">", ")", ",", ";", '"', "!", "*", "_", "&utm_source=mail", " ", "#results"];

test("a link with something hung on opens, and the address is clean again", async ({ page }) => {
  await open(page);
  const own = linkOf({ crenel: 1, title: "Friend's gearbox" });
  await putHash(page, own);
  await expect(title(page)).toHaveValue("Friend's gearbox");
  const clean = await keptLink(page);
  await page.goto("about:blank");
  await open(page, `./#${clean.slice(0, 30)}=\r\n${clean.slice(30)}`);
  await expect(title(page)).toHaveValue("Friend's gearbox");
  for (const behind of ON_THE_ROAD) {
    await test.step(behind, async () => {
      await putHash(page, `${clean}${behind}`);
      await expect.poll(() => hash(page)).toBe(clean);
      await expect(notice(page)).toHaveCount(0);
    });
  }
});

test("a good link put into the address of the open page can be undone", async ({ page }) => {
  await ownWork(page);
  await putHash(page, FRIEND);
  await expect(title(page)).toHaveValue("Friend's gearbox");
  await expect(notice(page)).toContainText("Undo returns to your earlier work");
  await button(page, "Undo").click();
  await isOwnWork(page);
});

test("odd things in a link are told and the rest is opened", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1, title: "Odd", colour: "red", a: { teeth: 9 } })}`);
  await expect(title(page)).toHaveValue("Odd");
  await expect(notice(page)).toContainText("colour");
  await expect(notice(page)).toContainText("a.teeth");
});

test("numbers outside their limits in a link are told, not computed", async ({ page }) => {
  await page.goto(`./#${linkOf({ crenel: 1, title: "Huge", a: { outer_diameter_mm: 9000, count: 1e9 } })}`);
  await expect(title(page)).toHaveValue("Huge");
  await expect(page.locator(".finding.error").first()).toContainText("is outside the range");
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("9000");
});

test("a link with far too many dogs is told and can still be worked on", async ({ page }) => {
  const dogs = Array.from({ length: 150 }, (_, at) => ({ centre_deg: at * 2.4, tip_width_deg: 0.5 }));
  const link = linkOf({ crenel: 1, title: "A comb", a: { dogs }, b: { dogs } });
  expect(link.length).toBeLessThan(2000);
  await page.goto(`./#${link}`);
  // With all sizes open there are over a thousand fields to put up.
  await expect(page.locator(".finding.error").first()).toContainText("150 dogs; at most 96", { timeout: 20_000 });
  // Searching such a page by role takes longer than the page itself.
  await expect(page.locator(".title input")).toHaveValue("A comb");
  await type(page, "overlap_mm", "4");
  await expect(field(page, "overlap_mm")).toHaveValue("4");
});

// ---- keeping ----

test("a reload brings the work back with its comparison", async ({ page }) => {
  await ownWork(page);
  await page.reload();
  await isOwnWork(page);
  await expect(page.getByText("Compared with the design as opened.")).toBeVisible();
  await page.goto("about:blank");
  await open(page);
  await isOwnWork(page);
  await expect(notice(page)).toContainText("Restored from this browser");
  await expect(notice(page)).toContainText("not a backup");
});

test("a change just before the page is left is not lost", async ({ page }) => {
  await open(page);
  await type(page, "A.outer_diameter_mm", "61");
  await page.reload();
  await drawn(page);
  await expect(field(page, "A.outer_diameter_mm")).toHaveValue("61");
});

test("somebody's link opened over own work offers to bring it back", async ({ page, context }) => {
  await ownWork(page);
  await page.close();
  const fresh = await context.newPage();
  await open(fresh, `./#${FRIEND}`);
  await expect(title(fresh)).toHaveValue("Friend's gearbox");
  await expect(notice(fresh)).toContainText("Your earlier work is kept.");
  await button(fresh, "Restore it").click();
  await isOwnWork(fresh);
  await button(fresh, "Undo").click();
  await expect(title(fresh)).toHaveValue("Friend's gearbox");
});

test("own work under somebody's link outlives a reload", async ({ page, context }) => {
  await ownWork(page);
  await page.close();
  const fresh = await context.newPage();
  await open(fresh, `./#${FRIEND}`);
  await keptLink(fresh);
  await fresh.reload();
  await drawn(fresh);
  await expect(title(fresh)).toHaveValue("Friend's gearbox");
  await button(fresh, "Restore it").click();
  await isOwnWork(fresh);
});

test("the example is not offered as earlier work", async ({ page, context }) => {
  await open(page);
  await keptLink(page);
  const fresh = await context.newPage();
  await open(fresh, `./#${FRIEND}`);
  await expect(notice(fresh)).toHaveCount(0);
});

const DENIALS = {
  "is denied": () => Object.defineProperty(window, "localStorage", {
    get() { throw new DOMException("denied", "SecurityError"); },
  }),
  "is full": () => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; },
  "holds rubbish": () => localStorage.setItem("crenel.work.1", "1.rubbish"),
};

for (const [how, deny] of Object.entries(DENIALS)) {
  test(`works where the browser's store ${how}`, async ({ page }) => {
    await page.addInitScript(deny);
    await open(page);
    // A browser that remembers nothing is on its first visit every time.
    if (how === "is denied") await button(page, "Try the example").click();
    await expect(title(page)).toHaveValue(EXAMPLE);
    if (how === "is denied") await openByHand(page);
    await type(page, "A.outer_diameter_mm", "61");
    if (how !== "holds rubbish") await expect(notice(page)).toContainText("does not let the page keep your work");
    await expect.poll(() => hash(page)).toMatch(/^1\./);
    await page.waitForTimeout(350);
    await page.reload();
    await drawn(page);
    if (how === "is denied") await openByHand(page);
    await expect(field(page, "A.outer_diameter_mm"), "the address holds it").toHaveValue("61");
  });
}

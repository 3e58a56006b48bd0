// A student puts layouts side by side, holds one thing equal, and hands the comparison in.
import {
  button, EXAMPLE, expect, field, finding, go, linkOf, menu, notice, open, PAPER_AND_SLATE, picture, putHash, putUp, shown, test,
  title, violationsIn,
} from "./kit.mjs";

const THREE = "3 dogs";
const HALF = "6 dogs, every second half-height";
const SPLINE = "Fine spline, 30 teeth";

/** Opens the menu with the ways to add a layout. */
const ways = (page) => menu(page, "Add a layout");

async function start(page, label) {
  await ways(page);
  await page.getByLabel("Layout to add").selectOption({ label });
  await button(page, "Add this layout").click();
}
const columns = (page) => page.locator(".columns figure");
const captions = (page) => columns(page).locator("figcaption");
const column = (page, number) => columns(page).filter({ has: page.locator(".number", { hasText: String(number) }) });
const results = (page) => page.getByRole("region", { name: "All results" });
const cells = (page, key) => page.locator(`[data-row="${key}"] td`);
const paragraph = (page, number) =>
  page.locator(".differences p").filter({ hasText: new RegExp(`^Layout ${number} \\(`) });
const hold = (page, label) => page.getByRole("combobox", { name: "Keep equal", exact: true }).selectOption({ label });
const tab = (page) =>
  page.getByRole("navigation", { name: "Parts of the job" }).getByRole("button", { name: /^Compare/ });
const curves = (page) => page.getByRole("img", { name: /^Curves of the first-pass chance/ });

/** Puts starting rings beside the example, or beside the design of a link. */
async function beside(page, rings, design) {
  await open(page, design ? `./#${linkOf(design)}` : "./");
  await go(page, "Compare");
  for (const ring of rings) await start(page, ring);
  await expect(columns(page)).toHaveCount(rings.length + 1);
  await unfold(page);
}

/** Opens all rows of the table, and not only those that differ most. */
async function unfold(page) {
  const folded = page.locator(".compare .fold button[aria-expanded=false]");
  while ((await folded.count()) > 0) await folded.first().click();
}

const THREE_RINGS = [THREE, HALF, SPLINE];
const TITLES = [`1 ${EXAMPLE} – current design`, `2 ${THREE}`, `3 ${HALF}`, `4 ${SPLINE}`];

/** What is offered while nothing is beside the design. */
const OFFERED = "2 Every second dog at half height";

// ---- building it ----

test("builds a comparison of four by mouse", async ({ page }) => {
  await open(page);
  await go(page, "Compare");
  await expect(tab(page)).toHaveText("Compare");
  // Something to compare with is offered, and gives way to what is added.
  await expect(captions(page)).toHaveText([TITLES[0], OFFERED]);
  for (const [at, ring] of THREE_RINGS.entries()) {
    await start(page, ring);
    await expect(captions(page)).toHaveText(TITLES.slice(0, at + 2));
    await expect(tab(page)).toHaveText(`Compare (${at + 2})`);
  }
  await expect(page.getByText("At most 3 layouts are added. Remove one to add another.")).toBeVisible();
  await ways(page);
  await expect(page.getByLabel("Layout to add")).toBeDisabled();
  await expect(button(page, "Add this layout")).toBeDisabled();
  await expect(button(page, "Current design")).toBeDisabled();
  await expect(button(page, "File…")).toBeDisabled();
  await expect(page.getByLabel("Link of a design to add")).toBeDisabled();
  for (const name of [EXAMPLE, THREE, HALF, SPLINE]) {
    await expect(page.getByRole("img", { name: `Face view of ${name}` })).toBeVisible();
  }
  await expect(results(page).locator("thead th")).toHaveText([
    "Result",
    `1 ${EXAMPLE}`,
    `2 ${THREE}`,
    `3 ${HALF}`,
    `4 ${SPLINE}`,
  ]);
  for (const at of ["a", "b", "c", "d"])
    await expect(curves(page).locator(`.curve-${at}`)).toHaveCount(1, { timeout: 15_000 });
});

/** Tabs on until something with this name has the focus. */
async function tabTo(page, wanted, most = 200) {
  for (let pressed = 0; pressed < most; pressed += 1) {
    await page.keyboard.press("Tab");
    const name = await page.evaluate(() =>
      document.activeElement.getAttribute("aria-label") ?? document.activeElement.textContent.trim());
    if (wanted.test(name)) return;
  }
  throw new Error(`Tab does not reach ${wanted}`);
}

test("builds a comparison of four by keyboard, and takes one out again", async ({ page }) => {
  await open(page);
  await tabTo(page, /Change it/);
  await page.keyboard.press("Enter");
  await tabTo(page, /^Compare$/);
  await page.keyboard.press("Enter");
  // The list stands on the first ring and stays where it was left; going down it adds none.
  for (const [downs, name] of [[0, THREE], [4, HALF], [2, SPLINE]]) {
    await tabTo(page, /Add a layout$/);
    await page.keyboard.press("Enter");
    await tabTo(page, /^Layout to add$/);
    for (let down = 0; down < downs; down += 1) await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await expect(captions(page).last()).toContainText(name);
  }
  await expect(captions(page)).toHaveText(TITLES);
  await tabTo(page, /^Remove$/);
  await page.keyboard.press("Enter");
  await expect(captions(page)).toHaveText([TITLES[0], `2 ${HALF}`, `3 ${SPLINE}`]);
  await page.keyboard.press("Control+z");
  await expect(captions(page)).toHaveText(TITLES);
});

test("going down the closed list of starting rings by arrow adds none on the way", async ({ page }) => {
  await open(page);
  await go(page, "Compare");
  await ways(page);
  await page.getByLabel("Layout to add").focus();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowDown");
  await page.waitForTimeout(200);
  await expect(captions(page), "nobody asked for 3 dogs").toHaveText([TITLES[0], OFFERED]);
});

test("keeps the board as it is now and compares with what it becomes", async ({ page }) => {
  await open(page, `./#${linkOf({ crenel: 1, title: "Worn box" })}`);
  await go(page, "Compare");
  await ways(page);
  await button(page, "Current design").click();
  await expect(page.locator(".differences p")).toHaveText("Layout 2 (Worn box) gives the same results as layout 1.");
  await go(page, "Dogs");
  for (const ring of ["A", "B"]) {
    await field(page, `${ring}.tip_width_deg`).fill("22");
    await field(page, `${ring}.tip_width_deg`).press("Enter");
  }
  await go(page, "Compare");
  await unfold(page);
  // 60° less twice the dog.
  await expect(cells(page, "free_angle_deg")).toHaveText(["16° best", "12°"]);
});

test("a starting ring has the undercut and the edge breaks of the board", async ({ page }) => {
  const ring = { back_cut_drive_deg: 4, back_cut_coast_deg: 2, edge_break_mm: 0.3 };
  await beside(page, [THREE], { crenel: 1, title: "Undercut", a: ring, b: ring });
  await column(page, 2).getByRole("button", { name: "Make current" }).click();
  await go(page, "Dogs");
  for (const side of ["A", "B"]) {
    for (const [name, value] of Object.entries(ring))
      await expect(field(page, `${side}.${name}`)).toHaveValue(String(value));
    await expect(field(page, `${side}.count`)).toHaveValue("3");
  }
});

test("a result opens to what it is, its formula and the numbers of each layout", async ({ page }) => {
  await beside(page, [THREE], { crenel: 1, title: "Board", slip_rpm: 300 });
  const row = page.locator('[data-row="window_time_ms"]');
  await expect(row.locator("dl")).toHaveCount(0);
  await row.locator("summary").click();
  await expect(row.locator("dt")).toHaveText(["Meaning", "Formula", "1", "2"]);
  await expect(row.locator("dd").nth(2)).toHaveText("b 12°, Δω 300 rpm");
  await expect(row.locator("dd").nth(3)).toHaveText("b 72°, Δω 300 rpm");
});

test("a starting ring has the diameters of the board", async ({ page }) => {
  const ring = { inner_diameter_mm: 80, outer_diameter_mm: 100 };
  await beside(page, [THREE], { crenel: 1, title: "Large", a: ring, b: ring });
  // 72° at a mean radius of 45 mm; 12° for the six of the board.
  const lash = (degrees) => `${shown("length", (degrees * Math.PI * 45) / 180)} mm`;
  await expect(cells(page, "lash_mm")).toHaveText([`${lash(12)} best`, `${lash(72)}`]);
});

// ---- reading it ----

test("the table marks the best of each row in words", async ({ page }) => {
  await beside(page, THREE_RINGS);
  // Pitch less two dogs: 60 − 48, 120 − 48, and 12 − 11.2.
  await expect(cells(page, "free_angle_deg")).toHaveText(["12°", "72°", "72°", "0.8°"]);
  await expect(cells(page, "entry_windows"), "none is better").toHaveText(["6", "3", "3", "30"]);
  await expect(cells(page, "pairs_meeting_drive")).toHaveText(["6", "3", "3", "30 best"]);
  await expect(cells(page, "full_depth_mm"), "all the same").toHaveText(["4.5 mm", "4.5 mm", "4.5 mm", "4.5 mm"]);
  // Less lash is better; the undercut of the board adds as much to each whose dogs are as deep in.
  await expect(cells(page, "lash_deg")).toHaveText([/^13°$/, /°$/, /^1[23](\.\d)?°$/, /° best$/]);
  const [six, three, , spline] = (await cells(page, "lash_deg").allTextContents()).map(Number.parseFloat);
  expect(three - six).toBeCloseTo(60, 0);
  expect(spline - six).toBeCloseTo(-11.2, 0);
  const rows = await results(page).locator("tbody tr").evaluateAll((rows) => rows.map((row) => row.textContent));
  expect(rows.length).toBeGreaterThan(25);
  // What two layouts share has no mark.
  for (const row of rows) expect(row.split(" best").length, row).toBeLessThanOrEqual(2);
  await expect(cells(page, "dogs_carrying"), "what most come to is not the").toHaveText([
    "3",
    "3",
    "3",
    "15 best",
  ]);
});

test("the results that differ most stand open, the others wait", async ({ page }) => {
  await open(page);
  await go(page, "Compare");
  for (const ring of THREE_RINGS) await start(page, ring);
  const rows = results(page).locator("tr[data-row]");
  await expect(rows).toHaveCount(8);
  await expect(page.locator('[data-row="full_depth_mm"]')).toHaveCount(0);
  await page.getByRole("button", { name: /the same in every layout$/ }).click();
  await expect(cells(page, "full_depth_mm")).toHaveText(["4.5 mm", "4.5 mm", "4.5 mm", "4.5 mm"]);
  // Paper shows them all.
  await page.emulateMedia({ media: "print" });
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  await expect.poll(() => rows.count()).toBeGreaterThan(25);
});

test("each layout shows what decides, and the chart what it costs", async ({ page }) => {
  await beside(page, [THREE]);
  for (const key of ["lash_deg", "clunk_nm", "window_time_ms"]) {
    const shownAt = await cells(page, key).allTextContents();
    const name = await page.locator(`[data-row="${key}"] summary`).textContent();
    for (const [at, text] of shownAt.entries()) {
      const card = columns(page).nth(at).locator(".on-card div").filter({ hasText: name });
      await expect(card.locator("dd"), `${name} ${at}`).toHaveText(text);
    }
  }
  const chart = page.getByRole("img", { name: /^Chart of the clunk/ });
  await expect(chart).toContainText(`2 ${THREE}`);
  await expect(chart.locator(".datum")).toHaveCount(2);
});

test("all layouts are played at once, from tips level to the end of the slowest", async ({ page }) => {
  await beside(page, [THREE]);
  const player = page.getByRole("region", { name: "Play" });
  const faces = () => Promise.all([1, 2].map((at) =>
    column(page, at).locator("svg[role=img]").evaluate((svg) => svg.innerHTML)));
  const still = await faces();
  // At the first the tips come level at the phase as drawn.
  for (const _ of [1, 2]) await player.getByRole("button", { name: "Next event" }).click();
  await expect.poll(faces).not.toEqual(still);
  const begun = await faces();
  const slider = player.getByRole("slider");
  await slider.focus();
  await page.keyboard.press("End");
  await expect.poll(async () => (await faces()).map((face, at) => face !== begun[at])).toEqual([true, true]);
  for (const at of [1, 2]) await expect(column(page, at).locator(".outcome")).toContainText(/\w/);
  await button(page, "Back to the start").click();
  await expect.poll(faces).toEqual(still);
});

test("the paragraphs name the numbers of the table", async ({ page }) => {
  await beside(page, [THREE, SPLINE], { crenel: 1, title: "Board", slip_rpm: 300 });
  const three = paragraph(page, 2);
  await expect(three).toContainText("Layout 2 (3 dogs) is easier to engage: its windows are 3 × 72° instead of 6 × 12°.");
  // 12° and 72° at 1800° a second; 1 mm at 0.12 m/s.
  await expect(three).toContainText(
    "stays open for 40 ms instead of 6.7 ms; travel to the holding depth takes 8.3 ms.",
  );
  await expect(three).toContainText("The clunk as the throttle opens is harder: the lash is 72° instead of 12°");
  await expect(three).toContainText("Under power 3 pairs of dogs meet instead of 6.");
  const spline = paragraph(page, 3);
  await expect(spline).toContainText(
    "Layout 3 (Fine spline, 30 teeth) is harder to engage: its windows are 30 × 0.8° instead of 6 × 12°.",
  );
  await expect(spline).toContainText("The clunk as the throttle opens is softer: the lash is 0.8° instead of 12°");
  await expect(spline).toContainText("Under power 30 pairs of dogs meet instead of 6.");
  const shares = await Promise.all(["first_pass_straight_share", "first_pass_rubbed_share"].map((key) =>
    cells(page, key).evaluateAll((all) => all.map((cell) => parseFloat(cell.textContent)))));
  const more = /first pass more often: from ([\d.]+) % of all phases instead of ([\d.]+) %/;
  const [, said, against] = more.exec(await three.textContent());
  expect(Math.abs(Number(said) - shares[0][1] - shares[1][1])).toBeLessThan(0.11);
  expect(Math.abs(Number(against) - shares[0][0] - shares[1][0])).toBeLessThan(0.11);
});

test("says what happens to be the same while nothing is held", async ({ page }) => {
  const held = page.locator(".held");
  await beside(page, [THREE]);
  await expect(held, "both are 24° wide").toContainText("All have a dog width of 24°; their windows differ.");
  await start(page, "6 slots");
  await expect(held).toContainText("Dog width and window width both differ");
});

test("holds the dog width", async ({ page }) => {
  await beside(page, [THREE, "6 slots"]);
  await expect(cells(page, "free_angle_deg")).toHaveText(["12°", "72° best", "16°"]);
  await hold(page, "dog width");
  await expect(page.locator(".held")).toHaveText(
    "Dog width is kept at 24° in every layout. Window width follows from it.",
  );
  // The webs between the slots are 22° wide; at 24° 60 − 48 is left.
  await expect(cells(page, "free_angle_deg")).toHaveText(["12°", "72° best", "12°"]);
  await expect(column(page, 3)).toContainText("Its dogs are 2° wider than drawn.");
  await expect(column(page, 2)).not.toContainText("Its dogs are");
  await button(page, "Undo").click();
  await expect(cells(page, "free_angle_deg").nth(2)).toHaveText("16°");
});

test("holds the window width", async ({ page }) => {
  await beside(page, [THREE, "4 dogs"]);
  await hold(page, "window width");
  await expect(page.locator(".held")).toHaveText(
    "Window width is kept at 12° in every layout. Dog width follows from it.",
  );
  await expect(cells(page, "free_angle_deg"), "all the same").toHaveText(["12°", "12°", "12°"]);
  // (72 − 12)/2 and (42 − 12)/2 on each ring.
  await expect(column(page, 2)).toContainText("Its dogs are 30° wider than drawn.");
  await expect(column(page, 3)).toContainText("Its dogs are 15° wider than drawn.");
  // The design on the board is not changed by it.
  await go(page, "Dogs");
  await expect(field(page, "A.tip_width_deg")).toHaveValue("24");
});

test("a layout that cannot be held says why, and the words over it do not claim that it is", async ({ page }) => {
  await beside(page, [SPLINE]);
  await hold(page, "dog width");
  // 30 dogs of 24° are 720°.
  await expect(column(page, 2)).toContainText(
    "It cannot be kept equal: the dogs would have to be 24° wide. The layout is shown as drawn.",
  );
  await expect(cells(page, "free_angle_deg")).toHaveText(["12° best", "0.8°"]);
  await expect(page.locator(".held")).toContainText("Dog width is kept");
  await expect(page.locator(".held")).toContainText("in every layout except 2.");
});

test("a layout that only jams once it is held says so", async ({ page }) => {
  await beside(page, [HALF]);
  await hold(page, "window width");
  // For 12° between the tall three, the dogs would be 54° wide on a pitch of 60°: no gap of 6° takes one.
  await expect(column(page, 2).or(paragraph(page, 2)).filter({ hasText: /jam|cannot be kept equal/ }).first()).toBeVisible();
});

/** How far the curves run past the right side of the chart, pixels. */
const past = (page) => curves(page).evaluate((svg) => {
  const right = (at) => at.getBoundingClientRect().right;
  const chart = Math.max(...[...svg.querySelectorAll("path.border")].map(right));
  return Math.max(...[...svg.querySelectorAll('[class^="curve-"]')].map(right), 0) - chart;
});

test("the curves are those of the layouts as they are held now", async ({ page }) => {
  await beside(page, [HALF]);
  await expect(curves(page).locator(".curve-b")).toHaveCount(1, { timeout: 15_000 });
  await hold(page, "window width");
  expect(await past(page), "no curve of before runs out of the chart").toBeLessThan(3);
  // Held, it would jam: it stands as drawn, and its curve with it.
  await expect(column(page, 2)).toContainText("It cannot be kept equal");
  for (const curve of ["a", "b"])
    await expect(curves(page).locator(`.curve-${curve}`)).toHaveCount(1, { timeout: 15_000 });
  await button(page, "Remove").click();
  // What is offered in its place has a curve of its own.
  await expect(captions(page)).toHaveText([TITLES[0], OFFERED]);
  await expect(curves(page), "what is gone has no curve").not.toContainText(HALF);
  for (const curve of ["a", "b"])
    await expect(curves(page).locator(`.curve-${curve}`)).toHaveCount(1, { timeout: 15_000 });
});

// ---- files and links ----

async function addFile(page, name, text) {
  await ways(page);
  const [chooser] = await Promise.all([page.waitForEvent("filechooser"), button(page, "File…").click()]);
  await chooser.setFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });
}

const FRIEND = { crenel: 1, title: "Friend's “four”", a: { count: 4 }, b: { count: 4 } };

test("adds layouts from a file and from a link, the same file twice", async ({ page }) => {
  await open(page);
  await go(page, "Compare");
  await addFile(page, "design.json", JSON.stringify(FRIEND));
  await expect(captions(page)).toHaveText([TITLES[0], `2 ${FRIEND.title}`]);
  await addFile(page, "design.json", JSON.stringify(FRIEND));
  await expect(captions(page)).toHaveCount(3);
  await ways(page);
  const link = page.getByLabel("Link of a design to add");
  await expect(button(page, "Add from link")).toBeDisabled();
  await link.fill(` <https://crenel.example/%23${linkOf({ ...FRIEND, title: "From a link" })}>. `);
  await button(page, "Add from link").click();
  await expect(captions(page).last()).toHaveText("4 From a link");
  await expect(link, "ready for the next").toHaveValue("");
  await expect(notice(page)).toHaveCount(0);
  await unfold(page);
  // 90 − 48
  await expect(cells(page, "free_angle_deg")).toHaveText(["12°", "42°", "42°", "42°"]);
  // With nothing left beside the design, a layout is offered again.
  for (const count of [3, 2, 2]) {
    await button(page, "Undo").click();
    await expect(captions(page)).toHaveCount(count);
  }
});

test("a file or a link that cannot be read gives a sentence and adds nothing", async ({ page }) => {
  await open(page);
  await go(page, "Compare");
  for (const [name, text, why] of [
    ["letter.json", "Dear friend", /The file was not added\. .*not JSON/],
    ["list.json", "[]", /The file was not added\. .*not a design/],
    ["newer.json", '{"crenel": 9}', /The file was not added\. .*version 9/],
    ["large.json", " ".repeat(4_000_001), /The file was not added\. .*4\u202f000\u202f001 bytes/],
  ]) {
    await addFile(page, name, text);
    await expect(notice(page), name).toContainText(why);
    await expect(notice(page)).toHaveRole("alert");
    await button(page, "Dismiss").click();
  }
  for (const [link, why] of [
    ["results", /The link was not added\. .*must begin with “1\.”/],
    [linkOf(FRIEND).slice(0, 20), /The link was not added\. .*is cut short: only 20 characters/],
    [linkOf({ crenel: 4 }), /The link was not added\. .*version 4/],
  ]) {
    await ways(page);
    await page.getByLabel("Link of a design to add").fill(link);
    await button(page, "Add from link").click();
    await expect(notice(page), link).toContainText(why);
    await expect(page.getByLabel("Link of a design to add"), "to be mended").toHaveValue(link);
    await button(page, "Dismiss").click();
  }
  // Of two, the second is only offered.
  await expect(captions(page)).toHaveCount(2);
  await expect(page.getByText("Offered for comparison; not part of the design.")).toBeVisible();
  await expect(button(page, "Undo")).toBeDisabled();
});

test("odd things in an added file are told and the rest is added", async ({ page }) => {
  await open(page);
  await go(page, "Compare");
  await addFile(page, "odd.json", JSON.stringify({ ...FRIEND, paint: "red" }));
  await expect(captions(page)).toHaveCount(2);
  await expect(notice(page)).toContainText("paint");
});

test("a layout that cannot be worked out says why in its column and its paragraph", async ({ page }) => {
  await open(page);
  await go(page, "Compare");
  await addFile(page, "wide.json", JSON.stringify({ crenel: 1, title: "Too wide", a: { tip_width_deg: 80 } }));
  await expect(column(page, 2).locator(".wrong")).toContainText(/\w{4}/);
  await expect(paragraph(page, 2)).toContainText("Layout 2 (Too wide) cannot be computed. ");
  await unfold(page);
  await expect(cells(page, "free_angle_deg")).toHaveText(["12°", "–"]);
  await expect(page.locator(".finding.error"), "the board is all right").toHaveCount(0);
});

test("puts a layout on the board, takes one out, and undo brings both back", async ({ page }) => {
  await beside(page, THREE_RINGS);
  await column(page, 3).getByRole("button", { name: "Make current" }).click();
  await expect(captions(page)).toHaveText([`1 ${HALF} – current design`, `2 ${THREE}`, `3 ${EXAMPLE}`, `4 ${SPLINE}`]);
  await expect(title(page)).toHaveValue(HALF);
  await expect(cells(page, "free_angle_deg")).toHaveText(["72°", "72°", "12°", "0.8°"]);
  await go(page, "Dogs");
  await expect(page.getByRole("textbox", { name: "Height pattern" }).first()).toHaveValue("1 0.5");
  await go(page, "Compare");
  await button(page, "Undo").click();
  await expect(captions(page)).toHaveText(TITLES);
  await expect(title(page)).toHaveValue(EXAMPLE);

  await column(page, 2).getByRole("button", { name: "Remove" }).click();
  await expect(captions(page)).toHaveText([TITLES[0], `2 ${HALF}`, `3 ${SPLINE}`]);
  await expect(tab(page)).toHaveText("Compare (3)");
  await ways(page);
  await expect(page.getByLabel("Layout to add"), "there is room again").toBeEnabled();
  await button(page, "Undo").click();
  await expect(captions(page)).toHaveText(TITLES);
});

// ---- handing it in ----

test("shares the comparison, and the friend sees the same table", async ({ page, profile }) => {
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await beside(page, THREE_RINGS);
  await hold(page, "window width");
  await button(page, "Share the comparison").click();
  const dialog = page.getByRole("dialog", { name: "Share this design" });
  await button(page, "Copy link").click();
  await expect(dialog.getByRole("status")).toHaveText("Link copied.");
  const link = await page.evaluate(() => navigator.clipboard.readText());
  expect(link).toBe(await dialog.getByLabel("Link").inputValue());
  expect(link.length).toBeLessThan(2000);
  await dialog.getByRole("button", { name: "Close" }).click();

  const friend = await (await profile()).newPage();
  await friend.goto(link);
  await expect(tab(friend), "it opens there").toHaveAttribute("aria-current", "page");
  await putUp(friend);
  await expect(tab(friend)).toHaveText("Compare (4)");
  await expect(notice(friend)).toHaveCount(0);
  await expect(captions(friend)).toHaveText(TITLES);
  await expect(friend.locator(".held")).toContainText("Window width is kept at 12°");
  await unfold(friend);
  const text = async (page) => [await results(page).textContent(), await page.locator(".differences").textContent()];
  expect(await text(friend)).toEqual(await text(page));
  // The same where the page is open already, with what a mail has made of the link.
  await go(friend, "Load");
  await putHash(friend, linkOf({ crenel: 1, title: "In between" }));
  await expect(title(friend)).toHaveValue("In between");
  await expect(tab(friend), "another stage is open").toHaveCount(0);
  await putHash(friend, `${link.split("#")[1]}.`);
  await expect(tab(friend)).toHaveAttribute("aria-current", "page");
  await expect(captions(friend)).toHaveText(TITLES);
});

test("a reload keeps the comparison", async ({ page }) => {
  await beside(page, [THREE, "5 dogs"]);
  await page.waitForTimeout(350);
  await page.reload();
  await expect(tab(page)).toHaveText("Compare (3)");
  await go(page, "Compare");
  await expect(captions(page)).toHaveText([TITLES[0], `2 ${THREE}`, "3 5 dogs"]);
});

for (const [what, act] of Object.entries({
  "notes on what is held": (page) => hold(page, "window width"),
  "a title at its limit": async (page) => {
    await title(page).fill("A long title of many words ".repeat(5).slice(0, 120));
    await title(page).press("Enter");
    await expect(captions(page).first()).toContainText("A long title");
  },
})) {
  test(`stays on one page with ${what}`, async ({ page }) => {
    await beside(page, THREE_RINGS);
    await act(page);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  });
}

test("six layouts are printed on two pages, the table whole on the second", async ({ page }) => {
  const lower = (...dogs) => ({ cuts: Object.fromEntries(dogs.map((dog) => [dog, 2.5])) });
  const variant = (...dogs) => ({ name: `lower ${dogs}`, a: lower(...dogs), b: lower(...dogs) });
  const variants = [
    { name: "As found" }, variant(2, 4, 6), variant(1), variant(1, 4), variant(1, 2, 4, 5), { ...variant(2, 3), current: true },
  ];
  await open(page, `./#${linkOf({ crenel: 1, title: "Six", variants })}`);
  await go(page, "Compare");
  const more = page.locator(".own-variants button[aria-pressed=false]:enabled");
  while ((await more.count()) > 0) await more.first().click();
  await expect(columns(page)).toHaveCount(6);
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
  expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(2);
  await page.emulateMedia({ media: "print" });
  const across = Math.floor(((297 - 14) * 96) / 25.4);
  await page.setViewportSize({ width: across, height: 740 });
  expect(await page.evaluate(() => document.scrollingElement.scrollWidth)).toBeLessThanOrEqual(across);
});

test("the button asks the browser to print", async ({ page }) => {
  await page.addInitScript(() => { window.print = () => { window.printed = true; }; });
  await beside(page, [THREE]);
  await button(page, "Print").click();
  expect(await page.evaluate(() => window.printed)).toBe(true);
});

test("is printed on one page, and nothing is cut off, from paper and from slate", async ({ page }) => {
  await beside(page, THREE_RINGS);
  await expect(curves(page).locator(".curve-d")).toHaveCount(1, { timeout: 15_000 });
  const { width: wide, height: high } = page.viewportSize();
  for (const colorScheme of ["light", "dark"]) {
    await page.setViewportSize({ width: wide, height: high });
    await page.emulateMedia({ media: null, colorScheme });
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    const [, width, height] = /\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf);
    // A4 across, in points.
    expect([Math.round(width), Math.round(height)]).toEqual([842, 595]);

    // The same on the screen, as wide and high as the paper within its margins of 7 mm.
    const [across, down] = [297 - 14, 210 - 14].map((mm) => Math.floor((mm * 96) / 25.4));
    await page.emulateMedia({ media: "print", colorScheme });
    await page.setViewportSize({ width: across, height: down });
    const size = await page.evaluate(() => [
      document.scrollingElement.scrollWidth,
      document.scrollingElement.scrollHeight,
    ]);
    expect(size[0]).toBeLessThanOrEqual(across);
    expect(size[1]).toBeLessThanOrEqual(down);
    const shown = page.locator(".compare").getByText("have a qualified shop check what is cut");
    await expect(shown).toBeVisible();
    expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe("rgb(255, 255, 255)");
    await expect(button(page, "Make current").first(), "no buttons on paper").toBeHidden();
  }
});

test("nobody is shut out of Shift and Compare", async ({ page }) => {
  test.slow();
  const check = async (state) => expect.soft(await violationsIn(page, PAPER_AND_SLATE), state).toEqual([]);
  await open(page);
  await go(page, "Shift");
  await picture(page, "Chances");
  await page.getByText("Chances as a table").click();
  await page.getByText("Estimate as a disc: m·D²/8").filter({ visible: true }).first().click();
  await expect(page.getByText(/counted over 360 phases/)).toBeVisible({ timeout: 20_000 });
  await check("Shift, chances");
  await picture(page, "All shifts");
  await check("Shift, all shifts");
  await picture(page, "Film");
  await button(page, "Next event").click();
  await check("Shift, film");
  await field(page, "gear").fill("1");
  await field(page, "gear").press("Enter");
  await expect(finding(page, "no_such_shift")).toBeVisible();
  await check("Shift, with a finding");
  await button(page, "Undo").click();
  await go(page, "Compare");
  for (const ring of THREE_RINGS) await start(page, ring);
  await hold(page, "dog width");
  await expect(curves(page).locator(".curve-d")).toHaveCount(1, { timeout: 40_000 });
  await check("Compare");
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test("nothing runs off the side in Shift and Compare", async ({ page }) => {
    const sideways = () => page.evaluate(() => document.scrollingElement.scrollWidth - innerWidth);
    await open(page);
    await go(page, "Shift");
    await picture(page, "Chances");
    await page.getByText("Chances as a table").tap();
    await expect(page.getByText(/counted over 360 phases/)).toBeVisible({ timeout: 20_000 });
    expect(await sideways(), "Chances").toBeLessThanOrEqual(0);
    await picture(page, "All shifts");
    expect(await sideways(), "All shifts").toBeLessThanOrEqual(0);
    await picture(page, "Film");
    await button(page, "Next event").tap();
    for (const summary of await page.locator(".estimate summary").filter({ visible: true }).all()) await summary.tap();
    expect(await sideways(), "Shift").toBeLessThanOrEqual(0);
    await go(page, "Compare");
    for (const ring of THREE_RINGS) await start(page, ring);
    await title(page).fill("Unbrokenlongwordinatitle".repeat(5));
    await title(page).press("Enter");
    await expect(columns(page)).toHaveCount(4);
    expect(await sideways(), "Compare").toBeLessThanOrEqual(0);
  });
});

test("the ending of a film is told when it is reached, not before", async ({ page }) => {
  await beside(page, [THREE]);
  const told = column(page, 1).locator(".outcome");
  const ending = (await told.textContent()).trim();
  const time = page.getByRole("slider", { name: "Time" });
  await time.focus();
  await time.press("ArrowRight");
  await expect(told).not.toContainText(ending);
  await time.press("End");
  await expect(told).toContainText(/\w/);
  const last = (await told.textContent()).trim();
  await time.press("ArrowLeft");
  await expect(told).not.toHaveText(last);
});

// ---- before an audience ----

test("four films fill the screen, larger, and go by the keys of a presenter", async ({ page }) => {
  test.setTimeout(90_000);
  await page.setViewportSize({ width: 1600, height: 900 });
  await beside(page, THREE_RINGS);
  const told = page.locator(".compare .outcome").first();
  const size = () => told.evaluate((at) => parseFloat(getComputedStyle(at).fontSize));
  const before = await size();
  await button(page, "Full screen").click();
  await expect.poll(size).toBeCloseTo(before * 1.5, 1);
  const compare = page.locator(".compare");
  const { covers, wide, high } = await compare.evaluate((at) => {
    const { width, height } = at.getBoundingClientRect();
    return { covers: width >= innerWidth - 1 && height >= innerHeight - 1, wide: at.scrollWidth, high: at.scrollHeight };
  });
  expect(covers).toBe(true);
  expect(wide, "nothing is cut off at the side").toBeLessThanOrEqual(1600);
  expect(high, "all four and the player are in sight").toBeLessThanOrEqual(900);
  for (const at of [0, 1, 2, 3]) await expect(columns(page).nth(at).locator("svg")).toBeInViewport();
  await expect(page.locator(".compare .player")).toBeInViewport();
  const time = page.getByRole("slider", { name: "Time" });
  const now = async () => Number(await time.inputValue());
  await page.keyboard.press("PageDown");
  await page.keyboard.press("ArrowRight");
  await expect.poll(now).toBeGreaterThan(0);
  const reached = await now();
  await page.keyboard.press("ArrowRight");
  await expect.poll(now).toBeGreaterThan(reached);
  await page.keyboard.press("ArrowLeft");
  await expect.poll(now).toBe(reached);
  await page.keyboard.press("Space");
  await expect(button(page, "Pause")).toBeVisible();
  await page.keyboard.press("Space");
  await expect(page.getByRole("button", { name: "Pause" })).toHaveCount(0);
  expect(await violationsIn(page, PAPER_AND_SLATE)).toEqual([]);
  await page.keyboard.press("Escape");
  await expect.poll(size).toBeCloseTo(before, 1);
  await expect(page.locator(".compare .results").first()).toBeVisible();
});

// Designs as files.
import {
  PLANNED, button, dog, download, EXAMPLE, expect, field, finding, hash, keptLink, linkOf, notice, open, openFile,
  test, title, type, more,
} from "./kit.mjs";

test("saves a design and opens it again", async ({ page }) => {
  await open(page);
  await dog(page, "A2").click();
  await button(page, "Remove").click();
  await type(page, "overlap_mm", "4.1");
  const link = await keptLink(page);
  await more(page);
  const { name, text } = await download(page, () => button(page, "Save file").click());
  expect(name).toBe("hill-climb-single-second-gear-invented-design.json");
  expect(JSON.parse(text)).toMatchObject({ crenel: 1, title: EXAMPLE, overlap_mm: 4.1, a: { cuts: { 2: "remove" } } });

  await title(page).fill("Something else");
  await type(page, "overlap_mm", "3");
  await openFile(page, name, text);
  await expect(title(page)).toHaveValue(EXAMPLE);
  await expect(field(page, "overlap_mm")).toHaveValue("4.1");
  await expect(notice(page)).toContainText(`“${name}” opened.`);
  expect(await keptLink(page)).toBe(link);
  await button(page, "Undo").click();
  await expect(title(page)).toHaveValue("Something else");
});

test("the same file can be opened twice", async ({ page }) => {
  await open(page);
  for (const height of ["6", "7"]) {
    await openFile(page, "twice.json", '{"crenel": 1, "title": "Twice"}');
    await expect(title(page)).toHaveValue("Twice");
    await expect(field(page, "A.height_mm")).toHaveValue("5");
    await type(page, "A.height_mm", height);
  }
});

test("a design without a title gets a plain file name", async ({ page }) => {
  await open(page);
  await title(page).fill("../..\\<&> : ");
  await title(page).press("Enter");
  await more(page);
  const { name } = await download(page, () => button(page, "Save file").click());
  expect(name).toBe("crenel-design.json");
});

test("a file opens however its text is coded", async ({ page }) => {
  await open(page);
  const wide = (text) => Buffer.from(text, "utf16le");
  const codings = {
    "UTF-8 with a mark": (text) => Buffer.from(`\ufeff${text}`),
    "UTF-16": (text) => wide(`\ufeff${text}`),
    "UTF-16, the other way round": (text) => wide(`\ufeff${text}`).swap16(),
  };
  for (const [name, coded] of Object.entries(codings)) {
    await openFile(page, `${name}.json`, coded(`{"crenel": 1, "title": "Größe – ${name}", "overlap_mm": 3.25}`));
    await expect(title(page)).toHaveValue(`Größe – ${name}`);
    await expect(field(page, "overlap_mm")).toHaveValue("3.25");
    await expect(notice(page).locator("p")).toHaveText(`“${name}.json” opened. Undo returns to your earlier work.`);
  }
});

test("letters and keys that are in doubt are told of when a file opens", async ({ page }) => {
  await open(page);
  await openFile(page, "latin.json", Buffer.from('{"crenel": 1, "title": "Höhe", "overlap_mm": 3.5}', "latin1"));
  await expect(notice(page)).toContainText(
    "“latin.json” opened. Some characters of the file could not be decoded",
  );
  await expect(title(page)).toHaveValue("H�he");
  await expect(field(page, "overlap_mm")).toHaveValue("3.5");
  await openFile(page, "twice.json", '{"crenel": 1, "overlap_mm": 3, "a": {"count": 5, "count": 6}, "overlap_mm": 4}');
  await expect(notice(page)).toContainText("Given more than once: “a.count”, “overlap_mm”. The last of each counts.");
  await expect(field(page, "overlap_mm")).toHaveValue("4");
});

test("every file of the export menu says what to mind", async ({ page }) => {
  test.slow();
  await open(page, `./#${linkOf(PLANNED)}`);
  await more(page);
  const buttons = page.locator("header .menu[open] .sheet h3 ~ button");
  // Their code may still be on its way.
  await expect(buttons).toHaveCount(23);
  const items = await buttons.allTextContents();
  expect(items).toHaveLength(23);
  for (const item of items) {
    const { text } = await download(page, async () => {
      await more(page);
      await button(page, item).click();
    });
    for (const word of ["hardened", "crack", "lock", "wheel"]) expect(text, `${item}: ${word}`).toContain(word);
  }
});

test("a broken file lists all reasons and leaves the work alone", async ({ page }) => {
  await open(page);
  await type(page, "A.outer_diameter_mm", "61");
  const before = await keptLink(page);
  const broken = { crenel: 1, title: 5, a: { count: "six", flanks: "wavy" }, overlap_mm: null };
  for (const [name, text, reasons] of [
    [
      "broken.json",
      JSON.stringify(broken),
      [/“title” is not text/, /“count”.*not a number/, /“flanks” cannot be "wavy"/, /“overlap_mm”.*not a number/],
    ],
    ["letter.json", "Dear friend", [/This is not JSON/]],
    ["list.json", "[]", [/not a design/]],
    ["newer.json", '{"crenel": 3}', [/version 3; this app reads up to version 1/]],
    ["other.json", '{"type": "something"}', [/key “crenel” with the version is missing/]],
    ["empty.json", "", [/This is not JSON/]],
    ["large.json", " ".repeat(4_000_001), [/4\u202f000\u202f001 bytes/]],
  ]) {
    await openFile(page, name, text);
    await expect(notice(page)).toContainText(`“${name}”`);
    for (const reason of reasons) await expect(notice(page)).toContainText(reason);
    await expect(field(page, "A.outer_diameter_mm")).toHaveValue("61");
  }
  await page.waitForTimeout(350);
  expect(await hash(page)).toBe(before);
});

test("unknown keys are reported and the rest is opened", async ({ page }) => {
  await open(page);
  const odd = {
    crenel: 1,
    title: "Odd",
    paint: "red",
    a: { teeth: 9, count: 5 },
    b: { dogs: [{ centre_deg: 0, hue: 1 }] },
  };
  await openFile(page, "odd.json", JSON.stringify(odd));
  await expect(title(page)).toHaveValue("Odd");
  await expect(field(page, "A.count")).toHaveValue("5");
  for (const key of ["paint", "a.teeth", "hue"]) await expect(notice(page)).toContainText(key);
});

test("nothing is exported while the design cannot be computed", async ({ page }) => {
  await open(page);
  await type(page, "A.tip_width_deg", "80");
  await expect(finding(page, "dogs_overlap").first()).toBeVisible();
  await more(page);
  await button(page, "Dog positions (CSV)").click();
  await expect(notice(page)).toContainText("Nothing can be exported until the design can be computed");
  // The design itself can still be saved.
  await more(page);
  const { text } = await download(page, () => button(page, "Save file").click());
  expect(JSON.parse(text).a.tip_width_deg).toBe(80);
});

test("text from somebody's file is shown as text", async ({ page }) => {
  await open(page);
  const nasty = '<img src=x onerror="window.hurt=1"><script>window.hurt=1</script>{}';
  await openFile(
    page,
    `${"<b>"}.json`,
    JSON.stringify({ crenel: 1, title: nasty, initials: "<i>", notes: nasty, [nasty]: 1 }),
  );
  await expect(title(page)).toHaveValue(nasty);
  await expect(notice(page)).toContainText("onerror");
  await more(page);
  const { text } = await download(page, () => button(page, "Ring A, machining drawing (SVG)").click());
  expect(text).not.toMatch(/<(script|img)/);
  expect(await page.evaluate(() => window.hurt)).toBeUndefined();
  await page.goto("about:blank");
  const parsed = (text) => new DOMParser().parseFromString(text, "image/svg+xml").documentElement.tagName;
  expect(await page.evaluate(parsed, text)).toBe("svg");
});

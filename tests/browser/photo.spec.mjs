// A photograph becomes a measured ring: by touch on a phone, by keys, by drop and paste; and files that are no picture.
import { readFileSync } from "node:fs";
import { crc32, deflateSync } from "node:zlib";
import {
  board, button, download, expect, go, keptLink, middle, more, notice, open, openFile, PAPER_AND_SLATE, putUp, sideways, test,
  violationsIn,
} from "./kit.mjs";

const fixture = (name) => readFileSync(new URL(`../fixtures/photo/${name}`, import.meta.url));
const files = {
  square: { name: "square.png", mimeType: "image/png", buffer: fixture("square.png") },
  tilted: { name: "tilted.png", mimeType: "image/png", buffer: fixture("tilted.png") },
  cutDown: { name: "cut-down.png", mimeType: "image/png", buffer: fixture("cut-down.png") },
  otherLight: { name: "other-light.png", mimeType: "image/png", buffer: fixture("other-light.png") },
};

const desk = (page) => page.getByRole("region", { name: "From a photograph" });
const stage = (page) => page.getByRole("group", { name: "Picture of ring A" });
const flank = (page, name) => stage(page).getByRole("slider", { name, exact: true });
const list = (page) => page.getByRole("region", { name: "Flanks of ring A in the picture" });
const cell = (page, dog, side) => list(page).getByRole("row").nth(dog).getByRole("button").nth(side);
const input = (page) => desk(page).getByLabel("Picture of the dogs").first();
const found = (page) => desk(page).locator(".photo-found");
/** A picture is measured beside the page, which takes a second; longer where other tests run at once. */
const says = (page, text) => expect(found(page)).toContainText(text, { timeout: 30_000 });

async function openDesk(page, press = "click") {
  await open(page);
  await go(page, "Dogs");
  await button(page, "Enter gauge readings").first()[press]();
  await putUp(page);
  await button(page, "From a photograph")[press]();
  await expect(desk(page)).toBeVisible();
}

/** A file as a drop or a paste brings it. */
const brought = (target, kind, { name, mimeType, buffer }) => target.evaluate((at, { kind, name, mimeType, bytes }) => {
  const transfer = new DataTransfer();
  transfer.items.add(new File([Uint8Array.from(atob(bytes), (c) => c.charCodeAt(0))], name, { type: mimeType }));
  at.dispatchEvent(kind === "drop"
    ? new DragEvent("drop", { dataTransfer: transfer, bubbles: true, cancelable: true })
    : new ClipboardEvent("paste", { clipboardData: transfer, bubbles: true, cancelable: true }));
}, { kind, name, mimeType, bytes: buffer.toString("base64") });

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test("from picture to verdict by touch alone, within 90 seconds", async ({ page }) => {
    await openDesk(page, "tap");
    const began = Date.now();
    await input(page).setInputFiles(files.square);
    await says(page, "6 dogs found.");
    await expect(found(page)).toContainText(/The camera was [45]\.\d+° off square: an edge 1 mm above or below the tips is read up to 0\.\d+° wrong/);
    await expect(found(page)).toContainText("All flanks are sure.");
    await expect(found(page)).toContainText(/A lens that bends by 1 % turns a flank by up to 0\.0\d°/);
    expect(await sideways(page)).toBeLessThanOrEqual(0);

    // A finger drags a flank; a lens shows where. The list says that it was placed by hand, and it is put back out.
    const knob = flank(page, "Dog 3, drive flank");
    await stage(page).evaluate((at) => at.scrollIntoView({ block: "center" }));
    await putUp(page);
    const from = await middle(knob);
    const client = await page.context().newCDPSession(page);
    const send = (type, ...touchPoints) => client.send("Input.dispatchTouchEvent", { type, touchPoints });
    await send("touchStart", from);
    await send("touchMove", { x: from.x + 2, y: from.y + 3 });
    await send("touchMove", { x: from.x + 4, y: from.y + 6 });
    await expect(page.locator(".photo-lens")).toBeVisible();
    await send("touchEnd");
    await expect(desk(page).locator(".photo-chosen")).toContainText("Dog 3, drive flank · scatter");
    await expect(desk(page).locator(".photo-chosen")).toContainText("placed by hand");
    await button(page, "Leave it out").tap();
    await expect(cell(page, 3, 0)).toContainText("left out");
    await expect(found(page)).toContainText("1 flank is unsure and left out");

    await button(page, "Take these angles").tap();
    await expect(desk(page)).toHaveCount(0);
    await expect(page.locator("[data-reading]").first()).toBeVisible();
    await button(page, "Use these dogs").tap();
    await expect(page.getByRole("region", { name: "Verdict on the design" })).toContainText("1→2");
    expect(Date.now() - began).toBeLessThan(90_000);

    // Dog 1 is a degree wider than the others, and the picture has told it to a tenth.
    const { a } = await board(page).then(({ now, design }) => now ?? design);
    expect(a.readings.columns.map((column) => column.gauge ?? column.kind)).toEqual(["drive_photo", "coast_photo"]);
    expect(a.dogs).toHaveLength(6);
    const widths = a.dogs.map((dog) => dog.tip_width_deg);
    expect(Math.abs(widths[0] - 25)).toBeLessThan(0.15);
    for (const width of [...widths.slice(1, 2), ...widths.slice(3)]) expect(Math.abs(width - 24)).toBeLessThan(0.15);

    // The link has the readings, and no picture.
    const link = await keptLink(page);
    expect(link.length).toBeLessThan(3000);
    await page.reload();
    await putUp(page);
    await expect(page.locator('[data-reading="2-dog1"]')).toHaveValue(/^2[45]/);
  });

  test("a picture too far off square is refused with what to do", async ({ page }) => {
    await openDesk(page, "tap");
    await input(page).setInputFiles(files.tilted);
    await says(page, /Too far off square: 1 mm of height costs 0\.\d+°, more than 0\.5°/);
    await expect(found(page)).toContainText("farther away, squarer, in even light, or on a flat-bed scanner");
    await expect(button(page, "Take these angles")).toBeDisabled();
  });
});

test("two pictures of one ring stand beside each other and are averaged", async ({ page }) => {
  await openDesk(page);
  await brought(desk(page), "drop", files.square);
  await says(page, "All flanks are sure.");
  await button(page, "Take these angles").click();
  await button(page, "From a photograph").click();
  await brought(page.locator("body"), "paste", files.otherLight);
  await says(page, "6 dogs found.");
  await button(page, "Take these angles").click();
  const columns = page.locator("table.readings thead .gauge-name");
  await expect(columns).toHaveCount(4);
  await expect(page.locator(".off.marked")).toHaveCount(0);
  // The second picture was turned by 11°, and stands where the first one does.
  const [first, second] = await Promise.all(["1-dog2", "3-dog2"].map((key) => page.locator(`[data-reading="${key}"]`).inputValue()));
  expect(Math.abs(Number.parseFloat(first) - Number.parseFloat(second))).toBeLessThan(0.15);
});

test("a dog that was cut down is read at the height that is typed", async ({ page }) => {
  await openDesk(page);
  await input(page).setInputFiles(files.cutDown);
  await says(page, "6 dogs found.");
  await expect(found(page)).toContainText("Off the circles of the others: A3.");
  await expect(found(page)).toContainText("2 flanks are unsure");
  // What is asked for stands open.
  const below = desk(page).getByLabel("Dog 3, below the others");
  await expect(below).toBeVisible();
  await below.fill("2.5");
  await below.press("Enter");
  await says(page, "All flanks are sure.");
  await expect(below).toHaveValue("2.5");
  const [angle, off] = (await cell(page, 3, 0).textContent()).match(/[\d.]+/g).map(Number);
  expect(Math.abs(angle - 120.5)).toBeLessThan(0.15);
  const [, others] = (await cell(page, 4, 0).textContent()).match(/[\d.]+/g).map(Number);
  expect(off).toBeGreaterThan(others);
  await button(page, "Take these angles").click();
  await expect(page.locator('[data-reading="1-dog3"]')).toHaveValue(/^120/);
});

test("the picture is kept in the file with its marks, and nowhere else", async ({ page }) => {
  await openDesk(page);
  await input(page).setInputFiles(files.square);
  await says(page, "All flanks are sure.");
  const knob = flank(page, "Dog 2, coast flank");
  await knob.focus();
  for (let press = 0; press < 20; press += 1) await page.keyboard.press("ArrowRight");
  await button(page, "Start at the next dog").click();
  const read = await list(page).innerText();
  const link = await keptLink(page);
  const stored = () => page.evaluate(() => JSON.stringify(localStorage).length + JSON.stringify(sessionStorage).length);
  const before = await stored();

  await desk(page).getByLabel("Keep the picture in the file").check();
  await expect(desk(page)).toContainText(/\d+ kB more in the file: save it before you close the page/);
  expect(await keptLink(page)).toBe(link);
  expect(await stored()).toBeLessThan(before + 500);
  await more(page);
  const { text } = await download(page, () => button(page, "Save file").click());
  const { photos: [photo], ...design } = JSON.parse(text);
  expect(photo).toMatchObject({ ring: "a", picture: expect.stringMatching(/^data:image\/(webp|jpeg);base64,/) });
  expect(photo.picture.length).toBeLessThan(700_000);
  const told = Number((await desk(page).innerText()).match(/(\d+) kB more/)[1]);
  expect(Math.abs(photo.picture.length / 1000 - told)).toBeLessThanOrEqual(1);

  // Let go of, it is in no file.
  await desk(page).getByLabel("Keep the picture in the file").uncheck();
  await more(page);
  const without = await download(page, () => button(page, "Save file").click());
  expect(JSON.parse(without.text)).toEqual(design);

  // Opened elsewhere it is offered again, with what was marked on it.
  await page.evaluate(() => { localStorage.clear(); sessionStorage.clear(); });
  await open(page);
  await openFile(page, "with-picture.json", text);
  await expect(notice(page)).toContainText("“with-picture.json” opened.");
  await go(page, "Dogs");
  await button(page, "Enter gauge readings").first().click();
  await button(page, "Open kept picture 1").click();
  await says(page, "6 dogs found.");
  expect(await list(page).innerText()).toBe(read);
  await flank(page, "Dog 1, coast flank").focus();
  await expect(desk(page).locator(".photo-chosen")).toContainText("placed by hand");
  await expect(desk(page).getByLabel("Keep the picture in the file")).toBeChecked();
  await more(page);
  const again = await download(page, () => button(page, "Save file").click());
  expect(JSON.parse(again.text).photos[0].picture).toBe(photo.picture);
});

test("a picture in a file that is bad is a finding, and the rest opens", async ({ page }) => {
  await open(page);
  const saved = (photos) => JSON.stringify({ crenel: 1, title: "With pictures", photos });
  await openFile(page, "bad.json", saved([{ ring: "a", picture: 7 }, null]));
  await expect(notice(page)).toContainText("“bad.json” opened.");
  await expect(notice(page)).toContainText("2 pictures in the file left out: damaged, too large or too many.");
  const damaged = [
    { ring: "a", picture: "data:image/webp;base64,AAAA", marks: {} },
    { ring: "a", picture: "data:image/webp;base64,!", marks: {} },
    { ring: "a", picture: `data:image/png;base64,${files.square.buffer.toString("base64")}`, marks: { circles: 3, ring: [] } },
    { ring: "b", picture: "data:image/webp;base64,AAAA" },
  ];
  await openFile(page, "damaged.json", saved(damaged));
  await expect(notice(page)).toContainText("“damaged.json” opened.");
  await go(page, "Dogs");
  await button(page, "Enter gauge readings").first().click();
  await expect(page.getByRole("button", { name: /^Open kept picture/ })).toHaveCount(3);
  for (const number of [1, 2]) {
    await button(page, `Open kept picture ${number}`).click();
    await expect(desk(page).getByRole("alert")).toContainText(/damaged/);
  }
  // A picture without marks that can be read is measured anew.
  await button(page, "Open kept picture 3").click();
  await says(page, "All flanks are sure.");
});

test("nothing leaves the browser, and its memory is given back", async ({ page }) => {
  await page.addInitScript(() => {
    globalThis.given = { closed: 0, opened: 0, ended: 0 };
    const { createImageBitmap: make } = globalThis;
    globalThis.createImageBitmap = async (...all) => {
      const made = await make(...all);
      globalThis.given.opened += 1;
      return made;
    };
    const count = (of, name, as) => {
      const own = of.prototype[name];
      of.prototype[name] = function counted(...all) { globalThis.given[as] += 1; return own.apply(this, all); };
    };
    count(ImageBitmap, "close", "closed");
    count(Worker, "terminate", "ended");
  });
  await openDesk(page);
  const asked = [];
  page.on("request", (request) => asked.push(request));
  await input(page).setInputFiles(files.square);
  await says(page, "6 dogs found.");
  // A drop beside the place for it opens the picture too, in place of leaving the page for it.
  await brought(page.locator("body"), "drop", files.otherLight);
  await says(page, "6 dogs found.");
  await expect.poll(() => page.evaluate(() => globalThis.given)).toMatchObject({ opened: 2, closed: 1 });
  await button(page, "Close the photograph").click();
  await expect.poll(() => page.evaluate(() => globalThis.given)).toEqual({ opened: 2, closed: 2, ended: 1 });
  const origin = new URL(page.url()).origin;
  for (const request of asked) {
    expect(request.method(), request.url()).toBe("GET");
    expect(new URL(request.url()).origin, request.url()).toBe(origin);
  }
});

test("the picture of the mating gear is ring B; heights and undercut are asked for", async ({ page }) => {
  await openDesk(page);
  await button(page, "Ring B").click();
  await button(page, "From a photograph").click();
  const camera = desk(page).locator("input[capture]");
  await expect(camera).toHaveAttribute("capture", "environment");
  await camera.setInputFiles(files.square);
  await says(page, "All flanks are sure.");
  await expect(desk(page)).toContainText("Heights and undercut are not in a picture of the tips");
  await button(page, "Add their columns").click();
  await expect(button(page, "Add their columns")).toHaveCount(0);
  await button(page, "Take these angles").click();
  const { b } = await board(page).then(({ now, design }) => now ?? design);
  expect(b.readings.columns.map((column) => column.gauge)).toEqual(
    ["height", "drive_back_cut", "coast_back_cut", "drive_photo", "coast_photo"]);
});

test("keys move a flank by a tenth of a pixel, and circles snap back", async ({ page }) => {
  await openDesk(page);
  await input(page).setInputFiles(files.square);
  await says(page, "6 dogs found.");
  const before = await cell(page, 1, 1).textContent();
  const knob = flank(page, "Dog 1, coast flank");
  // It is heard by its angle, as the list has it.
  const heard = async () => Number(await knob.getAttribute("aria-valuenow"));
  expect(await heard()).toBeCloseTo(Number.parseFloat(before), 1);
  await expect(knob).toHaveAttribute("aria-valuetext", before.trim());
  const from = await heard();
  await knob.focus();
  for (let press = 0; press < 10; press += 1) await page.keyboard.press("ArrowRight");
  await expect(knob).toHaveAttribute("aria-valuetext", /, placed by hand$/);
  expect(Math.abs(await heard() - from)).toBeGreaterThan(0.1);
  await expect(cell(page, 1, 1)).not.toHaveText(before);
  const degrees = (text) => Number.parseFloat(text.replace("▲", ""));
  // A pixel at 250 px from the axis is 0.23°.
  const turned = Math.abs(degrees(await cell(page, 1, 1).textContent()) - degrees(before));
  expect(turned).toBeGreaterThan(0.1);
  expect(turned).toBeLessThan(0.4);

  const outer = flank(page, "Outer circle, right");
  const place = async () => (await outer.getAttribute("aria-valuetext")).match(/\d+/g).map(Number);
  const [x, y] = await place();
  await outer.focus();
  for (let press = 0; press < 4; press += 1) await page.keyboard.press("ArrowRight");
  await expect.poll(async () => {
    const [right, down] = await place();
    return Math.abs(right - x) + Math.abs(down - y);
  }, { timeout: 30_000 }).toBeLessThan(3);
  for (const look of await violationsIn(page, PAPER_AND_SLATE)) expect(look).toEqual([]);
});

// ---- files that are damaged, foreign or odd ----

const chunk = (name, data) => {
  const body = Buffer.concat([Buffer.from(name), data]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, sum]);
};

/** A grey picture of one shade. */
function plainPng(width, height, depth = 8) {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = depth;
  const rows = Buffer.alloc(height * (1 + width * depth / 8), 0x60);
  for (let row = 0; row < height; row += 1) rows[row * (1 + width * depth / 8)] = 0;
  const magic = Buffer.from("89504e470d0a1a0a", "hex");
  return Buffer.concat([magic, chunk("IHDR", head), chunk("IDAT", deflateSync(rows)), chunk("IEND", Buffer.alloc(0))]);
}

const spoiled = (bytes, at, value) => {
  const copy = Buffer.from(bytes);
  copy[at] = value;
  return copy;
};

const square = files.square.buffer;
const jpeg = fixture("cmyk.jpg");
const odd = {
  "no bytes": [Buffer.alloc(0), "The file is empty."],
  "one byte": [Buffer.from([0xff]), "not a picture"],
  "text": [Buffer.from("these are no pixels"), "not a picture"],
  "a page": [Buffer.from("<!doctype html><p>page"), "not a picture"],
  "a document": [Buffer.from("%PDF-1.7\n%\u00e2\u00e3\n"), "not a picture"],
  "an archive": [Buffer.from("504b0304140000000000", "hex"), "not a picture"],
  "HEIC": [Buffer.concat([Buffer.from("0000001866747970686569630000000068656963", "hex"), Buffer.alloc(200)]), "HEIC"],
  "HEIF": [Buffer.concat([Buffer.from("00000018667479706d69663100000000", "hex"), Buffer.alloc(64)]), "HEIC"],
  "a raw picture of a camera": [Buffer.concat([Buffer.from("49492a0010000000435202", "hex"), Buffer.alloc(99)]), "not a picture"],
  "TIFF": [Buffer.from("4d4d002a00000008", "hex"), "not a picture"],
  "16 bits": [plainPng(400, 400, 16), "Tips and gaps cannot be told apart"],
  "30,000 px wide": [plainPng(30_000, 300), "px"],
  "9,000 px high": [plainPng(300, 9_000), "px"],
  "one shade": [plainPng(500, 500), "Tips and gaps cannot be told apart"],
  "one pixel": [plainPng(1, 1), "only 1 × 1 px"],
  "a strip": [plainPng(2000, 3), "only 2000 × 3 px"],
  "CMYK": [jpeg, "px"],
  "lying on its side": [fixture("on-its-side.jpg"), "260 × 320 px"],
  "moving": [fixture("moving.gif"), "px"],
  "no width": [spoiled(plainPng(300, 300), 19, 0), "not a picture"],
  ...Object.fromEntries([4, 8, 20, 33, 40, 60, 200, 1000, 4000, 9000, 15_000].map((at) =>
    [`PNG cut at ${at}`, [square.subarray(0, at), ""]])),
  ...Object.fromEntries([2, 10, 24, 160, 300, 700, 1500, 3000].map((at) => [`JPEG cut at ${at}`, [jpeg.subarray(0, at), ""]])),
  ...Object.fromEntries([1, 12, 17, 25, 26, 28, 45, 90, 2000, 8000, 16_000].map((at) =>
    [`PNG spoiled at ${at}`, [spoiled(square, at, 0xaa), ""]])),
};

test("fifty damaged and foreign files are told a sentence each", async ({ page }) => {
  test.slow();
  expect(Object.keys(odd).length).toBeGreaterThanOrEqual(50);
  await openDesk(page);
  for (const [name, [buffer, told]] of Object.entries(odd)) {
    // What was said of the file before goes at once.
    await input(page).setInputFiles({ name: "picture", mimeType: "image/png", buffer });
    await expect(desk(page).getByRole("status").first()).toHaveText("", { timeout: 30_000 });
    const read = await desk(page).innerText();
    expect(read, name).toContain(told);
    const wrong = await desk(page).getByRole("alert").innerText();
    const ring = await found(page).count() ? await found(page).innerText() : "";
    expect(`${wrong}${ring}`.trim(), name).not.toBe("");
  }
});

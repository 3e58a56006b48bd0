// What a host and a careful visitor expect of the page itself. That nothing is fetched from
// elsewhere and nothing is logged as an error is checked in every test of every spec.
import { drawn, expect, handle, keptLink, markup, now, open, openPlain, select, test, title, type } from "./kit.mjs";
import { serve } from "./serve.mjs";

test("the page forbids itself everything it does not need, and does without it", async ({ page, context }) => {
  await open(page);
  const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute("content");
  const rules = Object.fromEntries(policy.split(";").map((rule) => rule.trim().split(/ (.*)/s, 2)));
  expect(rules["default-src"]).toBe("'none'");
  expect(rules["connect-src"]).toBe("'self'");
  expect(rules["script-src"]).not.toMatch(/unsafe-inline|'unsafe-eval'|https?:|\*/);
  expect(rules["style-src"]).not.toMatch(/unsafe-inline|https?:|\*/);
  await expect(page.locator("iframe, object, embed, form")).toHaveCount(0);
  // A drawing is told its proportions by script, which the policy allows; nothing else has a style of its own.
  const styles = await page.locator("[style]").evaluateAll((all) => all.map((at) => at.getAttribute("style")));
  expect(styles.filter((style) => !/^--ratio: ?[\d.]+;?$/.test(style))).toEqual([]);

  expect(await context.cookies()).toEqual([]);
  await keptLink(page);
  const keys = await page.evaluate(() => Object.keys(localStorage));
  for (const key of keys) expect(key).toMatch(/^crenel\./);
});

// Refusals are errors of the console, so this page is not one that must stay free of them.
test("text becomes markup or a script only where it can run nothing of its own", async ({ browser, baseURL }) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(`${baseURL}#/dogs`);
  await drawn(page);
  const refused = await page.evaluate(() => {
    const markup = (text) => () => { document.createElement("div").innerHTML = text; };
    const tried = {
      drawing: markup('<g class="x"><path d="M0 0L1 1"/><text x="1">5 &lt; 6</text></g>'),
      heading: markup('<h3 class="x">Depth</h3>'),
      within: markup('<a href="#results">Results</a>'),
      worker: () =>
        new Worker(
          document.querySelector("link[rel=modulepreload]").getAttribute("href").replace("crenel-app", "worker"),
          { type: "module" },
        ).terminate(),
      picture: markup("<img src=x onerror=alert(1)>"),
      handler: markup('<p class="x" onclick="alert(1)">press</p>'),
      glued: markup('<p class="x"onclick="alert(1)">press</p>'),
      slashed: markup("<svg/onload=alert(1)>"),
      link: markup('<a href="javascript:alert(1)">press</a>'),
      script: markup("<script>alert(1)<\/script>"),
      frame: markup('<iframe srcdoc="x"></iframe>'),
      comment: markup("<!-- <p> -->"),
      behind: markup('<p title="<script>">x</p>'),
      "own worker": () => new Worker("data:text/javascript,0"),
      "other worker": () => new Worker("checks.json"),
      evaluated: () => setTimeout("window.ran = true"),
      "another policy": () => trustedTypes.createPolicy("mine", { createHTML: (text) => text }),
    };
    return Object.keys(tried).filter((name) => { try { tried[name](); return false; } catch { return true; } });
  });
  expect(refused).toEqual(["picture", "handler", "glued", "slashed", "link", "script", "frame", "comment", "behind",
    "own worker", "other worker", "evaluated", "another policy"]);
  await context.close();
});

test("no drawing comes into the page as text, neither at first nor at a step of a drag", async ({
  profile,
  baseURL,
}) => {
  const page = await (await profile()).newPage();
  await page.addInitScript(() => {
    window.setAsText = [];
    const create = trustedTypes.createPolicy.bind(trustedTypes);
    trustedTypes.createPolicy = (name, { createHTML, ...rules }) =>
      create(name, {
        ...rules,
        createHTML: (text) => {
          window.setAsText.push(text);
          return createHTML(text);
        },
      });
  });
  await page.goto(baseURL);
  await drawn(page);
  const first = await page.evaluate(() => window.setAsText.splice(0));
  expect(first.length, "the framework sets what never changes").toBeGreaterThan(0);
  expect(first.filter((text) => /data-dog|<path d="[^"]{40}/.test(text))).toEqual([]);
  const marks = () => markup(page, "Face view");
  await select(page);
  const before = await marks();
  await handle(page, "Face view", "tip_width_deg").focus();
  await page.keyboard.press("ArrowUp");
  await expect.poll(marks).not.toBe(before);
  expect(await page.evaluate(() => window.setAsText)).toEqual([]);
});

test("has a title, a description, a language and an icon", async ({ page, request }) => {
  await page.goto("./");
  await expect(page).toHaveTitle(/Crenel/);
  await expect(page.locator("html")).toHaveAttribute("lang", "en-GB");
  await expect(page.locator('meta[name="description"]')).toHaveAttribute("content", /\w{3}/);
  const icon = await page.locator('link[rel="icon"]').getAttribute("href");
  expect((await request.get(icon)).headers()["content-type"]).toBe("image/svg+xml");
});

test("nothing moves about while the page opens for the first time", async ({ profile }) => {
  const page = await (await profile()).newPage();
  await page.addInitScript(() => {
    window.shifts = [];
    const named = (node) => {
      const at = node instanceof Element ? node : node?.parentElement;
      return at ? `${at.localName}.${at.classList} “${at.textContent.slice(0, 30)}”` : "gone";
    };
    const place = ({ x, y, width, height }) => [x, y, width, height].map(Math.round).join(" ");
    new PerformanceObserver((list) => {
      for (const shift of list.getEntries()) {
        if (shift.hadRecentInput) continue;
        const moved = shift.sources.map(
          (from) => `${named(from.node)}: ${place(from.previousRect)} → ${place(from.currentRect)}`,
        );
        window.shifts.push({ by: shift.value, after: Math.round(shift.startTime), moved });
      }
    }).observe({ type: "layout-shift", buffered: true });
  });
  for (const viewport of [{ width: 1440, height: 1000 }, { width: 390, height: 844 }]) {
    await page.setViewportSize(viewport);
    await page.goto("about:blank");
    await openPlain(page);
    await page.waitForTimeout(600);
    const shifts = await page.evaluate(() => window.shifts);
    const all = shifts.reduce((sum, { by }) => sum + by, 0);
    expect(all, `${viewport.width} px: ${JSON.stringify(shifts, null, 1)}`).toBeLessThan(0.02);
  }
});

test("works from a folder of a static host", async ({ profile }) => {
  const { server, url } = await serve({ under: "/some/folder/" });
  try {
    const page = await (await profile({ baseURL: url })).newPage();
    const missing = [];
    page.on("response", (response) => { if (response.status() >= 400) missing.push(response.url()); });
    await open(page, url);
    await expect(now(page, "free_angle_deg")).toHaveText("12°");
    await title(page).fill("In a folder");
    await type(page, "overlap_mm", "4");
    const link = await keptLink(page);
    expect(page.url().startsWith(`${url}#${link}`), page.url()).toBe(true);
    await page.reload();
    await expect(title(page)).toHaveValue("In a folder");
    expect(missing).toEqual([]);
  } finally {
    server.close();
  }
});

test("says what it needs where scripts are switched off", async ({ profile, baseURL }) => {
  const context = await profile({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(baseURL);
  await expect(page.locator("noscript")).toBeVisible();
  const words = await page.locator("noscript").evaluate((at) => at.textContent);
  expect(words).toContain("needs JavaScript and WebAssembly");
});

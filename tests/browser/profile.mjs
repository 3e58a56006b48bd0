// The profile that the tests of a worker have one after the other. The app opens in half the time where it
// was open before: the browser has the process, and in it the module, compiled. Whatever a test leaves is
// cleared away; where that cannot be done, the profile goes with it.

/** Collects what must never happen in a profile: errors, and requests that leave the page's origin. */
export function watch(context, origin) {
  const complaints = [];
  context.on("weberror", (error) => complaints.push(`uncaught: ${error.error().message}`));
  context.on("console", (message) => {
    // A picture that is opened by itself names no icon, and Chromium looks for one where it never is.
    const { url } = message.location();
    if (message.type() === "error" && !url.endsWith("/favicon.ico")) complaints.push(`console: ${message.text()} (${url})`);
  });
  context.on("request", (request) => {
    const url = new URL(request.url());
    const inside = ["blob:", "data:", "about:"].includes(url.protocol) || url.origin === origin;
    if (!inside) complaints.push(`request to another origin: ${url}`);
  });
  return complaints;
}

/** Opens everything that can be open: sizes, results and findings. Run in each page before the app. */
export function openAll() {
  try {
    localStorage["crenel.open"] ??= "sizes results findings each-ring checks";
    localStorage["crenel.met"] ??= "yes";
  } catch {
    // A page that may not keep anything begins as on a first visit.
  }
}

/** A place of the same origin where the app is not: it keeps its work as it is left, so that what is kept
 *  can be cleared only afterwards. */
const ASIDE = "icon.svg";

/** What is done to a profile for good, by whose method. */
const FOR_GOOD = {
  context: ["addInitScript", "clearPermissions", "exposeBinding", "exposeFunction", "grantPermissions",
    "newCDPSession", "on", "once", "route", "routeFromHAR", "routeWebSocket", "setExtraHTTPHeaders",
    "setGeolocation", "setOffline", "setStorageState"],
  page: ["addInitScript", "addLocatorHandler", "close", "exposeBinding", "exposeFunction", "on", "once",
    "route", "routeFromHAR", "routeWebSocket", "setExtraHTTPHeaders"],
  clock: ["install", "setFixedTime", "setSystemTime"],
};

/** Calls `told` with the arguments of every call of a method. */
function tap(thing, method, told) {
  const plain = thing[method];
  thing[method] = function tapped(...given) {
    told(...given);
    return plain.apply(this, given);
  };
}

export class KeptProfile {
  constructor(browser) {
    this.browser = browser;
  }

  /** The profile as if it were new, with these options. */
  async take(baseURL, { viewport, ...media }, fixed) {
    const key = JSON.stringify([baseURL, fixed]);
    if (key !== this.key) {
      await this.close();
      await this.make(baseURL);
      this.key = key;
    }
    await this.page.setViewportSize(viewport);
    await this.page.emulateMedia({ media: null, ...media });
    this.complaints.length = 0;
    return this;
  }

  async make(baseURL) {
    // Playwright gives it the options of the test that asks for it.
    const context = await this.browser.newContext();
    this.origin = new URL(baseURL).origin;
    this.complaints = watch(context, this.origin);
    // One worker for all tests would bring a build of one into another. `profile` has them.
    await context.addInitScript(() => {
      if (navigator.serviceWorker) navigator.serviceWorker.register = () => Promise.reject(new Error("none in tests"));
    });
    await context.addInitScript(openAll);
    const page = await context.newPage();
    this.client = await context.newCDPSession(page);
    Object.assign(this, { context, page, spoilt: false, down: new Set() });
    for (const [thing, methods] of [
      [context, FOR_GOOD.context],
      [page, FOR_GOOD.page],
      [context.clock, FOR_GOOD.clock],
    ]) {
      for (const method of methods)
        tap(thing, method, () => {
          this.spoilt = true;
        });
    }
    for (const input of [page.keyboard, page.mouse]) {
      tap(input, "down", (key) => this.down.add(typeof key === "string" ? key : "mouse"));
      tap(input, "up", (key) => this.down.delete(typeof key === "string" ? key : "mouse"));
    }
  }

  /** Clears away what a test has left. */
  async giveBack() {
    if (this.spoilt || this.down.size > 0 || !(await this.clear().catch(() => false))) await this.close();
  }

  async clear() {
    const { context, page, client, origin } = this;
    for (const other of context.pages()) if (other !== page) await other.close();
    await page.goto(ASIDE);
    await page.evaluate(() => {
      localStorage.clear();
      sessionStorage.clear();
    });
    await client.send("Storage.clearDataForOrigin", { origin, storageTypes: "cookies,indexeddb,cache_storage" });
    // Where the pointer rests, the next page would answer to it.
    await page.mouse.move(-1, -1);
    return true;
  }

  async close() {
    await this.context?.close();
    this.context = this.key = undefined;
  }
}

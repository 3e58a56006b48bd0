// Browsers driven by the commands of W3C WebDriver, without anything from npm: Firefox over its own socket
// (Marionette, which a geckodriver only passes on to), WebKit through Debian's WebKitWebDriver.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { connect, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";

/** How long a browser may take to start, ms. */
const START_MS = 30_000;

/** The key under which WebDriver names an element. */
export const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";

/**
 * Firefox. As every browser here it has `send(command, parameters)`, `errors()` that its console has told so
 * far, and `end()`. Commands have the names of WebDriver: Navigate, FindElement, ElementClick and so on.
 */
export async function firefox(binary) {
  const port = await freePort();
  const profile = mkdtempSync(join(tmpdir(), "crenel-firefox-"));
  writeFileSync(join(profile, "user.js"), Object.entries(preferences(port))
    .map(([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});\n`).join(""));
  const process = spawn(binary, ["--headless", "--marionette", "--remote-allow-system-access", "--no-remote",
    "--profile", profile, "about:blank"], { stdio: ["ignore", "pipe", "ignore"] });
  const words = [];
  process.stdout.on("data", (text) => words.push(String(text)));
  const call = await marionette(await opened(port));
  const send = (command, parameters = {}) => call(`WebDriver:${command}`, parameters);
  const { capabilities } = await send("NewSession");
  return {
    name: `Firefox ${capabilities.browserVersion}`,
    send,
    // The console of errors is the whole browser's; only its privileged side may read it.
    errors: async () => {
      await call("Marionette:SetContext", { value: "chrome" });
      const { value } = await send("ExecuteScript", { script: CONSOLE, args: [] });
      await call("Marionette:SetContext", { value: "content" });
      return [...value, ...words.join("").split("\n").filter((line) => line.startsWith("console.error:"))];
    },
    end: async () => {
      await call("Marionette:Quit", { flags: ["eForceQuit"] }).catch(() => process.kill());
      await ended(process);
      rmSync(profile, { recursive: true, force: true });
    },
  };
}

const preferences = (port) => ({
  "marionette.port": port,
  // What pages log goes to the standard output; what the browser's own parts log does not.
  "remote.prefs.recommended": false,
  "devtools.console.stdout.content": true,
  // Nothing but the page is opened and fetched.
  "browser.aboutwelcome.enabled": false,
  "browser.startup.homepage_override.mstone": "ignore",
  "app.update.disabledForTesting": true,
  "browser.shell.checkDefaultBrowser": false,
  "datareporting.policy.dataSubmissionEnabled": false,
  "network.captive-portal-service.enabled": false,
  "network.connectivity-service.enabled": false,
  "services.settings.server": "data:,#remote-settings-dummy/v1",
  "toolkit.telemetry.enabled": false,
});

/** Errors of pages and of their policies; those of the browser's own parts are left out. */
const CONSOLE = `
  const page = (name) => /^(https?|blob):/.test(name ?? "");
  return Services.console.getMessageArray()
    .filter((one) => one instanceof Ci.nsIScriptError)
    .filter((one) => !(one.flags & Ci.nsIScriptError.warningFlag) && page(one.sourceName))
    .map((one) => one.errorMessage + " (" + one.sourceName.split("#")[0] + ":" + one.lineNumber + ")");`;

/** Messages on Marionette's socket are `length:[kind, id, …]`; one command runs at a time. */
async function marionette(socket) {
  let bytes = Buffer.alloc(0);
  let id = 0;
  const waiting = new Map();
  const gone = new Promise((_, failed) => socket.once("close", () => failed(new Error("the browser is gone"))));
  // Whoever waits for an answer hears of it; nobody else need.
  gone.catch(() => {});
  const greeted = new Promise((done) => waiting.set("greeting", done));
  socket.on("data", (more) => {
    bytes = Buffer.concat([bytes, more]);
    for (;;) {
      const colon = bytes.indexOf(":");
      const end = colon + 1 + Number(bytes.subarray(0, Math.max(colon, 0)));
      if (colon < 0 || bytes.length < end) return;
      const message = JSON.parse(bytes.subarray(colon + 1, end));
      bytes = bytes.subarray(end);
      waiting.get(Array.isArray(message) ? message[1] : "greeting")?.(message);
    }
  });
  await greeted;
  return async (command, parameters) => {
    id += 1;
    const text = JSON.stringify([0, id, command, parameters]);
    const answer = new Promise((done) => waiting.set(id, done));
    socket.write(`${Buffer.byteLength(text)}:${text}`);
    const [, , error, result] = await Promise.race([answer, gone]);
    waiting.delete(id);
    if (error) throw new Error(`${command}: ${error.message}`);
    return result;
  };
}

/** WebKit by its driver, which speaks WebDriver over HTTP. It needs a screen; `xvfb-run` gives it one. */
export async function webkit(binary) {
  const port = await freePort();
  const heard = [];
  const process = spawn("xvfb-run", ["-a", binary, `--port=${port}`], { stdio: "ignore", detached: true });
  (await opened(port)).destroy();
  const call = async (method, path, body) => {
    const response = await fetch(`http://127.0.0.1:${port}${path}`, { method, body: body && JSON.stringify(body) });
    const { value } = await response.json();
    if (!response.ok) throw new Error(`${path}: ${value.message || value.error}`);
    return value;
  };
  const { sessionId, capabilities } = await call("POST", "/session", { capabilities: { alwaysMatch: {
    "webkitgtk:browserOptions": { args: ["--automation"] },
  } } });
  const listen = async () =>
    heard.push(...(await call("POST", `/session/${sessionId}/execute/sync`, { script: LISTEN, args: [] })));
  return {
    name: `WebKit ${capabilities.browserVersion}`,
    send: async (command, { id, ...parameters } = {}) => {
      const [method, path] = PATHS[command];
      const leaves = ["Navigate", "Refresh"].includes(command);
      if (leaves) await listen();
      const value = await call(
        method,
        `/session/${sessionId}${path.replace("{id}", id)}`,
        method === "POST" ? parameters : undefined,
      );
      if (leaves) await listen();
      return { value };
    },
    errors: async () => {
      await listen();
      return heard;
    },
    end: async () => {
      await call("DELETE", `/session/${sessionId}`).catch(() => {});
      // The driver stands in a group of its own, together with the screen that was made for it.
      globalThis.process.kill(-process.pid);
      await ended(process);
    },
  };
}

/**
 * The driver keeps the browser's console to itself. So the page tells what it hears from the end of its loading
 * on; if something goes wrong before, it is not put up at all.
 */
const LISTEN = `
  window.heard ??= (() => {
    const heard = [];
    const failed = ({ error, message, target }) => heard.push(String(error ?? message ?? target.outerHTML));
    addEventListener("error", failed, true);
    addEventListener("unhandledrejection", ({ reason }) => heard.push(String(reason)));
    addEventListener("securitypolicyviolation", (one) => heard.push(one.violatedDirective + " " + one.blockedURI));
    const say = console.error;
    console.error = (...words) => { heard.push(words.join(" ")); say.apply(console, words); };
    return heard;
  })();
  return window.heard.splice(0);`;

const PATHS = {
  ElementClear: ["POST", "/element/{id}/clear"],
  ElementClick: ["POST", "/element/{id}/click"],
  ElementSendKeys: ["POST", "/element/{id}/value"],
  ExecuteAsyncScript: ["POST", "/execute/async"],
  FindElement: ["POST", "/element"],
  Navigate: ["POST", "/url"],
  Refresh: ["POST", "/refresh"],
  SetTimeouts: ["POST", "/timeouts"],
  SetWindowRect: ["POST", "/window/rect"],
  TakeScreenshot: ["GET", "/screenshot"],
};

// ---- ports ----

const freePort = () => new Promise((done) => {
  const server = createServer().listen(0, "127.0.0.1", () => {
    const { port } = server.address();
    server.close(() => done(port));
  });
});

/** A connection, as soon as somebody listens there. */
async function opened(port) {
  for (const start = Date.now(); Date.now() - start < START_MS; await pause(100)) {
    const socket = connect(port, "127.0.0.1");
    const is = await new Promise((done) => socket.once("connect", () => done(true)).once("error", () => done(false)));
    if (is) return socket;
  }
  throw new Error(`no browser answered on port ${port} within ${START_MS / 1000} s`);
}

const ended = (process) => process.exitCode ?? process.signalCode ?? new Promise((done) => process.once("exit", done));

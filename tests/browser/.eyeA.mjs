import { serve } from "./serve.mjs"; import { LAUNCH } from "./chromium.mjs"; import { chromium } from "@playwright/test";
import http from "node:http"; import fs from "node:fs";
const { url } = await serve();
const browser = await chromium.launch(LAUNCH);
const S = { logs: [], url };
S.fresh = async (o = {}) => {
  if (S.ctx) await S.ctx.close();
  S.ctx = await browser.newContext({ viewport: { width: o.w ?? 390, height: o.h ?? 844 }, isMobile: true, hasTouch: true, deviceScaleFactor: 2, colorScheme: o.scheme ?? "light", reducedMotion: o.rm ?? "no-preference", permissions: ["clipboard-read","clipboard-write"] });
  const page = S.page = await S.ctx.newPage();
  page.setDefaultTimeout(8000);
  page.on("console", m => { if (["error","warning"].includes(m.type())) S.logs.push(m.type()+": "+m.text()); });
  page.on("pageerror", e => S.logs.push("pageerror: " + e.message));
  page.on("requestfailed", r => S.logs.push("failed: " + r.url()));
  page.on("dialog", d => { S.logs.push("dialog: " + d.message()); d.accept(); });
  page.on("download", d => { S.logs.push("download: " + d.suggestedFilename()); });
  return page;
};
S.shot = async (n) => { await S.page.screenshot({ path: `/tmp/eyeA/${n}.png`, scale: "css" }); };
S.wait = ms => new Promise(r => setTimeout(r, ms));
// strip: viewport pictures side by side through the page
S.strip = async (n, o = {}) => {
  const p = S.page; const h = p.viewportSize().height; const step = h - (o.overlap ?? 120);
  let y = o.from ?? 0, i = 0; const files = [];
  while (i < (o.max ?? 40)) {
    await p.evaluate(y => scrollTo({ top: y, behavior: "instant" }), y); await S.wait(250);
    const f = `/tmp/eyeA/${n}-${String(i).padStart(2,"0")}.png`; await p.screenshot({ path: f }); files.push(f);
    const m = await p.evaluate(() => document.documentElement.scrollHeight); i++;
    y += step; if (y + (o.overlap ?? 120) >= m || (o.to && y >= o.to)) break;
  }
  return files;
};
S.join = async (out, files, w = 480) => {
  S.jctx ??= await browser.newContext(); const jp = await S.jctx.newPage();
  const html = `<body style="margin:0;display:flex;gap:10px;background:#f0f">` + files.map(f => `<img style="width:${w}px;align-self:flex-start" src="data:image/png;base64,${fs.readFileSync(f).toString("base64")}">`).join("");
  await jp.setViewportSize({ width: files.length * (w + 10) - 10, height: 600 }); await jp.setContent(html);
  await jp.waitForFunction(() => [...document.images].every(i => i.complete));
  await jp.screenshot({ path: `/tmp/eyeA/${out}.png`, fullPage: true }); await jp.close();
};
S.view = async (n, o = {}) => { const fsx = await S.strip(n, o); const outs = []; for (let i = 0; i < fsx.length; i += 4) { await S.join(`${n}-j${i/4}`, fsx.slice(i, i + 4)); outs.push(`/tmp/eyeA/${n}-j${i/4}.png`); } return outs; };
http.createServer(async (q, r) => { let b = ""; for await (const c of q) b += c;
  try { const f = new (Object.getPrototypeOf(async function(){}).constructor)("S","page","fs", b); const v = await f(S, S.page, fs); r.end((typeof v === "string" ? v : JSON.stringify(v, null, 1) ?? "") + (S.logs.length ? "\nLOGS " + JSON.stringify(S.logs.splice(0)) : "") + "\n"); }
  catch (e) { r.end("ERR " + e.message + "\n"); if (b === "quit") { await browser.close(); process.exit(); } }
}).listen(9377, "127.0.0.1");
console.log("ready", url);

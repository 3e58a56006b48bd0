import { serve } from "./serve.mjs"; import { LAUNCH } from "./chromium.mjs"; import { chromium } from "@playwright/test";
import http from "node:http"; import fs from "node:fs";
const { url } = await serve({});
const S = { url, fs, log: [] };
S.browser = await chromium.launch(LAUNCH);
S.fresh = async (opts = {}) => {
  if (S.ctx) await S.ctx.close();
  S.ctx = await S.browser.newContext({ viewport: { width: 1440, height: 900 }, colorScheme: "light", acceptDownloads: true, ...opts });
  S.page = await S.ctx.newPage();
  S.page.on("console", m => { if (["error","warning"].includes(m.type())) S.log.push(m.type()+": "+m.text()); });
  S.page.on("pageerror", e => S.log.push("pageerror: "+e.message));
  S.page.on("requestfailed", r => S.log.push("reqfailed: "+r.url()));
  return S.page;
};
let n = 0;
S.shot = async (name, o={}) => { const p=`/tmp/eyeB/${name}.png`; await S.page.screenshot({ path: p, ...o }); return p; };
S.sleep = ms => new Promise(r => setTimeout(r, ms));
const AF = Object.getPrototypeOf(async function(){}).constructor;
http.createServer((q, r) => { let b=""; q.on("data", d => b+=d); q.on("end", async () => {
  try { const v = await new AF("S","page","sleep","shot", b)(S, S.page, S.sleep, S.shot);
    const l = S.log.splice(0); r.end((v===undefined?"":typeof v==="string"?v:JSON.stringify(v,null,1))+(l.length?"\nLOG "+l.join("\n"):"")+"\n"); }
  catch(e){ r.end("ERR "+e.stack+"\nLOG "+S.log.splice(0).join("\n")+"\n"); } }); }).listen(8977,"127.0.0.1");
console.log(url);

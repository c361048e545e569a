import { openBrowser, openPhone } from "./support/chromium.ts";
import { ready } from "./browser/support/looks.ts";
const b = await openBrowser();
const { page, errors } = await openPhone(b, { deviceScaleFactor: 1, reducedMotion: "reduce", viewport: { width: 360, height: 740 } });
const base = "http://127.0.0.1:8497";
const d = await (await fetch(base + "/api/alarms")).json() as any;
const all = [...d.head.alarms, ...d.past];
const want: [string, string][] = [["caves", "/caves"], ["cave1", "/caves/1"], ["journal", "/journal"], ["alarms", "/alarms"]];
const seen = new Set<string>();
for (const a of all) if (!seen.has(a.kind)) { seen.add(a.kind); want.push([`a-${a.kind.replace(/ /g, "-")}`, `/alarms/${a.id}`]); }
for (const [name, place] of want) { await page.goto(base + place); await ready(page); await page.waitForTimeout(400); await page.screenshot({ path: `/tmp/rw/shots-wp/live-${name}.png` }); console.log(name, place); }
console.log(errors);
await b.close();

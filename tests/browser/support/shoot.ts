// Pictures of every place of an invented house, by hand: npx tsx browser/support/shoot.ts FOLDER [scene,...]
import { mkdirSync } from "node:fs";
import { openBrowser, openPhone, kName } from "./chrome.ts";
import { House } from "./house.ts";
import type { SceneName } from "./scene.ts";

const folder = process.argv[2] ?? "shots";
const wanted = (process.argv[3] ?? "round,alarm,questions,calm,empty,trial").split(",") as SceneName[];
const only = process.argv[4];
mkdirSync(folder, { recursive: true });
const kPaths: Record<string, string[]> = {
  round: ["/", "/caves", "/caves/1", "/caves/5", "/wheels", "/wheels/602", "/wheels/602/did", "/wheels/602/move", "/wheels/602/gone", "/journal", "/journal/note", "/probes", "/probes/cellar%2Fb2%2Fstate", "/round/a1%20220", "/enter"],
  alarm: ["/", "/caves", "/caves/1"], questions: ["/"], calm: ["/"], empty: ["/"], trial: ["/", "/caves"],
};
const kLooks = { "360": {}, "360-light": { light: true }, "360x630": { height: 630 }, "768": { width: 768, height: 1024 }, "1280": { width: 1280, height: 800 } };
const browser = await openBrowser();
for (const scene of wanted) {
  const house = new House(scene);
  const port = await house.open();
  for (const [look, options] of Object.entries(kLooks)) {
    if (only ? look !== only : look !== "360") continue;
    const context = await openPhone(browser, options);
    const page = await context.newPage();
    page.on("console", (m) => m.type() === "error" && console.log(scene, page.url(), m.text()));
    page.on("pageerror", (e) => console.log(scene, page.url(), String(e)));
    for (const path of kPaths[scene] ?? []) {
      await page.goto(`http://${kName}:${port}${path}`);
      await page.waitForSelector("main .head, main .cave, main .jl, main .entry");
      await page.waitForTimeout(250);
      const name = `${scene}${path.replace(/[/%]+/g, "-")}-${look}.png`;
      await page.screenshot({ path: `${folder}/${name}` });
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (wide > 0) console.log(`${name}: ${wide} px wider than the screen`);
    }
    await context.close();
  }
  await house.close();
}
await browser.close();

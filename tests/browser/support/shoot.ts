// Pictures of every place of an invented house, by hand:
//   npx tsx browser/support/shoot.ts FOLDER [scene,scene...] [look]
import { fileURLToPath } from "node:url";
import { openBrowser, openPhone, address } from "../../support/chromium.ts";
import { House } from "./house.ts";
import { ready, shoot, still } from "./looks.ts";
import { kLooks, kScreens } from "./screens.ts";
import type { SceneName } from "./scene.ts";

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.env["RINDWATCH_SHOTS"] = process.argv[2] ?? "shots";
  const wanted = process.argv[3]?.split(",") as SceneName[] | undefined;
  const looks = (process.argv[4] ?? "360-dark").split(",");
  const browser = await openBrowser();
  for (const [scene, screens] of Object.entries(kScreens) as [SceneName, Record<string, string>][]) {
    if (wanted && !wanted.includes(scene)) continue;
    const house = new House(scene);
    const port = await house.open();
    for (const look of looks) {
      const { page, errors } = await openPhone(browser, { deviceScaleFactor: 1, reducedMotion: "reduce", ...kLooks[look]!.options });
      if (kLooks[look]!.light) await page.addInitScript(() => localStorage.setItem("paper", "light"));
      for (const [name, place] of Object.entries(screens)) {
        await page.goto(address(port, place));
        await ready(page);
        await still(page);
        await shoot(page, `${name}-${look}`);
      }
      if (errors.length > 0) console.log(scene, look, errors);
      await page.context().close();
    }
    await house.close();
  }
  await browser.close();
}

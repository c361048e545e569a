// The helper's sheet on paper: one A4, however many boards and boxes ask for a hand.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { AwayPlan, HelperLine } from "../../web/page/src/api.ts";
import { address, missing, openBrowser, openPhone } from "../support/chromium.ts";
import { House } from "./support/house.ts";
import { ready } from "./support/looks.ts";

const line = (cave_name: string, place: string, rind: HelperLine["rind"], count: number, more: Partial<HelperLine> = {}) =>
  ({ cave: 1, cave_name, place, rind, kinds: ["turn"], count, box: false, minutes: 2, ...more }) as unknown as HelperLine;

// Four boxes, a fridge, a counter and a cellar, seven days in a row. Invented.
const kLines = [
  line("Box 1", "Box 1", "fresh and white", 6, { box: true, kinds: ["turn", "pat"] }), line("Cellar", "W1", "fresh and white", 23, {}),
  line("Counter", "Counter", "natural and pressed", 1, {}), line("Fridge", "Fridge", "natural and pressed", 2), line("Cellar", "A1", "natural and pressed", 24),
  line("Cellar", "A2", "natural and pressed", 24, { kinds: ["wipe", "turn"] }), line("Box 2", "Box 2", "washed", 2, { box: true }), line("Cellar", "B2", "washed", 12),
  line("Box 3", "Box 3", "washed", 1, { box: true, kinds: ["wipe", "turn"] }), line("Box 4", "Box 4", "blue", 2, { box: true }),
];

test("a helper's sheet of four boxes and seven days prints on one A4", { skip: missing }, async (t) => {
  const house = new House("round");
  const port = await house.open();
  const browser = await openBrowser();
  t.after(async () => {
    await browser.close();
    await house.close();
  });
  const { page } = await openPhone(browser, { deviceScaleFactor: 1, reducedMotion: "reduce" });
  const plan = (await (await fetch(`http://127.0.0.1:${port}/api/away?from=2026-12-01&back=2026-12-08`)).json()) as AwayPlan;
  const full: AwayPlan = { ...plan, visits: Array.from({ length: 7 }, (_, i) => ({ day: `2026-12-0${i + 1}`, minutes: 12, lines: kLines })), normal: ["white", "grey", "orange", "blue", "drops"].map((key) => `sheet.normal.${key}`) };
  await page.route("**/api/away?*", (route) => route.fulfill({ json: full }));
  await page.goto(address(port, "/away/2026-12-01/2026-12-08/"));
  await ready(page);
  await page.locator(".sheet").waitFor();
  await page.getByText("Eight clean cloths lie beside them.").waitFor();
  const margin = "12mm";
  const pdf = (await page.pdf({ format: "A4", margin: { top: margin, bottom: margin, left: margin, right: margin } })).toString("latin1");
  assert.equal(pdf.match(/\/Type\s*\/Page\b/g)?.length, 1);
});

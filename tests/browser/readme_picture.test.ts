// The picture in README.md: the round of a real trial on a phone. Each run makes it in build/shots/round.png;
// RINDWATCH_PICTURE=1 (`npm run picture` in tests/) writes it to web/page/round.png, where README.md shows it.
import assert from "node:assert/strict";
import { copyFileSync, existsSync, readFileSync, statSync, writeFileSync } from "node:fs";
import path from "node:path";
import { test } from "node:test";
import type { Page } from "playwright-core";
import { missing, openBrowser, openPhone } from "../support/chromium.ts";
import { temporaryFolder } from "../support/cleanup.ts";
import { freePort } from "../support/ports.ts";
import { Running } from "../support/running.ts";
import { rindwatch, root } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { ready, shoot, shotsFolder } from "./support/looks.ts";
import { smallPng } from "./support/small_png.ts";

const kKept = path.join(root, "web", "page", "round.png");
const kHeaviest = 80_000; // bytes

/** A zone in which it is the hour of the evening round, so that every run shows the same hour. */
function zoneOfTheEvening(hour = 17): string {
  const east = ((hour - new Date().getUTCHours() + 36) % 24) - 12;
  return `Etc/GMT${east > 0 ? "-" : "+"}${Math.abs(east)}`; // these names count westward
}

/** Puts off what is asked before a line, as a keeper with wet hands does, so that the line itself is at hand. */
async function putOffQuestions(page: Page): Promise<void> {
  const later = page.getByRole("button", { name: /decide later|not yet/ });
  while ((await later.count()) > 0) await later.first().tap();
}

/** Scrolls back to where the sentence is in sight, if what is above "now" has grown. */
async function frame(page: Page): Promise<void> {
  await page.evaluate(() => scrollBy({ top: Math.min(0, document.querySelector("h1")!.getBoundingClientRect().top - 12), behavior: "instant" }));
}

const inSight = (page: Page, selector: string): Promise<number> =>
  page.locator(selector).evaluateAll((found) => {
    const foot = document.querySelector(".sumbar, .foot")?.getBoundingClientRect().top ?? innerHeight;
    return found.filter((element) => {
      const box = element.getBoundingClientRect();
      return box.height > 0 && box.top >= 0 && box.bottom <= foot + 1;
    }).length;
  });

test("the picture in README.md shows the round of a trial: how things stand, now, a line to sign and one that is signed", { skip: missing, timeout: 300_000 }, async (t) => {
  const port = await freePort();
  const trial = new Running(rindwatch, ["try", "--folder", temporaryFolder(), "--port", String(port), "--speed", "1", "--zone", zoneOfTheEvening()]);
  t.after(() => trial.end("SIGINT"));
  await until("the trial prints its page", () => trial.ending || trial.out.includes("The page:"), 120_000);
  assert.equal(trial.ending, undefined, trial.said);
  const browser = await openBrowser();
  t.after(() => browser.close());
  const { page, errors } = await openPhone(browser, { reducedMotion: "reduce" });
  // The trial answers to the machine's own name alone; nothing that only this name allows is in the picture.
  await page.goto(`http://127.0.0.1:${port}/`);
  await ready(page);
  await page.locator("button.line").first().waitFor();
  await putOffQuestions(page);
  // Opened anew, as a keeper finds it: what was tapped keeps its height until then, and the undo bar lies over the lines.
  await page.goto(`http://127.0.0.1:${port}/`);
  await ready(page);
  await page.locator("button.line").first().waitFor();
  await frame(page);
  await shoot(page, "round");
  const picture = path.join(shotsFolder(), "round.png");
  writeFileSync(picture, smallPng(readFileSync(picture)));
  assert.equal(await inSight(page, "h1"), 1, "the sentence is in sight");
  assert.equal(await inSight(page, ".now"), 1, "now is in sight");
  assert.ok((await inSight(page, "button.line:not([aria-disabled=true])")) >= 1, "a line to sign is in sight");
  assert.ok((await inSight(page, ".done")) >= 1, "a signed line is in sight");
  assert.deepEqual(errors, []);
  assert.ok(statSync(picture).size < kHeaviest, `${statSync(picture).size} bytes`);
  if (process.env["RINDWATCH_PICTURE"] === "1") copyFileSync(picture, kKept);
  assert.ok(existsSync(kKept), "README.md shows web/page/round.png: make it with `npm run picture` in tests/");
});

// The trial on a phone-sized screen.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import type { Browser } from "playwright-core";
import { missing, openBrowser, openPhone } from "../support/chromium.ts";
import { temporaryFolder } from "../support/cleanup.ts";
import { freePort } from "../support/ports.ts";
import { Running } from "../support/running.ts";
import { rindwatch } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { ready } from "./support/looks.ts";

let browser: Browser;
before(async () => {
  if (!missing) browser = await openBrowser();
});
after(async () => browser?.close());

test("the trial's round is there at once, says that it is invented, and a line is signed with one tap", { skip: missing, timeout: 180_000 }, async (t) => {
  const port = await freePort();
  const trial = new Running(rindwatch, ["try", "--calm", "--folder", temporaryFolder(), "--port", String(port), "--zone", "Europe/Vienna"]);
  t.after(() => trial.end("SIGINT"));
  await until("the trial prints its page", () => trial.ending || trial.out.includes("The page:"), 120_000);
  const { page, errors } = await openPhone(browser, { reducedMotion: "reduce" });
  // An address is always a right name, so the trial needs no setting for it.
  await page.goto(`http://127.0.0.1:${port}/`);
  await ready(page);
  await page.getByText(/invented|trial/i).first().waitFor();
  const open = page.locator("button.line:not([aria-disabled=true])");
  const before = await open.count();
  if (before > 0) {
    await open.first().tap();
    await until("it is signed", async () => (await open.count()) < before);
  }
  // Where the four words stand at the head, the line that says so stands beside them, not over them.
  for (const width of [1100, 1280, 1920]) {
    await page.setViewportSize({ width, height: 800 });
    const [line, word] = await Promise.all([page.locator(".foot .told").boundingBox(), page.locator(".foot a").first().boundingBox()]);
    assert.ok(line && word && line.x >= 0 && line.x + line.width <= word.x, `${width}: ${JSON.stringify({ line, word })}`);
  }
  assert.deepEqual(errors, []);
});

// The trial on a phone-sized screen; with RINDWATCH_PICTURE=FILE it leaves the picture that the README shows:
//   cd tests && RINDWATCH_PICTURE=../web/page/round.png node --import tsx --test browser/trial.test.ts
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
  // The picture is taken before a keeper's breakfast, when the day's lines are open.
  const picture = process.env["RINDWATCH_PICTURE"];
  const morning = { LD_PRELOAD: "/usr/$LIB/faketime/libfaketime.so.1", FAKETIME: "@2026-11-26 06:40:00" };
  const trial = new Running(rindwatch, ["try", "--folder", temporaryFolder(), "--port", String(port), "--zone", "Europe/Vienna"], {
    env: { TZ: "Europe/Vienna", ...(picture ? morning : {}) },
  });
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
  if (picture) {
    // The bar that offers to undo goes after ten seconds.
    await page.getByRole("status", { name: "just signed" }).waitFor({ state: "detached", timeout: 30_000 });
    await page.screenshot({ path: picture });
  }
  assert.deepEqual(errors, []);
});

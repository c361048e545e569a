// Two keepers on two phones: both phones say the same of who goes to an alarm, also where one took it without reception,
// and of who is in a cave.
import assert from "node:assert/strict";
import { after, before, test, type TestContext } from "node:test";
import type { Browser, Page } from "playwright-core";
import { Broker } from "../support/broker.ts";
import { address, host, missing, openBrowser, openPhone } from "../support/chromium.ts";
import { hangGas, ring } from "../support/gas.ts";
import { missing as timeless, Time } from "../support/time.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";
import { findings, overflow, ready, shoot } from "./support/looks.ts";

let browser: Browser;
before(async () => {
  if (!missing) browser = await openBrowser();
});
after(async () => browser?.close());

async function phoneOf(t: TestContext, watch: Watch, keeper: string, place: string): Promise<Page> {
  const { page } = await openPhone(browser, { viewport: { width: 360, height: 630 }, reducedMotion: "reduce", deviceScaleFactor: 1 });
  t.after(() => page.context().close());
  await page.addInitScript((name) => localStorage.setItem("keeper", name), keeper);
  await page.goto(address(watch.port, place));
  await ready(page);
  return page;
}
const text = async (page: Page) => (await page.locator("main").textContent())!;

test("who takes an alarm without reception is told that it is not told yet, and then that the other goes; the other never reads anything else", { skip: missing || timeless, timeout: 180_000 }, async (t) => {
  const time = new Time();
  const broker = await Broker.start();
  t.after(() => broker.down());
  const watch = await Watch.start({ brokerPort: broker.port, env: time.env, settings: { listen: [`names = ["${host}"]`] } });
  t.after(() => watch.end("SIGKILL"));
  await hangGas(watch);
  for (const name of ["IH", "TR"]) await watch.did({ kind: "keeper", name });
  const [alarm] = await ring(watch, broker, time);
  const place = `/alarms/${encodeURIComponent(alarm!.id)}`;
  const theirs = await phoneOf(t, watch, "TR", place);
  await theirs.context().setOffline(true);
  await theirs.locator("button.deed").tap();
  const untold = theirs.locator("p .untold");
  await untold.waitFor();
  assert.match((await untold.textContent())!, /^taken by you (\w{3} )?\d\d:\d\d, not yet told$/);
  assert.match(await untold.evaluate((e) => getComputedStyle(e).textDecoration), /underline.* dashed/);
  assert.match(await text(theirs), /the bell goes on, and another may take it first/);
  assert.equal(await overflow(theirs), 0);
  assert.deepEqual(await findings(theirs), []);
  await shoot(theirs, "taking-untold");
  await theirs.getByRole("navigation").getByRole("link", { name: "Round" }).tap();
  assert.match((await theirs.locator(".ring .untold").textContent())!, /taken by you (\w{3} )?\d\d:\d\d, not yet told/, "the strip too");

  time.go(120);
  const ours = await phoneOf(t, watch, "IH", place);
  await ours.locator("button.deed").getByText("take it").tap();
  await ours.getByText(/^taken (\w{3} )?\d\d:\d\d IH$/).waitFor();
  // Whatever stood on the screen of who took it first while the other taking arrived.
  await ours.evaluate(() => {
    const seen: string[] = ((window as any).seen = []);
    new MutationObserver(() => seen.push(document.querySelector("main")!.textContent!)).observe(document.body, { subtree: true, childList: true, characterData: true });
  });

  await theirs.context().setOffline(false);
  const goes = "before yours arrived: IH goes, unless you two agree otherwise.";
  await theirs.locator(".ring", { hasText: goes }).waitFor();
  await until("both takings are kept", async () => (await watch.get("/api/journal")).lines.filter((l: { kind: string }) => l.kind === "take").length === 2);
  await ours.getByText(/^You took it (\w{3} )?\d\d:\d\d\. TR took it too, which arrived later: you go, unless you agree otherwise\.$/).waitFor();
  await ours.getByText(/^taken (\w{3} )?\d\d:\d\d IH$/).waitFor();
  await shoot(ours, "taking-both");
  for (const seen of [...(await ours.evaluate(() => (window as any).seen as string[])), await text(ours)]) assert.doesNotMatch(seen, /taken (\w{3} )?\d\d:\d\d TR|TR goes/);
  await theirs.goto(address(watch.port, place));
  await ready(theirs);
  assert.match(await text(theirs), new RegExp(`IH took it (\\w{3} )?\\d\\d:\\d\\d, ${goes}`));
  assert.equal(await theirs.locator(".untold").count(), 0);
  assert.equal(await theirs.locator("button.deed").count(), 0, "nothing is left to take");
  const third = await phoneOf(t, watch, "", place);
  assert.match(await text(third), /IH took it (\w{3} )?\d\d:\d\d, TR later: IH goes, unless they agree otherwise\./);
});

test("who is in a cave stands by name on the partner's phone, which says nobody out but its own", { skip: missing, timeout: 120_000 }, async (t) => {
  const watch = await Watch.start({ settings: { listen: [`names = ["${host}"]`] } });
  t.after(() => watch.end("SIGKILL"));
  const cave = await hangGas(watch);
  for (const name of ["IH", "TR"]) await watch.did({ kind: "keeper", name });
  const [ours, theirs] = [await phoneOf(t, watch, "IH", `/caves/${cave}`), await phoneOf(t, watch, "TR", `/caves/${cave}`)];
  await ours.getByRole("button", { name: "I am here" }).tap();
  for (const page of [ours, theirs]) await page.getByText(/^IH here until (\w{3} )?\d\d:\d\d$/).waitFor();
  assert.match((await theirs.locator(".presence .m").textContent())!, /^(\w{3} )?\d\d:\d\d IH$/);
  const pressed = (page: Page) => page.getByRole("button", { name: "I am here" }).getAttribute("aria-pressed");
  assert.deepEqual([await pressed(ours), await pressed(theirs)], ["true", "false"]);
  assert.ok(await theirs.getByRole("button", { name: "I am out" }).isDisabled());
  await theirs.getByRole("button", { name: "I am here" }).tap();
  for (const page of [ours, theirs]) await page.getByText(/^IH and TR here until (\w{3} )?\d\d:\d\d$/).waitFor();
  assert.deepEqual([await overflow(theirs), await findings(theirs)], [0, []]);
  await theirs.getByRole("button", { name: "I am out" }).tap();
  for (const page of [ours, theirs]) await page.getByText(/^IH here until (\w{3} )?\d\d:\d\d$/).waitFor();
  await ours.getByRole("button", { name: "I am out" }).tap();
  for (const page of [ours, theirs]) await page.getByText(/here until/).waitFor({ state: "detached" });
});

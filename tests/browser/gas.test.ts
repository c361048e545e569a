// Gas, by the program itself: hung from the page, read at once, large while somebody is there, and the phone sounds.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import type { Browser } from "playwright-core";
import { Broker } from "../support/broker.ts";
import { address, host, missing, openBrowser, openPhone } from "../support/chromium.ts";
import { enterWheel } from "../support/keeping.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";
import { findings, overflow, ready, shoot, smallTargets } from "./support/looks.ts";

let browser: Browser;
before(async () => {
  if (!missing) browser = await openBrowser();
});
after(async () => browser?.close());

test("a gas probe is hung from the page; its figure stands large and the phone sounds, quiet hour or not", { skip: missing, timeout: 180_000 }, async (t) => {
  const broker = await Broker.start();
  t.after(() => broker.down());
  const watch = await Watch.start({ brokerPort: broker.port, settings: { listen: [`names = ["${host}"]`] } });
  t.after(() => watch.end("SIGKILL"));
  const { cave } = await enterWheel(watch, { where: { new: { kind: "room", name: "Cellar" } } });
  await watch.connected();
  const { page, errors } = await openPhone(browser, { viewport: { width: 360, height: 630 }, reducedMotion: "reduce", deviceScaleFactor: 1 });
  t.after(() => page.context().close());
  await until("the topic arrives", async () => {
    await broker.publish("cellar/gas", "5200");
    return (await watch.get("/api/arriving")).topics.length > 0;
  });
  await page.goto(address(watch.port, "/probes"));
  await ready(page);
  await page.getByRole("link", { name: /cellar\/gas/ }).tap();
  await page.getByRole("button", { name: /air temperature/ }).waitFor();
  await page.reload();
  await ready(page);
  await page.getByRole("button", { name: /air temperature/ }).first().tap();
  await page.getByRole("button", { name: "carbon dioxide" }).tap();
  await page.getByRole("button", { name: "Cellar", exact: true }).tap();
  await page.locator("button.deed").tap();
  await until("it hangs", async () => (await watch.get(`/api/caves/${cave}`)).cave.gas?.length === 1);
  await page.goto(address(watch.port, `/caves/${cave}`));
  await ready(page);
  await page.getByRole("button", { name: "I am here" }).tap();
  await until("the figure is read and rings", async () => {
    await broker.publish("cellar/gas", "5200");
    return (await page.getByRole("button", { name: "hush this phone" }).count()) === 1;
  });
  const figure = page.locator(".gas.large .figure");
  assert.equal((await figure.textContent())!.replace(/\s/g, " "), "5200");
  assert.deepEqual([await overflow(page), await smallTargets(page), await findings(page)], [0, [], []]);
  await shoot(page, "program-gas");
  await page.getByRole("button", { name: "hush this phone" }).tap();
  await page.getByText("This phone sounds at once").waitFor();
  await page.getByRole("button", { name: "I am out" }).tap();
  await until("out", async () => (await watch.get(`/api/caves/${cave}`)).cave.here_until === undefined);
  assert.deepEqual(errors, []);
});

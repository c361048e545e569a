// The page and the program together, as a phone on the cellar's network meets them.
import assert from "node:assert/strict";
import { after, before, test, type TestContext } from "node:test";
import type { Browser, Page } from "playwright-core";
import { address, host, missing, openBrowser, openPhone } from "../support/chromium.ts";
import { Broker } from "../support/broker.ts";
import { day, enterWheel } from "../support/keeping.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";
import { findings, overflow, ready, shoot, smallTargets } from "./support/looks.ts";

let browser: Browser;
before(async () => {
  if (!missing) browser = await openBrowser();
});
after(async () => browser?.close());

async function begin(t: TestContext, brokerPort?: number): Promise<Watch> {
  const watch = await Watch.start({ settings: { listen: [`names = ["${host}"]`] }, ...(brokerPort ? { brokerPort } : {}) });
  t.after(() => watch.end("SIGKILL"));
  return watch;
}

async function phone(t: TestContext, watch: Watch, place = "/"): Promise<{ page: Page; errors: string[] }> {
  const opened = await openPhone(browser, { reducedMotion: "reduce", deviceScaleFactor: 1 });
  t.after(() => opened.page.context().close());
  await opened.page.goto(address(watch.port, place));
  await ready(opened.page);
  return opened;
}

const journal = async (watch: Watch, kind: string) => (await watch.get("/api/journal")).lines.filter((l: { kind: string }) => l.kind === kind);
const open = (page: Page) => page.locator("button.line:not([aria-disabled=true])");

test("an empty database asks what is ripening; four taps later the round works", { skip: missing }, async (t) => {
  const watch = await begin(t);
  const { page, errors } = await phone(t, watch);
  await page.getByRole("button", { name: "pale, pressed, bare" }).tap();
  await page.getByRole("button", { name: "today" }).tap();
  await page.getByRole("button", { name: "on the counter" }).tap();
  await page.getByRole("button", { name: "2 kg" }).tap();
  await page.locator("main.round").waitFor();
  await until("the house has it", async () => (await watch.get("/api/wheels")).wheels.length === 1);
  const { wheels } = await watch.get("/api/wheels");
  assert.deepEqual([wheels[0].made, wheels[0].grams, wheels[0].state], [day(), 2000, "drying"]);
  await page.getByRole("link", { name: "Wheels" }).tap();
  await page.locator(".wheelline").waitFor();
  assert.deepEqual(errors, []);
});

test("a wheel made before today lies in a box: the day that the plan gives is proposed and kept as reckoned", { skip: missing }, async (t) => {
  const watch = await begin(t);
  const { page } = await phone(t, watch);
  await page.getByRole("button", { name: "pale, pressed, bare" }).tap();
  await page.getByRole("button", { name: "another day" }).tap();
  const made = day(12);
  const label = new Intl.DateTimeFormat("en-GB", { weekday: "long", day: "numeric", month: "long", timeZone: "UTC" }).format(new Date(`${made}T00:00:00Z`)).replace(",", "");
  if (made.slice(0, 7) !== day().slice(0, 7)) await page.getByRole("button", { name: "earlier" }).tap();
  await page.getByRole("button", { name: label }).tap();
  await page.getByRole("button", { name: "in a box in the fridge" }).tap();
  await page.getByRole("button", { name: "not known" }).tap();
  await page.getByText("reckoned from the plan").first().waitFor();
  await page.locator(".deed").tap();
  const { wheels } = await until("the house has it", async () => {
    const list = await watch.get("/api/wheels");
    return list.wheels.length === 1 && list;
  });
  assert.equal(wheels[0].counts_from.start, "entered box");
  assert.equal(wheels[0].counts_from.reckoned, true);
  assert.equal(wheels[0].place, "Box 1");
});

test("the round is ticked on a phone, half of it with the connection cut, and each line counts once", { skip: missing }, async (t) => {
  const watch = await begin(t);
  for (const [name, count] of [["Box 1", 2], ["Box 2", 3], ["Box 3", 1], ["Box 4", 4]] as const) await enterWheel(watch, { count, where: { new: { kind: "box", name } } });
  const { page } = await phone(t, watch);
  const lines = await open(page).count();
  assert.equal(lines, 4);
  await open(page).first().tap();
  await open(page).first().tap();
  await until("two are on disk", async () => (await journal(watch, "care")).length === 2);
  await page.context().setOffline(true);
  await open(page).first().tap();
  await open(page).first().tap();
  assert.equal(await page.getByText("waiting to be sent").count(), 2);
  assert.equal((await journal(watch, "care")).length, 2);
  // The program itself goes too, as in a power cut, and comes back.
  await watch.end("SIGKILL");
  const tried = page.waitForEvent("requestfailed", (request) => request.url().includes("/api/"));
  await page.context().setOffline(false);
  await tried;
  await watch.up();
  await until("all four are on disk", async () => (await journal(watch, "care")).length === 4, 60_000);
  await until("nothing waits", async () => (await page.getByText("waiting to be sent").count()) === 0);
  const cares = await journal(watch, "care");
  assert.deepEqual(cares.map((c: { count: number }) => c.count).sort(), [1, 2, 3, 4]);
  assert.equal(new Set(cares.map((c: { id: string }) => c.id)).size, 4);
  assert.ok(cares.every((c: { late_entry: boolean }) => !c.late_entry), "slow sending is no late entry");
  assert.match((await page.locator("h1").textContent())!, /All done for today/);
});

test("undo all day, done earlier and in part arrive in the journal as the keeper said them", { skip: missing }, async (t) => {
  const watch = await begin(t);
  await enterWheel(watch, { count: 2 });
  const { page } = await phone(t, watch);
  await open(page).first().tap();
  await until("on disk", async () => (await journal(watch, "care")).length === 1);
  await page.getByRole("status", { name: "just signed" }).getByRole("button", { name: "earlier" }).tap();
  await page.getByRole("button", { name: "turn only" }).tap();
  await page.getByRole("button", { name: "rind wet" }).tap();
  await page.locator(".deed").tap();
  await until("said more exactly", async () => (await journal(watch, "care")).length === 2);
  const [first, second] = await journal(watch, "care");
  assert.equal(first.undone, true);
  assert.deepEqual([second.done, second.skipped, second.reason], [["turn"], ["wash"], "rind wet"]);
  await page.locator(".done").getByRole("button", { name: "undo" }).tap();
  await until("undone", async () => (await journal(watch, "undo")).length === 2);
  await until("the line is open again", async () => (await open(page).count()) === 1);
});

test("a probe that arrives is hung on the page, its reading shows, and what two phones do meets on both", { skip: missing }, async (t) => {
  const broker = await Broker.start();
  t.after(() => broker.down());
  const watch = await begin(t, broker.port);
  await enterWheel(watch);
  await watch.connected();
  // Connected is not yet subscribed: a probe speaks again and again, and so does this one.
  await until("the topic arrives", async () => {
    await broker.publish("cellar/box1", '{"temperature":12.4,"humidity":84.5}');
    return (await watch.get("/api/arriving")).topics.some((topic: { topic: string }) => topic.topic === "cellar/box1");
  });
  const { page } = await phone(t, watch, "/probes");
  await page.getByRole("link", { name: "cellar/box1" }).tap();
  await page.getByRole("button", { name: "Box 1", exact: true }).tap();
  await page.locator(".deed").tap();
  await until("it hangs", async () => (await journal(watch, "probe")).length === 1);
  await until("its reading is kept", async () => {
    await broker.publish("cellar/box1", '{"temperature":12.5,"humidity":84.0}');
    return (await watch.get("/api/caves")).caves.some((c: { temperature: { latest?: number } }) => c.temperature.latest === 12.5);
  });
  await page.getByText("12.5°").waitFor();
  await page.getByText("84 %").waitFor();
  const other = await phone(t, watch);
  await open(other.page).first().tap();
  await page.getByRole("link", { name: "Round" }).tap();
  await page.locator(".done").waitFor();
  assert.equal(await open(page).count(), 0);
});

test("every place of the real program fits the glass, is large enough to tap, and axe-core finds nothing", { skip: missing }, async (t) => {
  const watch = await begin(t);
  const { cave, wheels } = await enterWheel(watch, { count: 3 });
  const { page, errors } = await phone(t, watch);
  const faults: string[] = [];
  for (const place of ["/", "/caves", `/caves/${cave}`, "/wheels", `/wheels/${wheels[0]}`, `/wheels/${wheels[0]}/move`, `/wheels/${wheels[0]}/did`, "/journal", "/probes", "/enter"]) {
    await page.goto(address(watch.port, place));
    await ready(page);
    const wider = await overflow(page);
    if (wider > 0) faults.push(`${place}: ${wider} px wider`);
    for (const small of await smallTargets(page)) faults.push(`${place}: ${small}`);
    for (const one of await findings(page)) faults.push(`${place}: ${one}`);
    await shoot(page, `program${place.replaceAll("/", "-")}`);
  }
  assert.deepEqual([...faults, ...errors], []);
});

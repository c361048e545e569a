// Alarms by thumb on a small phone: what rings is taken at its own address, put off with an end, called by its name;
// whoever is there says so; limits are tried before they are written.
import assert from "node:assert/strict";
import { after, before, test, type TestContext } from "node:test";
import type { Browser, Page } from "playwright-core";
import type { Alarm } from "../../web/page/src/api.ts";
import { address, missing, openBrowser, openPhone } from "../support/chromium.ts";
import { until } from "../support/until.ts";
import { House } from "./support/house.ts";
import { findings, overflow, ready, shoot, smallTargets } from "./support/looks.ts";
import type { SceneName } from "./support/scene.ts";

let browser: Browser;
before(async () => {
  if (!missing) browser = await openBrowser();
});
after(async () => browser?.close());

async function openHouse(t: TestContext, scene: SceneName, place: string, keepers?: string[]): Promise<{ house: House; page: Page }> {
  const house = new House(scene, keepers);
  const port = await house.open();
  const { page, errors } = await openPhone(browser, { viewport: { width: 360, height: 630 }, reducedMotion: "reduce", deviceScaleFactor: 1 });
  t.after(async () => {
    await page.context().close();
    await house.close();
    assert.deepEqual(errors, []);
  });
  await page.goto(address(port, place));
  await ready(page);
  return { house, page };
}
const acts = (house: House, kind: string) => [...house.acts.values()].filter((act) => act.kind === kind) as any[];

test("the strip leads to the alarm's own address, which says whom it comes to and when, and what to do first", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "alarm", "/");
  const strip = page.getByRole("region", { name: "Fridge too warm" });
  assert.match((await strip.textContent())!, /6 bloomies: in 1\u00a0to\u00a02\u00a0h/);
  await strip.getByRole("link").tap();
  await page.getByRole("heading", { name: "Too warm" }).waitFor();
  assert.match(page.url(), /\/alarms\/f+$/);
  const text = (await page.locator("main").textContent())!;
  for (const said of ["since 04:20", "keep 11\u00a0to\u00a014", "in 2\u00a0to\u00a04\u00a0h", "13:00 to 18:00", "1.5\u00a0kg", "Box 1, 250\u00a0g, so far at the core at most about 13.6\u00a0°C", "Shut the door."]) assert.ok(text.includes(said), said);
  assert.match((await page.getByRole("img", { name: /last 24 hours/ }).getAttribute("aria-label"))!, /in 4\s?h perhaps/);
});

test("on its own page an alarm is as urgent taken as it was, and wheels without a time beside others with one are not foreseen yet", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "alarm", "/");
  await page.route("**/api/alarms/*", async (route) => {
    const asked = new URL(route.request().url());
    asked.hostname = "127.0.0.1"; // the name of the house is known to the browser alone
    const response = await route.fetch({ url: asked.href });
    const told = await response.json();
    const [first, ...others] = told.alarm.concerns;
    const concerns = [first, ...others.map(({ soonest: _, latest: __, ...one }: Record<string, unknown>) => one)];
    await route.fulfill({ response, json: { ...told, alarm: { ...told.alarm, severity: "urgent", concerns } } });
  });
  await page.getByRole("region", { name: "Fridge too warm" }).getByRole("link").tap();
  const text = async () => (await page.locator("section.cave").textContent())!;
  await page.getByText("not foreseen yet").first().waitFor();
  assert.match(await text(), /Urgent, since 04:20/);
  assert.equal((await text()).split("not foreseen yet").length, 3, "two of three");
  await page.locator("button.deed").tap();
  await page.getByText(/^taken/).first().waitFor();
  assert.match(await text(), /Urgent, since 04:20/);
  // The house may be asked once more just as the page closes.
  await page.unrouteAll({ behavior: "ignoreErrors" });
});

test("on top of each place gas says who may be inside and what to do before its figure, and the round keeps its place below it", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/caves");
  const strip = page.getByRole("region", { name: "Cellar carbon dioxide high" });
  assert.match((await strip.locator(".low").textContent())!.replace(/\u00a0/g, " "), /^TR may be inside\. Nobody in\. 16200 ppm$/);
  // Whatever stands on top, above the line at hand there is no more air than half the glass has.
  await page.getByRole("navigation").getByRole("link", { name: "Round" }).tap();
  const before = page.locator(".before");
  await before.waitFor();
  const group = (await page.locator(".before + .class").boundingBox())!.height;
  const heights = async () => ({ strips: await page.evaluate(() => [...document.querySelectorAll<HTMLElement>(".book > .ring")].reduce((sum, one) => sum + one.offsetHeight, 0)), least: await before.evaluate((box) => parseFloat(getComputedStyle(box).minHeight)) });
  const { strips, least } = await heights();
  assert.ok(strips > 100, "two of them");
  assert.ok(Math.abs(strips + least + group - 315) < 2, `${strips} px of alarms, ${least} px and ${group} of the group's head are half of 630`);
});

test("gas that is not urgent leads on the page of another cave too, and of another alarm", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/journal");
  await page.route(/\/api\/(?!events|acts)/, async (route) => {
    const asked = new URL(route.request().url());
    asked.hostname = "127.0.0.1"; // the name of the house is known to the browser alone
    const response = await route.fetch({ url: asked.href });
    const told = await response.json();
    for (const alarm of told.head?.alarms ?? []) if (alarm.kind === "carbon dioxide") Object.assign(alarm, { severity: "act", grade: "act" });
    await route.fulfill({ response, json: told });
  });
  for (const place of ["/caves/1", "/alarms/probe-silent-9-5"]) {
    await page.goto(new URL(place, page.url()).href);
    await ready(page);
    assert.equal(await page.locator("section.ring").first().getAttribute("aria-label"), "Cellar carbon dioxide high", place);
  }
  await page.unrouteAll({ behavior: "ignoreErrors" });
});

test("a strip takes no more of a small phone than its title and two lines: what is at hand begins before two thirds, the next line is seen", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "alarm", "/");
  const box = async (what: ReturnType<Page["locator"]>) => (await what.boundingBox())!;
  const strip = page.getByRole("region", { name: "Fridge too warm" });
  const [deed, hand, next, sum] = [await box(strip.getByRole("button")), await box(page.locator(".line.athand")), await box(page.locator("[data-key='a1 220']")), await box(page.locator(".sumbar"))];
  assert.ok((await box(strip)).height <= 80, `${(await box(strip)).height} px`);
  assert.ok(deed.height >= 48 && deed.width >= 48);
  assert.ok(hand.y >= 315 && hand.y <= 420, `the line at hand begins at ${hand.y}`);
  assert.ok(sum.y - next.y >= 20, `the next line begins at ${next.y}, the sum at ${sum.y}`);
});

test("a cave with gas says its figure in red before anything calm; its own page says figure and warning once, and the orders are in sight", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/caves");
  assert.equal(await page.locator("h1.say").textContent(), "Cellar probe silent since 05:14.", "the strip above says the gas");
  const cellar = page.locator("a.cave", { hasText: "Cellar" });
  const [figure, state] = [cellar.locator(".high"), cellar.locator(".state:not(.high)")];
  assert.match((await figure.textContent())!, /16200\s+ppm carbon dioxide/);
  const look = await figure.locator(".fig").evaluate((one) => ({ ink: getComputedStyle(one).color, size: parseFloat(getComputedStyle(one).fontSize) }));
  assert.deepEqual(look, { ink: "rgb(255, 142, 106)", size: 21 });
  assert.ok((await figure.boundingBox())!.y < (await state.boundingBox())!.y);
  await cellar.tap();
  await page.locator(".cry").waitFor();
  const text = (await page.locator("section.cave").textContent())!;
  for (const once of ["16200", "From 15000", "TR said at 06:50"]) assert.equal(text.split(once).length, 2, once);
  assert.match(text, /Urgent, since 05:14/);
  const box = async (what: ReturnType<Page["locator"]>) => (await what.boundingBox())!;
  const bar = await box(page.locator("button.deed"));
  for (const seen of [page.getByText("TR said at 06:50"), page.locator("ol.orders > li").last()]) assert.ok((await box(seen)).y + (await box(seen)).height <= bar.y, (await seen.textContent())!);
  assert.ok((await box(page.locator(".gas .unit").first())).x - (await box(page.locator(".gas .figure").first())).x > 60, "beside its figure");
});

test("a quiet notice is no red strip, and what is urgent says so", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/alarms");
  const red = async (name: string) => page.getByRole("region", { name }).locator(".verb").evaluate((one) => getComputedStyle(one).color === "rgb(255, 142, 106)");
  assert.deepEqual([await red("Cellar carbon dioxide high"), await red("Cellar probe silent")], [true, false]);
  assert.match((await page.getByRole("region", { name: "Cellar carbon dioxide high" }).locator(".m").textContent())!, /urgent 05:14/);
  assert.ok(await page.getByRole("region", { name: "Cellar probe silent" }).getByRole("button", { name: "take it" }).isVisible());
});

test("a box's page has the alarm of its fridge that comes to its wheels on top, and a place where all is well what rings elsewhere", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "alarm", "/caves/2");
  await page.getByRole("region", { name: "Fridge too warm" }).getByRole("button", { name: "take it" }).waitFor();
  await page.goto(page.url().replace("/caves/2", "/caves/5"));
  await page.getByRole("heading", { name: "Cellar", level: 1 }).waitFor();
  await page.getByRole("region", { name: "Fridge too warm" }).getByRole("button", { name: "take it" }).waitFor();
});

test("a cave's own page has on top what is over and not yet seen, and a box's page that of its fridge; beside what rings loud they are one line", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "flood", "/caves/1");
  const strip = page.getByRole("region", { name: "Fridge not watched" });
  const y = async (what: ReturnType<Page["locator"]>) => (await what.boundingBox())!.y;
  const own = page.getByRole("heading", { name: "Fridge", level: 1 });
  assert.ok((await y(strip)) < (await y(own)), "above the fridge");
  await page.goto(page.url().replace("/caves/1", "/caves/2"));
  await ready(page);
  assert.ok((await y(strip)) < (await y(page.getByRole("heading", { name: "Box 1", level: 1 }))), "above the box that it touched");
  await page.goto(page.url().replace("/caves/2", "/caves/5"));
  await ready(page);
  await page.getByText("4 other alarms").waitFor();
  assert.ok((await y(page.getByRole("region", { name: "Cellar probe silent" }))) > (await y(page.locator("ol.orders"))), "nothing stands above the gas");
  await page.goto(page.url().replace("/caves/5", "/caves/1"));
  await strip.getByRole("button", { name: "seen" }).tap();
  await until("it is seen", () => acts(house, "take").length === 1);
  await strip.waitFor({ state: "detached" });
});

test("the strip of a time that nobody watched is two lines of a small phone, its span in the margin", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/alarms");
  const strip = page.getByRole("region", { name: "Fridge not watched from Wed 23:14 to 06:14" });
  assert.equal((await strip.locator(".m").textContent())!.replace(/\s/g, " "), "Wed 23:14 to 06:14");
  const lines = await strip.locator(".what").evaluate((what) => [...what.children].map((one) => Math.round(one.getBoundingClientRect().height / parseFloat(getComputedStyle(one).lineHeight))));
  assert.deepEqual(lines, [1, 1]);
});

test("on a fridge's own page its boxes stand beside its ribbon with their wheels, and lead to their own pages", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "round", "/caves/1");
  const box = page.locator("section.cave").getByRole("link", { name: /Box 1/ });
  assert.match((await box.textContent())!, /drifting damp/);
  assert.match((await box.textContent())!, /out by 10:00/);
  const ribbon = (await page.locator("svg.ribbon").first().boundingBox())!, drawn = (await box.locator("svg.shelf").boundingBox())!;
  assert.ok(drawn.y + drawn.height < ribbon.y + ribbon.height && drawn.x > ribbon.x, "beside the ribbon");
  await box.tap();
  await page.getByRole("heading", { name: "Box 1", level: 1 }).waitFor();
});

test("a box that grows damp says on its own page what the list says: open the lid", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "round", "/caves/2");
  const step = await page.getByText(/Keep 90.to.96: open the lid a finger\./).boundingBox();
  assert.ok(step!.y < 150, "under how it stands");
});

test("from a notice's link the alarm is taken, called by its name, and what was done is written down", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "alarm", `/alarms/${"f".repeat(32)}`);
  await page.locator("button.deed").tap();
  await page.getByText(/^taken 07:1/).waitFor();
  await until("the taking arrives", () => acts(house, "take").length === 1);
  await page.getByRole("button", { name: "plant" }).tap();
  await page.getByRole("heading", { name: "It was: plant" }).waitFor();
  await page.getByLabel("What was done").fill("defrosted by hand");
  await page.getByRole("button", { name: "write it" }).tap();
  await until("the remark is sent", () => acts(house, "called").some((act) => act.remark === "defrosted by hand" && act.what === "plant"));
});

test("as an alarm opens on a small phone, its three first steps and its ribbon with what is foreseen are seen above the bar that takes it", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "alarm", `/alarms/${"f".repeat(32)}`);
  const bar = (await page.locator("button.deed").boundingBox())!;
  const ribbon = (await page.getByRole("img", { name: /last 24 hours/ }).boundingBox())!;
  assert.ok(ribbon.y + ribbon.height <= bar.y, `what is foreseen ends at ${ribbon.y + ribbon.height}, the bar begins at ${bar.y}`);
  const steps = await page.locator("ol.orders > li").all();
  assert.equal(steps.length, 3);
  for (const step of steps) {
    const box = (await step.boundingBox())!;
    assert.ok(box.y + box.height <= bar.y, `"${await step.textContent()}" ends at ${box.y + box.height}, the bar begins at ${bar.y}`);
  }
  // On wide glass, where the four words stand at the head, it is as long as it is drawn for.
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.reload();
  await ready(page);
  await page.waitForFunction(() => document.querySelector("svg.ribbon")!.getBoundingClientRect().height > 550);
});

test("setting aside always has an end; until then it stands quietly and says until when", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "alarm", `/alarms/${"f".repeat(32)}`);
  await page.getByRole("button", { name: "set aside" }).tap();
  await page.getByRole("button", { name: "11:15" }).tap();
  await page.getByText("set aside until 11:15").waitFor();
  const aside = await until("the act arrives", () => acts(house, "aside")[0]);
  assert.equal(aside.until, Date.parse("2026-11-26T10:15:00Z"));
  await page.getByRole("navigation").getByRole("link", { name: "Round" }).tap();
  const strip = page.getByRole("region", { name: "Fridge too warm" });
  assert.match((await strip.getAttribute("class"))!, /calm/);
  assert.match((await strip.textContent())!, /set aside until 11:15/);
});

test("where two keep, an alarm is taken, seen and named on a phone that nobody signs yet: it is asked who, and it goes through", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "flood", "/alarms/unwatched-1-2", ["IH", "TR"]);
  const asked = page.getByRole("region", { name: "Who signs here?" });
  await page.getByRole("heading", { name: "What was it?" }).waitFor();
  await page.locator("button.deed").getByText("seen").waitFor();
  assert.equal(await asked.count(), 0);
  await page.getByRole("button", { name: "plant" }).tap();
  await asked.waitFor();
  assert.equal(house.acts.size, 0, "nothing is unsigned");
  await asked.getByRole("button", { name: "TR" }).tap();
  await page.getByRole("heading", { name: "It was: plant" }).waitFor();
  await until("seen and named", () => acts(house, "take").length === 1 && acts(house, "called").length === 1);
  assert.deepEqual([acts(house, "take")[0].keeper, acts(house, "called")[0].keeper], ["TR", "TR"]);

  const other = await openHouse(t, "alarm", "/", ["IH", "TR"]);
  await other.page.getByRole("button", { name: "take it" }).tap();
  await other.page.getByRole("region", { name: "Who signs here?" }).waitFor();
  // Whoever goes on to the alarm's own page has taken nothing, and is asked anew.
  await other.page.getByRole("region", { name: "Fridge too warm" }).getByRole("link").tap();
  await other.page.locator("button.deed").getByText("take it").tap();
  await other.page.getByRole("region", { name: "Who signs here?" }).getByRole("button", { name: "IH" }).tap();
  await until("taken once", () => acts(other.house, "take").length === 1);
  assert.equal(acts(other.house, "take")[0].keeper, "IH");
});

test("what is over and not yet seen says so, with what it reached and which days it cost", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/alarms/unwatched-1-2");
  const text = (await page.locator("main").textContent())!;
  for (const said of ["not yet seen", "The air warmed meanwhile", "Air 12.4 °C before, 15.1 °C after", "at most about 14.6 °C", "on the fridge’s own plug"]) assert.ok(text.replace(/\u00a0/g, " ").includes(said), said);
  await page.locator("button.deed").tap();
  await page.getByRole("heading", { name: "What was it?" }).waitFor();
  await page.goto(page.url().replace(/alarms\/.*/, "alarms/too-cold-1-6"));
  await page.getByText("Too cold to count: 24 Nov and 25 Nov").waitFor();
});

test("what another alarm tells leads to that one by an old link, and offers nothing of its own", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/alarms/too-dry-1-0");
  await page.getByText("One event with another alarm").waitFor();
  assert.equal(await page.getByText("not yet seen").count(), 0, "nobody has to see it");
  assert.equal(await page.locator("section.cave").getByRole("button").count(), 0);
  assert.equal(await page.locator("button.deed").count(), 0);
  await page.goto(page.url().replace(/alarms\/.*/, "alarms"));
  await page.getByText("told with: Fridge too warm").waitFor();
  await page.goBack();
  await page.locator("main").getByRole("link", { name: "Fridge too warm" }).tap();
  await page.waitForURL(/\/alarms\/too-warm-1-0$/);
  await page.getByText("It costs no day of the qualifying age.").waitFor();
});

test("air that never left its band is not said to be back inside it, whatever its cave keeps", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "alarm", "/");
  const told = (inside: boolean) => page.addInitScript((more) => {
    const real = window.fetch;
    window.fetch = async (...args) => {
      const answer = await real(...args);
      if (!String(args[0]).startsWith("/api/alarms/")) return answer;
      const body = await answer.json();
      Object.assign(body.alarm, { why: "not turning", extreme: 13.6, value: 13.4, ...more });
      body.cave.temperature.state = "in band";
      return new Response(JSON.stringify(body), { status: answer.status, headers: answer.headers });
    };
  }, inside ? { inside } : {});
  await told(false);
  await page.goto(page.url() + `alarms/${"f".repeat(32)}`);
  await page.getByText("does not turn back as it always did").waitFor();
  assert.equal(await page.getByText("back inside").count(), 0);
  await told(true);
  await page.reload();
  await page.getByText("back inside, ends when it stays").waitFor();
});

test("many alarms at once are one strip and a line; the line leads to all of them and how the month was", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/");
  assert.equal(await page.locator("section.ring").count(), 1);
  await page.getByText("4 more").tap();
  await page.getByText("It rang 3 times: 2 real, 1 door.").waitFor();
  await page.getByText("1 of them stands above.").waitFor();
  assert.ok((await page.locator("section.ring").count()) >= 5);
  const y = async (what: ReturnType<Page["locator"]>) => (await what.boundingBox())!.y;
  assert.ok((await y(page.getByRole("heading", { name: "Alarms" }))) < (await y(page.locator("section.ring").first())), "the page's name comes first");
});

const cut = (now: number): Alarm[] => [2, 10, 1].map((n) => ({
  id: `power-gone-${n}-1`, kind: "power gone" as const, severity: "act" as const, cave: n, cave_name: `Fridge ${n}`, since: now - 900_000, raised: now - 800_000, first: ["Keep it shut."], wheels: [], concerns: [], found_later: false, value: 0, extreme: 0, dose: 0,
}));

test("one power cut of the house is one tap: all that want a hand are taken together, gas by itself", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "flood", "/caves");
  const gas = { ...cut(house.now())[0]!, id: "ammonia-5-1", kind: "ammonia" as const, cave: 5, cave_name: "Cellar", value: 30, grade: "act" as const };
  house.ring([...cut(house.now()), gas]);
  await page.goto(new URL("/alarms", page.url()).href);
  await ready(page);
  const deed = page.locator(".deed");
  assert.equal(await deed.locator(".verb").textContent(), "take all 3");
  assert.match((await deed.textContent())!, /gas, which is taken by itself/);
  const names = await page.locator(".ring .verb").allTextContents();
  assert.deepEqual(names.map((name) => name.split(" ").slice(0, 2).join(" ")), ["Cellar ammonia", "Fridge 1", "Fridge 2", "Fridge 10"], "gas first, the others as people count");
  assert.deepEqual([await overflow(page), await smallTargets(page), await findings(page)], [0, [], []]);
  await shoot(page, "alarms-together");
  await deed.tap();
  await until("three acts of one tap", () => acts(house, "take").length === 3);
  assert.deepEqual(acts(house, "take").map((act) => act.alarm), ["power-gone-1-1", "power-gone-2-1", "power-gone-10-1"]);
  await deed.waitFor({ state: "detached" });
  assert.equal(await page.getByRole("button", { name: "take it" }).count(), 1, "the gas");
});

test("where two keep, who takes all is asked once who signs; one alarm alone has no such deed", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "flood", "/caves", ["IH", "TR"]);
  house.ring(cut(house.now()));
  await page.goto(new URL("/alarms", page.url()).href);
  await ready(page);
  await page.locator(".deed").tap();
  await page.getByRole("region", { name: "Who signs here?" }).getByRole("button", { name: "TR" }).tap();
  await until("all signed by one", () => acts(house, "take").length === 3);
  assert.deepEqual(new Set(acts(house, "take").map((act) => act.keeper)), new Set(["TR"]));
  house.ring(cut(house.now()).slice(0, 1).map((alarm) => ({ ...alarm, id: "power-gone-1-2" })));
  await page.goto(new URL("/alarms", page.url()).href);
  await ready(page);
  assert.equal(await page.locator(".deed").count(), 0);
});

test("of an alarm that is over the list says how long and how far, which wheels it came to, and in hand ink what a keeper called it", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/alarms");
  const past = page.locator("a.pick", { hasText: "Fridge too warm" }).first();
  const said = (await past.locator(".b").textContent())!.replace(/[\u00a0\s]+/g, " ").replace(/\u2060/g, "");
  for (const one of ["reached 15.9 °C", "6 bloomies, Box 1", "4 pressed semi-hard, Box 1; 2 washed rind, Box 2", "It was: door"]) assert.ok(said.includes(one), `${one}: ${said}`);
  assert.equal(await past.locator(".wh svg").count(), 2, "a ring for each stage");
  assert.equal(await past.getByText("It was: door").evaluate((one) => getComputedStyle(one).color), "rgb(156, 198, 242)");
});

test("the air that does not turn back after a round is a quiet question, answered with one tap", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "flood", "/alarms/door-open-1-3");
  await page.getByRole("heading", { name: "Door perhaps ajar?" }).waitFor();
  await page.getByText("Still 15.8° and not falling.").waitFor();
  await page.getByRole("button", { name: "shut it now" }).tap();
  await until("taken and named", () => acts(house, "take").length === 1 && acts(house, "called")[0]?.what === "door");
});

test("I am here and I am out, each one tap; where gas is measured its figure is large and the phone may sound", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "alarm", "/caves/1");
  await page.getByRole("button", { name: "I am here" }).tap();
  await page.getByText(/are quiet until 08:1\d/).waitFor();
  await until("sent", () => acts(house, "here").length === 1);
  await page.getByRole("button", { name: "I am out" }).tap();
  await until("out", () => acts(house, "out").length === 1);
  await page.getByText("Quiets door, temperature and humidity for an hour.").waitFor();

  const gas = await openHouse(t, "flood", "/caves/5");
  const figure = gas.page.locator(".gas.large .figure").first();
  await gas.page.getByText("a danger to life").first().waitFor();
  assert.equal((await figure.textContent())!.replace(/\s/g, " "), "16200");
  assert.ok(Number.parseFloat(await figure.evaluate((e) => getComputedStyle(e).fontSize)) >= 48);
  await gas.page.getByRole("button", { name: "sound on this phone" }).tap();
  await gas.page.getByRole("button", { name: "hush this phone" }).tap();
  await gas.page.getByText("This phone sounds at once").waitFor();
  assert.equal(await gas.page.getByRole("button", { name: "set aside" }).count(), 0, "gas is never put off");
});

const kPlaces = ["/", "/caves", "/wheels", "/journal", "/alarms/carbon-dioxide-5-1"];

test("a phone that was allowed to sound says on every place that it is silent once its page is opened anew, and sounds again after one tap", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/caves/5");
  const mute = page.getByRole("button", { name: "Silent on this phone: let it sound" });
  const hush = page.getByRole("button", { name: "hush this phone until the gas rises" });
  for (const place of kPlaces) {
    await page.goto(new URL(place, page.url()).href);
    await ready(page);
    assert.equal(await mute.count(), 0, "a phone that never was allowed offers it on the cave's page alone");
  }
  await page.goto(new URL("/caves/5", page.url()).href);
  await page.getByRole("button", { name: "sound on this phone" }).tap();
  await hush.waitFor();
  for (const place of ["Round", "Caves", "Wheels", "Journal"]) {
    await page.getByRole("navigation").getByRole("link", { name: place }).tap();
    assert.equal(await hush.count(), 1, `it goes on, and is hushed from ${place}`);
  }
  for (const place of kPlaces) {
    await page.goto(new URL(place, page.url()).href);
    await mute.waitFor();
  }
  assert.deepEqual([await overflow(page), await smallTargets(page), await findings(page)], [0, [], []]);
  await mute.tap();
  // Text twice as large.
  await page.setViewportSize({ width: 180, height: 370 });
  const [within, above] = await hush.evaluate((bar) => [...bar.children].reduce(([low, high], one) => [Math.min(low!, bar.getBoundingClientRect().bottom - one.getBoundingClientRect().bottom), Math.min(high!, one.getBoundingClientRect().top - bar.getBoundingClientRect().top)], [99, 99]));
  assert.ok(within! >= 0 && above! >= 0, `what it says stands in its bar: ${above} and ${within} px`);
  await hush.tap();
  assert.equal(await hush.count() + await mute.count(), 0);
});

test("gas taken on this phone is silent on it until it gets worse, and its words say so; what another took sounds on", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "flood", "/journal");
  house.gas = "act";
  await page.goto(new URL("/caves/5", page.url()).href);
  const hush = page.getByRole("button", { name: "hush this phone" });
  await page.getByRole("button", { name: "sound on this phone" }).tap();
  await hush.waitFor();
  const take = page.locator("button.deed");
  assert.match((await take.textContent())!, /stops the bell; this phone until it rises/);
  await take.tap();
  await hush.waitFor({ state: "detached" });
  await until("the house has it", () => acts(house, "take").length === 1);
  await page.getByText("This phone sounds at once if the gas rises").waitFor();
  house.gas = "urgent";
  house.tell("caves");
  await hush.waitFor();

  const other = await openHouse(t, "flood", "/journal");
  await other.page.goto(new URL("/caves/5", other.page.url()).href);
  await other.page.getByRole("button", { name: "sound on this phone" }).tap();
  await fetch(`http://127.0.0.1:${new URL(other.page.url()).port}/api/acts`, { method: "POST", body: JSON.stringify({ id: "d".repeat(32), tapped_at: Date.now(), kind: "take", alarm: "carbon-dioxide-5-1", keeper: "TR" }) });
  await other.page.getByText(/taken 0\d:/).first().waitFor();
  assert.equal(await other.page.getByRole("button", { name: "hush this phone" }).count(), 1, "who is inside hears it, whoever took it elsewhere");
});

test("gas that is taken stays red on Caves, with who may be inside and what to do, whatever its figure has come to", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "flood", "/journal");
  house.gas = "watch";
  await fetch(`http://127.0.0.1:${new URL(page.url()).port}/api/acts`, { method: "POST", body: JSON.stringify({ id: "e".repeat(32), tapped_at: Date.now(), kind: "take", alarm: "carbon-dioxide-5-1" }) });
  await page.goto(new URL("/caves", page.url()).href);
  await ready(page);
  const strip = page.getByRole("region", { name: "Cellar carbon dioxide high" });
  assert.match((await strip.textContent())!, /Nobody in\..+taken/);
  assert.ok(!(await strip.getAttribute("class"))!.includes("calm"), "red ink");
  const row = page.locator("a.entry.cave", { hasText: "Cellar" });
  assert.match((await row.locator(".state.bad.high").first().textContent())!, /16200 ppm/);
  assert.equal(await row.locator(".note.bad").textContent(), "TR may be inside. Nobody in.");
  assert.deepEqual([await overflow(page), await smallTargets(page), await findings(page)], [0, [], []]);
});

test("a loudspeaker that the phone takes away, as for a call, is told as silent and given back with one tap", { skip: missing }, async (t) => {
  const { page } = await openHouse(t, "flood", "/journal");
  await page.addInitScript(() => {
    const Real = AudioContext;
    (globalThis as any).AudioContext = class extends Real {
      constructor() {
        super();
        (globalThis as any).loudspeaker = this;
      }
    };
  });
  await page.goto(new URL("/caves/5", page.url()).href);
  await page.getByRole("button", { name: "sound on this phone" }).tap();
  const hush = page.getByRole("button", { name: "hush this phone" });
  await hush.waitFor();
  await page.waitForFunction(() => (globalThis as any).loudspeaker.state === "running");
  await page.evaluate(() => (globalThis as any).loudspeaker.suspend());
  await page.getByRole("button", { name: "Silent on this phone: let it sound" }).tap();
  await hush.waitFor();
});

test("what gas was is asked in its own words", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "flood", "/alarms/carbon-dioxide-5-1");
  await page.locator("button.deed").tap();
  await page.getByRole("heading", { name: "What was it?" }).waitFor();
  assert.equal(await page.getByRole("button", { name: "defrost" }).count(), 0);
  await page.getByRole("button", { name: "door and vent shut" }).tap();
  await page.getByRole("heading", { name: "It was: door and vent shut" }).waitFor();
  await until("named", () => acts(house, "called")[0]?.what === "shut");
});

test("limits: rules with their figures and whence they are; tried on the last months, then written", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "round", "/caves/1/limits");
  const warm = page.getByRole("region", { name: "Too warm" }), dry = page.getByRole("region", { name: "Too dry" });
  await warm.getByText("From: common practice, no source").waitFor();
  await warm.getByRole("button", { name: "It rings 1.5° above the band" }).tap();
  await warm.getByRole("button", { name: "rings above the band by" }).tap();
  await warm.getByText("So far above the band the wait is shorter.").waitFor();
  await warm.getByRole("button", { name: "higher" }).tap();
  await warm.getByText("It rings 2° (usually 1.5°) above the band").waitFor();
  await warm.getByText("1 changed here").waitFor();
  await page.getByRole("button", { name: "try", exact: true }).tap();
  await page.getByText("Going through the last three months").waitFor();
  await page.getByText("With these limits the last three months would have rung 4 times instead of 31, and rung for both that you called real. It would have kept quiet about 3 of the 4 that you called a door and 24 of the 25 that nobody named.").waitFor();
  assert.equal(acts(house, "watching").length, 0, "a trial changes nothing");
  await page.getByRole("button", { name: "write", exact: true }).tap();
  await until("written", () => acts(house, "watching")[0]?.settings["too warm: act beyond the band by"] === 2);
  await page.getByRole("button", { name: "finished, kept cold" }).tap();
  await page.getByRole("button", { name: "write", exact: true }).tap();
  await until("both stand", () => acts(house, "watching")[1]?.ready_cheese === true && acts(house, "watching")[1]?.settings["too warm: act beyond the band by"] === 2);
  await dry.getByRole("button", { name: "A quiet notice" }).tap();
  await dry.getByRole("button", { name: "not judged here" }).tap();
  await page.getByRole("button", { name: "leave", exact: true }).tap();
  assert.equal(acts(house, "watching").length, 2, "what was left is not written");
});

test("limits: how soon gas rings and where finished cheese freezes are a keeper's to change; what nobody sets is told once", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "round", "/caves/1/limits");
  const gas = page.getByRole("region", { name: "How soon gas rings" }), ready = page.getByRole("region", { name: "Finished cheese, kept cold" });
  await gas.getByRole("button", { name: "Of each gas" }).tap();
  await gas.getByRole("button", { name: "rings after", exact: false }).last().tap();
  await gas.getByText("Usually 2 min; from 1 min to 15 min.").waitFor();
  await gas.getByRole("button", { name: "higher" }).tap();
  await gas.getByText("for 3 min (usually 2 min)").waitFor();
  await ready.getByText("foodsafety.gov (USDA and HHS, United States)").waitFor();
  await ready.getByRole("button", { name: "Finished cheese is kept at" }).tap();
  await ready.getByRole("button", { name: "rings at, or colder" }).tap();
  await ready.getByRole("button", { name: "lower" }).tap();
  await page.getByRole("button", { name: "write", exact: true }).tap();
  await until("written", () => acts(house, "watching")[0]?.settings["gas: act after"] === 3 && acts(house, "watching")[0]?.settings["ready cheese: freezes at"] === -1.5);
  const method = page.getByRole("region", { name: "How it is judged" });
  await method.getByText("Freezing is 0 °C.").waitFor();
  assert.equal(await method.getByRole("button").count(), 0);
});

test("a typed band never closes: the lower figure pushes the upper one on and stays a step under it", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "round", "/caves/1/limits");
  await page.getByRole("button", { name: "type in another" }).first().tap();
  const higher = page.getByRole("button", { name: "higher", exact: true }).first();
  for (let taps = 0; taps < 12; taps++) await higher.tap();
  await page.getByRole("button", { name: "write", exact: true }).tap();
  await until("written", () => acts(house, "limits").length > 0);
  const { low, high } = acts(house, "limits")[0]!.temperature!;
  assert.equal(high - low, 0.5);
});

test("who strikes a kind that rings reads what will end by it before it is written", { skip: missing }, async (t) => {
  const { house, page } = await openHouse(t, "alarm", "/caves/1/limits");
  const warm = page.getByRole("region", { name: "Too warm", exact: true });
  const ends = /Fridge too warm now, since 04:20\. Once written it ends as no longer judged/;
  await warm.getByRole("button", { name: "A quiet notice" }).tap();
  await warm.getByText(ends).waitFor();
  assert.equal(await page.locator(".deed").getByText(ends).count(), 0, "nothing is chosen yet");
  await warm.getByRole("button", { name: "not judged here" }).tap();
  await page.locator(".deed").getByText(ends).waitFor();
  assert.equal(acts(house, "watching").length, 0);
  await page.getByRole("button", { name: "write", exact: true }).tap();
  await until("written", () => acts(house, "watching")[0]?.off.includes("too warm"));
});

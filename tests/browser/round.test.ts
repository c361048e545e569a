// The round under the thumb, against an invented house: what the keeper sees at each tap, cut off and in touch.
import assert from "node:assert/strict";
import { after, before, test, type TestContext } from "node:test";
import type { Browser, Locator, Page } from "playwright-core";
import type { Act } from "../../web/page/src/api.ts";
import { address, missing, openBrowser, openPhone } from "../support/chromium.ts";
import { until } from "../support/until.ts";
import { House } from "./support/house.ts";
import { onShelf, ready, shoot, still } from "./support/looks.ts";
import type { SceneName } from "./support/scene.ts";

let browser: Browser;
before(async () => {
  if (!missing) browser = await openBrowser();
});
after(async () => browser?.close());

async function open(t: TestContext, scene: SceneName, place = "/"): Promise<{ house: House; page: Page; port: number }> {
  const house = new House(scene);
  const port = await house.open();
  const { page } = await openPhone(browser, { deviceScaleFactor: 1, reducedMotion: "reduce" });
  t.after(async () => {
    await page.context().close();
    await house.close();
  });
  await page.goto(address(port, place));
  await ready(page);
  return { house, page, port };
}

const line = (page: Page, key: string): Locator => page.locator(`[data-key="${key}"]`);
const acts = (house: House): Act[] => [...house.acts.values()];
const settle = (house: House, count: number) => until(`${count} acts have arrived`, () => house.acts.size >= count);

test("a tap signs the line at hand, which keeps its place for ten seconds while the bar offers to undo it", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round");
  const before = (await line(page, "counter 222").boundingBox())!;
  assert.equal(before.height, 104);
  assert.ok(Math.abs(before.y - 740 * 0.5) < 4, `it begins at half height: ${before.y}`);
  await line(page, "counter 222").tap();
  const signed = (await line(page, "counter 222").boundingBox())!;
  assert.deepEqual([signed.y, signed.height], [before.y, before.height]);
  assert.ok(await line(page, "counter 222").locator("s").isVisible());
  const bar = page.getByRole("status", { name: "just signed" });
  assert.match((await bar.textContent())!, /4 left/);
  await settle(house, 1);
  await shoot(page, "round-just-done-360-dark");
  await bar.getByRole("button", { name: "undo" }).tap();
  await settle(house, 2);
  assert.equal(acts(house)[1]!.kind, "undo");
  assert.equal(await line(page, "counter 222").locator("s").count(), 0);
});

test("on wide glass the sum of minutes is in sight too, however long the list is", { skip: missing }, async (t) => {
  const { page } = await open(t, "round");
  await page.setViewportSize({ width: 1280, height: 700 });
  await page.reload();
  await ready(page);
  const sum = (await page.locator(".sumbar").boundingBox())!;
  assert.ok(sum.y > 600 && sum.y + sum.height <= 700, `${sum.y}`);
  assert.match((await page.locator(".sumbar").textContent())!, /15\smin/);
  const list = (await page.locator(".leaf").first().boundingBox())!;
  assert.ok(Math.abs(sum.x - list.x) < 2 && Math.abs(sum.width - list.width) < 2, "under its own leaf");
});

test("a second tap on the same line within a moment is a slip and counts once", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round");
  await line(page, "counter 222").dblclick();
  await settle(house, 1);
  assert.equal(acts(house).filter((a) => a.kind === "care").length, 1);
});

test("the next line comes up where the last one was, and undo stays at the right all day", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round");
  const place = (await line(page, "counter 222").boundingBox())!.y;
  await line(page, "counter 222").tap();
  await line(page, "a1 220").tap();
  assert.equal(await line(page, "a1 220").getAttribute("class").then((c) => c!.includes("athand")), true);
  assert.ok(Math.abs((await line(page, "a1 220").boundingBox())!.y - place) < 40);
  await settle(house, 2);
  const done = acts(house)[1]!;
  assert.deepEqual(done.kind === "care" && [done.wheels.length, done.done], [9, ["wash"]], "the turn was done at 06:58 already");
  await line(page, "counter 222").getByRole("button", { name: "undo" }).tap();
  await settle(house, 3);
});

test("half of the round without reception: each tap shows as waiting, survives a reload's silence, and counts once", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round");
  await line(page, "counter 222").tap();
  await settle(house, 1);
  await page.context().setOffline(true);
  for (const key of ["a1 220", "a2 214", "b1 208"]) await line(page, key).tap();
  assert.match((await line(page, "a1 220").textContent())!, /waiting to be sent/);
  assert.equal(house.acts.size, 1);
  await until("the page says that it is cut off", async () => /No word from the house since \d\d:\d\d/.test((await page.locator("h1").textContent())!), 40_000);
  await shoot(page, "round-cut-off-360-dark");
  await page.context().setOffline(false);
  await settle(house, 4);
  await line(page, "box2 217").tap();
  await settle(house, 5);
  assert.equal(house.acts.size, 5);
  await until("nothing waits any more", async () => (await page.getByText("waiting to be sent").count()) === 0);
  assert.match((await page.locator("h1").textContent())!, /All done for today/);
  const order = acts(house).map((a) => (a.kind === "care" ? a.wheels.length : 0));
  assert.deepEqual(order, [1, 9, 14, 9, 2], "in the order of the taps");
});

test("what waits on the phone outlives the page: a house that was down gets it once it is back", { skip: missing }, async (t) => {
  const house = new House("round");
  const port = await house.open();
  const { page } = await openPhone(browser, { reducedMotion: "reduce" });
  t.after(async () => {
    await page.context().close();
    await house.close();
  });
  await page.goto(address(port));
  await ready(page);
  await house.close();
  await line(page, "counter 222").tap();
  await until("the tap is in the phone's own store", async () => (await onShelf(page)) === 1);
  await page.goto("about:blank");
  await house.open(port);
  await page.goto(address(port));
  await settle(house, 1);
  assert.equal(house.acts.size, 1);
});

test("two pages open at once without reception: what was tapped on either arrives once, though both were shut", { skip: missing }, async (t) => {
  const house = new House("round");
  const port = await house.open();
  const { page } = await openPhone(browser, { reducedMotion: "reduce" });
  t.after(async () => {
    await page.context().close();
    await house.close();
  });
  const other = await page.context().newPage();
  for (const one of [page, other]) {
    await one.goto(address(port));
    await ready(one);
  }
  await house.close();
  await line(page, "counter 222").tap();
  await line(other, "box2 217").tap();
  await until("both taps are in the phone's own store", async () => (await onShelf(other)) === 2);
  await other.close();
  await page.goto("about:blank");
  await house.open(port);
  await page.goto(address(port));
  await settle(house, 2);
  assert.deepEqual(acts(house).map((a) => (a.kind === "care" ? a.wheels.length : 0)), [1, 2], "in the order of the taps");
});

test("a house that stumbles over one act takes those tapped after it, says so, and gets that one later", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round");
  house.refuse = { status: 500, what: "The loop stumbled." };
  await line(page, "counter 222").tap();
  await page.getByText("One act was not taken yet: The loop stumbled.").waitFor();
  house.refuse = undefined;
  await line(page, "a1 220").tap();
  await settle(house, 1);
  assert.deepEqual(acts(house).map((a) => (a.kind === "care" ? a.wheels.length : 0)), [9]);
  await settle(house, 2);
  await until("it is said no more", async () => (await page.getByText("One act was not taken yet").count()) === 0);
});

test("an act that the book does not take is shown with its reason until it is struck out", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round");
  house.refuse = { status: 422, what: "Wheel 400 is gone." };
  await line(page, "counter 222").tap();
  const note = page.locator(".refused");
  await note.waitFor();
  assert.match((await note.textContent())!, /not taken.*Wheel 400 is gone/s);
  await until("the line is open again", async () => (await line(page, "counter 222").locator("s").count()) === 0);
  house.refuse = undefined;
  await page.reload();
  await ready(page);
  assert.equal(await note.count(), 1, "it survives a reload");
  await note.getByRole("button", { name: "strike it out" }).tap();
  assert.equal(await note.count(), 0);
});

test("done earlier, in part: the first signature is taken back and said more exactly", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round");
  await line(page, "box2 217").tap();
  await settle(house, 1);
  await page.getByRole("status", { name: "just signed" }).getByRole("button", { name: "earlier" }).tap();
  await page.getByRole("button", { name: "this morning" }).tap();
  await page.getByRole("button", { name: "turn only" }).tap();
  await page.getByRole("button", { name: "rind wet" }).tap();
  await shoot(page, "amend-chosen-360-dark");
  await page.locator(".deed").tap();
  await settle(house, 3);
  const [, undo, again] = acts(house);
  assert.equal(undo!.kind, "undo");
  assert.ok(again?.kind === "care");
  assert.deepEqual([again.done, again.skipped, again.reason], [["turn"], ["wash"], "rind wet"]);
  const minutes = (again.tapped_at - again.said_at!) / 60_000;
  assert.ok(Math.abs(minutes - 44) <= 1, `06:30 is 44 minutes before 07:14: ${minutes}`);
  await until("the round shows it", async () => /\(wash\)/.test((await line(page, "box2 217").textContent())!));
});

test("a line signed out of turn keeps its place and height, with the question before it, until the ten seconds end", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "questions");
  for (const [i, key] of ["a1 220", "b1 208"].entries()) {
    await line(page, key).scrollIntoViewIfNeeded();
    await still(page);
    const before = await line(page, key).boundingBox();
    await line(page, key).evaluate((element) => (element as HTMLElement).click());
    await settle(house, i + 1);
    await until("the house has answered", async () => (await line(page, key).getByText("waiting to be sent").count()) === 0);
    const after = (await line(page, key).boundingBox())!;
    assert.ok(Math.abs(after.height - before!.height) < 1, `${key}: ${after.height} for ${before!.height}`);
    if (i === 0) assert.ok(Math.abs(after.y - before!.y) < 1, "with the question before it");
  }
});

test("a question just answered keeps its place, so that no other answer comes under the thumb; of a choice between ways there is no earlier", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "questions");
  const next = page.locator("[data-key='q move']");
  const place = (await next.boundingBox())!.y;
  await page.locator("[data-key='q counter'] + .full").getByRole("button", { name: "dry" }).tap();
  await settle(house, 1);
  await until("the house asks it no more", async () => (await line(page, "q counter").locator("s").count()) === 1);
  await still(page);
  assert.ok(Math.abs((await next.boundingBox())!.y - place) < 1);
  const bar = page.getByRole("status", { name: "just signed" });
  assert.match((await bar.textContent())!, /^Counter: dry5 left/);
  await bar.getByRole("button", { name: "earlier" }).tap();
  await page.getByRole("button", { name: "Wed 25" }).tap();
  await settle(house, 3);
  const [, undo, again] = acts(house);
  assert.equal(undo!.kind, "undo");
  assert.ok(again?.kind === "answer" && "start" in again && again.day === "2026-11-25");
  await page.getByRole("button", { name: "keep on to 60 days" }).tap();
  await settle(house, 4);
  assert.match((await bar.textContent())!, /^A1: keep on to 60 days/);
  assert.deepEqual(await bar.getByRole("button").allTextContents(), ["undo"]);
});

test("the undo bar is at most two lines high", { skip: missing }, async (t) => {
  const { page } = await open(t, "round");
  await line(page, "box2 217").tap();
  const bar = page.getByRole("status", { name: "just signed" });
  assert.equal(await bar.getByRole("button").count(), 3);
  assert.ok((await bar.boundingBox())!.height <= 76);
  await shoot(page, "round-undo-bar-360-dark");
});

test("a question is answered in cells, where it is a move with the place, and can be put off until tomorrow", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "questions");
  const cells = page.locator("[data-key='q counter'] + .full");
  await cells.getByRole("button", { name: "dry" }).tap();
  await settle(house, 1);
  await page.getByRole("button", { name: "yes, into Box 1" }).tap();
  await settle(house, 2);
  const later = page.getByRole("button", { name: "decide later" });
  assert.equal(await later.getAttribute("aria-pressed"), "false", "nothing is chosen before a tap");
  await later.tap();
  await settle(house, 3);
  const [dry, move] = acts(house);
  assert.ok(dry?.kind === "answer" && "start" in dry && dry.start === "dry");
  assert.ok(move?.kind === "answer" && "start" in move);
  assert.deepEqual(move.move_to, { cave: 2 });
  const put = acts(house)[2];
  assert.ok(put?.kind === "later" && put.question === "Eat young, keep on?");
  await page.reload();
  await ready(page);
  assert.equal(await page.locator(".asked").count(), 0);
});

test("what was answered stays struck for the day with its undo, on the round and in the journal, and says where it went", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "questions");
  await page.getByRole("button", { name: "yes, into Box 1" }).tap();
  const bar = page.getByRole("status", { name: "just signed" });
  assert.match((await bar.textContent())!, /^Counter: into Box 1/);
  await page.getByText("into Box 1", { exact: true }).waitFor();
  await settle(house, 1);
  await page.getByRole("button", { name: "decide later" }).tap();
  await settle(house, 2);
  await page.reload();
  await ready(page);
  const answered = page.locator(".done[data-answer]");
  await until("both stand there", async () => (await answered.count()) === 2);
  assert.match((await answered.first().textContent())!, /Box 1.*into Box 1.*lot\s223undo/);
  assert.ok(await answered.first().locator("s").isVisible());
  await shoot(page, "round-answered-360-dark");
  await answered.first().getByRole("button", { name: /^undo/ }).tap();
  await settle(house, 3);
  await page.locator("[data-key='q move']").waitFor();
  await until("the other stands", async () => (await answered.count()) === 1);
  await page.getByRole("navigation").getByRole("link", { name: "Journal" }).tap();
  await page.locator(".jl", { hasText: "Eat young" }).getByRole("button", { name: /^undo/ }).tap();
  await settle(house, 4);
  assert.deepEqual(acts(house).map((act) => act.kind), ["answer", "later", "undo", "undo"]);
  await page.getByRole("navigation").getByRole("link", { name: "Round" }).tap();
  await page.locator("[data-key='q a1']").waitFor();
});

test("an alarm stands on top of each place; taking it stops the bell, and then it is asked what it was", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "alarm");
  for (const place of ["Round", "Caves", "Wheels", "Journal"]) {
    await page.getByRole("navigation").getByRole("link", { name: place }).tap();
    const strip = page.getByRole("region", { name: "Fridge too warm" });
    await strip.waitFor();
    assert.ok((await strip.boundingBox())!.y < 80, place);
    assert.ok(await strip.getByRole("button", { name: "take it" }).isVisible());
  }
  await page.getByRole("region", { name: "Fridge too warm" }).getByRole("link").tap();
  await page.locator(".deed").tap();
  await settle(house, 1);
  await page.getByRole("button", { name: "door" }).tap();
  await settle(house, 2);
  const [take, called] = acts(house);
  assert.deepEqual([take!.kind, called!.kind === "called" && called!.what], ["take", "door"]);
  await page.getByRole("heading", { name: "It was: door" }).waitFor();
});

test("first use: four taps and the round works", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "empty");
  await page.getByRole("button", { name: "pale, pressed, bare" }).tap();
  await shoot(page, "first-made-360-dark");
  await page.getByRole("button", { name: "today" }).tap();
  await shoot(page, "first-where-360-dark");
  await page.getByRole("button", { name: "on the counter" }).tap();
  await shoot(page, "first-big-360-dark");
  await page.getByRole("button", { name: "2 kg" }).tap();
  await settle(house, 1);
  await page.locator('[data-key="new"]').waitFor();
  const [enter] = acts(house);
  assert.ok(enter?.kind === "enter");
  assert.deepEqual({ plan: enter.plan, made: enter.made, grams: enter.grams, count: enter.count, starts: enter.starts },
    { plan: "pressed", made: "2026-11-26", grams: 2000, count: 1, starts: [] });
  await page.getByRole("status", { name: "just signed" }).getByRole("button", { name: "undo" }).tap();
  await settle(house, 2);
  const [, undo] = acts(house);
  assert.ok(undo?.kind === "undo" && undo.of === enter.id, "a slip of the thumb is no wheel in the book");
});

test("a wheel made yesterday takes five taps, and from the day on each leaf says so", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "empty");
  const head = () => page.locator("header.head .m").first().textContent();
  assert.equal(await head(), "1");
  await page.getByText("Before the watch, unless it was made today").waitFor();
  await page.getByRole("button", { name: "pale, pressed, bare" }).tap();
  await page.getByRole("button", { name: "yesterday" }).tap();
  await page.getByRole("heading", { name: "Where does it lie now?" }).waitFor();
  assert.equal(await head(), "3of 5 taps");
  await page.getByRole("button", { name: "on the counter" }).tap();
  await page.getByRole("button", { name: "2 kg" }).tap();
  await page.getByRole("heading", { name: "Before the watch" }).waitFor();
  assert.equal(await head(), "5of 5 taps");
  await shoot(page, "first-before-360-dark");
  await page.locator("button.deed").tap();
  await settle(house, 1);
  assert.equal(acts(house)[0]!.kind, "enter");
});

test("a wheel entered among others can be taken back where they stand", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round", "/enter");
  await page.getByRole("button", { name: "pale, pressed, bare" }).tap();
  await page.getByRole("button", { name: "today" }).tap();
  await page.getByRole("button", { name: "Counter" }).first().tap();
  await page.getByRole("button", { name: "2 kg" }).tap();
  await page.getByRole("heading", { level: 1 }).waitFor();
  await page.getByRole("status", { name: "just signed" }).getByRole("button", { name: "undo" }).tap();
  await settle(house, 2);
  assert.deepEqual(acts(house).map((act) => act.kind), ["enter", "undo"]);
});

test("a wheel made before today: the later part is proposed as reckoned, changed with one tap, and the past is asked", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "empty");
  await page.getByRole("button", { name: "something else, or not sure" }).tap();
  await shoot(page, "first-other-360-dark");
  await page.getByRole("button", { name: "pale, pressed, bare" }).tap();
  await page.getByRole("button", { name: "another day" }).tap();
  await shoot(page, "first-month-360-dark");
  await page.getByRole("button", { name: "Tuesday 10 November" }).tap();
  await page.getByRole("button", { name: "in a box in the fridge" }).tap();
  await page.getByRole("button", { name: "not known" }).tap();
  await page.getByText("reckoned from the plan").first().waitFor();
  await shoot(page, "first-before-360-dark");
  await page.getByRole("button", { name: "yesterday" }).first().tap();
  await page.locator(".deed").tap();
  await settle(house, 1);
  const [enter] = acts(house);
  assert.ok(enter?.kind === "enter");
  assert.deepEqual(enter.starts, [{ start: "salted", day: "2026-11-11", reckoned: true }, { start: "entered box", day: "2026-11-14", reckoned: true }]);
  assert.deepEqual(enter.last, [{ kind: "turn", day: "2026-11-25" }]);
  assert.deepEqual(enter.where, { new: { kind: "box", inside: { kind: "fridge" } } });
});

test("a topic that arrives is tapped, said what it is, and hung", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round", "/probes");
  await page.getByRole("link", { name: "cellar/b2/state" }).tap();
  await page.getByRole("button", { name: "Box 2" }).tap();
  await page.locator(".deed").tap();
  await settle(house, 1);
  const [probe] = acts(house);
  assert.ok(probe?.kind === "probe");
  assert.deepEqual(
    { topic: probe.topic, format: probe.format, where: probe.where, time: probe.time_pointer, channels: probe.channels },
    { topic: "cellar/b2/state", format: "json", where: { cave: 3 }, time: "/at", channels: [
      { kind: "temperature", pointer: "/temperature", unit: "celsius" }, { kind: "humidity", pointer: "/humidity", unit: "fraction" }, { kind: "battery", pointer: "/battery" } ] },
  );
});

test("that no broker answers is said once where topics arrive", { skip: missing }, async (t) => {
  const { page } = await open(t, "round");
  const text = "No broker answers at 127.0.0.1:1; start it or correct its address. It is tried again until it answers.";
  const gone = (troubles: string[]) => page.addInitScript((texts) => {
    const real = window.fetch;
    window.fetch = async (...args) => {
      const answer = await real(...args);
      if (!String(args[0]).startsWith("/api/")) return answer;
      const body = await answer.json();
      if (String(args[0]).startsWith("/api/arriving")) Object.assign(body, { connected: false, topics: [], broker: "127.0.0.1:1" });
      // Of every answer: each brings the head, and the newest one is shown.
      if (body.head) body.head.troubles = texts.map((one) => ({ kind: "broker", since: body.head.now, text: one }));
      return new Response(JSON.stringify(body), { status: answer.status, headers: answer.headers });
    };
  }, troubles);
  await gone([text]);
  const said = async () => ((await page.locator("main").textContent())!.match(/127\.0\.0\.1:1/g) ?? []).length;
  await page.goto(new URL("/probes", page.url()).href);
  await page.getByText(text).waitFor();
  assert.equal(await said(), 1);
  await gone([]);
  await page.reload();
  await page.getByText("The broker at 127.0.0.1:1 cannot be reached").waitFor();
  assert.equal(await said(), 1, "also where the house does not say it itself");
});

test("the journal brings older pages above what is read, and takes a note", { skip: missing }, async (t) => {
  const { house, page } = await open(t, "round", "/journal");
  const count = await page.locator(".jl").count();
  await page.getByRole("button", { name: "older" }).tap();
  await until("older lines", async () => (await page.locator(".jl").count()) > count || (await page.getByRole("button", { name: "older" }).count()) === 0);
  await page.getByRole("link", { name: "write a note" }).tap();
  await page.getByLabel("write a note").fill("Box 1 smells of mushrooms.");
  await page.locator(".deed").tap();
  await settle(house, 1);
  assert.deepEqual(acts(house).map((a) => a.kind === "note" && a.text), ["Box 1 smells of mushrooms."]);
});

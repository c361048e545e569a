// What keepers decide of wheels, plans and the house, over the wire: each act's trace in the views, its undo, a kill in
// between, and what is refused. Every answer is held against openapi.yaml. Invented.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { day, enterWheel } from "../support/keeping.ts";
import { run } from "../support/running.ts";
import { rindwatch } from "../support/tree.ts";
import { newId, Watch } from "../support/watch.ts";

type Body = Record<string, unknown>;

describe("acts on wheels, plans and the house", () => {
  let watch: Watch, wheels: number[], cave: number;
  before(async () => {
    watch = await Watch.start();
    ({ wheels, cave } = await enterWheel(watch, { count: 4 }));
  });
  after(() => watch.end());

  const wheel = async (id: number) => (await watch.get(`/api/wheels/${id}`)).wheel;
  const settings = () => watch.get("/api/settings");
  const newest = async () => (await watch.get("/api/journal")).lines.at(-1);
  /** Done, killed, still there; undone, no longer. */
  async function lives<T>(body: Body, see: () => Promise<T>, is: (seen: T) => void, isNot: (seen: T) => void): Promise<void> {
    isNot(await see());
    const id = newId();
    const answer = await watch.act({ id, ...body });
    assert.equal(answer.status, 200, answer.text);
    is(await see());
    const line = await newest();
    assert.deepEqual([line.id, line.kind], [id, body["kind"]]);
    await watch.end("SIGKILL");
    await watch.up();
    is(await see());
    await watch.did({ kind: "undo", of: id });
    isNot(await see());
  }
  async function refused(body: Body, field: string, says: RegExp): Promise<void> {
    const answer = await watch.act(body);
    assert.equal(answer.status, 422, answer.text);
    const { error } = answer.json as any;
    assert.equal(error.field, field);
    assert.match(error.what, says);
    assert.match(error.what, /[.?]$/);
  }

  test("a wheel is held", () =>
    lives({ kind: "hold", wheels: [wheels[0]], held: true, why: "slime" }, () => wheel(wheels[0]!), (w) => assert.equal(w.held.why, "slime"), (w) => assert.equal(w.held, undefined)));

  test("a wheel is cut, and goes on", async () => {
    await lives({ kind: "cut", wheels: [wheels[0]], left: 0.5, how: "eaten" }, () => wheel(wheels[0]!), (w) => assert.equal(w.left, 0.5), (w) => assert.equal(w.left, 1));
    await refused({ kind: "cut", wheels: [wheels[0]], left: 2, how: "eaten" }, "left", /share between 0 and 1/);
  });

  test("a wheel is split off its lot", () =>
    lives({ kind: "split", wheels: [wheels[3]], lot: "1b" }, () => wheel(wheels[3]!), (w) => assert.equal(w.lot, "1b"), (w) => assert.notEqual(w.lot, "1b")));

  test("a wheel gets a band of its own", () =>
    lives({ kind: "band", wheels: [wheels[0]], temperature: { low: 8, high: 10 } }, () => wheel(wheels[0]!), (w) => assert.equal(w.own_band.temperature.high, 10), (w) => assert.equal(w.own_band, undefined)));

  test("the way through the caves, its shelves and its care days are the keeper's", async () => {
    await lives({ kind: "order", caves: [cave], by_room: true }, settings, (s) => assert.equal(s.by_room, true), (s) => assert.equal(s.by_room, false));
    await lives({ kind: "order", cave, shelves: ["B1", "A1"] }, settings, (s) => assert.deepEqual(s.caves[0].shelves, ["B1", "A1"]), (s) => assert.deepEqual(s.caves[0].shelves, []));
    await lives({ kind: "calendar", cave, care_days: [3, 6] }, settings, (s) => assert.deepEqual(s.caves[0].care_days, [3, 6]), (s) => assert.deepEqual(s.caves[0].care_days, []));
    await refused({ kind: "calendar", cave, care_days: [8] }, "care_days", /1, Monday/);
  });

  test("an absence is written, and forgotten when it is undone", () =>
    lives({ kind: "away", from: day(-2), back: day(-5) }, settings, (s) => assert.equal(s.away[0].back, day(-5)), (s) => assert.deepEqual(s.away, [])));

  test("keepers come, and the calendar gets an address that nobody guesses", async () => {
    await lives({ kind: "keeper", name: "TR" }, settings, (s) => assert.deepEqual(s.keepers, ["TR"]), (s) => assert.deepEqual(s.keepers, []));
    const addresses = new Set<string>();
    for (let times = 0; times < 3; ++times) {
      await watch.did({ kind: "feed", open: true });
      const { feed } = await settings();
      assert.match(feed, /[0-9a-f]{32}/);
      addresses.add(feed);
      assert.ok(!JSON.stringify((await watch.get("/api/journal")).lines).includes(feed.match(/[0-9a-f]{32}/)![0]));
      await watch.did({ kind: "feed", open: false });
      assert.equal((await settings()).feed, undefined);
    }
    assert.equal(addresses.size, 3);
  });

  test("a fault marks its wheels; a look that finds it gone ends the mark", async () => {
    const fault = { kind: "fault", what: "slime", wheels: [wheels[0], wheels[1]], of: 4, agreed: true, hold: "wheels" };
    await lives(fault, () => wheel(wheels[1]!), (w) => { assert.equal(w.marks[0].what, "slime"); assert.equal(w.held.why, "slime"); }, (w) => { assert.deepEqual(w.marks, []); assert.equal(w.held, undefined); });
    await watch.did({ kind: "fault", what: "blue spot", wheels: [wheels[0]], of: 4, agreed: false });
    assert.equal((await wheel(wheels[0]!)).marks[0].look_again, undefined);
    const { boards } = (await watch.get("/api/caves")).caves[0];
    assert.equal(boards[0].wheels[0].marked, true);
    await watch.did({ kind: "care", wheels: [wheels[0]], done: ["look"], skipped: [], clears: true });
    assert.deepEqual((await wheel(wheels[0]!)).marks, []);
    await refused({ ...fault, what: "mould" }, "what", /Nobody knows a fault/);
  });

  test("an edit is seen before it is signed, and is a new version that the named wheels follow", async () => {
    const edits = [{ part: 1, stage: 0, set: { humidity_band: { low: 80, high: 96 } }, why: "dry house" }];
    const seen = await watch.ask({ method: "POST", path: "/api/plans/preview", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ plan: "pressed-semi-hard", version: 1, edits, wheel: wheels[0] }) });
    assert.equal(seen.status, 200, seen.text);
    const preview = seen.json as any;
    assert.equal(preview.faults.length, 0);
    assert.ok(preview.before.length > 5 && preview.minutes_before > 0);
    assert.match(preview.changed.join("\n"), /humidity: 80 to 96, was/);
    await lives({ kind: "plan text", plan: "pressed-semi-hard", version: 1, edits, wheels: [wheels[0]] }, () => wheel(wheels[0]!), (w) => assert.equal(w.plan.version, 2), (w) => assert.equal(w.plan.version, 1));
    const { plan, versions } = await watch.get("/api/plans/pressed-semi-hard/2");
    assert.equal(plan.parts[1].stages[0].humidity_band.high, 96);
    assert.equal(versions.length, 1, "an undone version is offered to nobody");
    const missing = await watch.ask({ method: "GET", path: "/api/plans/pressed-semi-hard/9" });
    assert.equal(missing.status, 404);
  });

  test("a text that is not sound is refused with its line, and the preview lists all that is wrong", async () => {
    const { plan } = await watch.get("/api/plans/pressed-semi-hard/1");
    const text = plan.text.replace("hardiness", "herdiness");
    const answer = await watch.act({ kind: "plan text", plan: plan.id, version: 1, text, wheels: [] });
    assert.equal(answer.status, 422, answer.text);
    assert.match((answer.json as any).error.what, /^Line \d+, .*herdiness|hardiness/);
    const seen = await watch.ask({ method: "POST", path: "/api/plans/preview", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ plan: plan.id, version: 1, text, wheel: wheels[0] }) });
    assert.ok((seen.json as any).faults.length > 0, seen.text);
    assert.ok((seen.json as any).faults.some((fault: { line: number }) => fault.line > 0));
  });

  test("a copy is a plan of its own", async () => {
    await watch.did({ kind: "plan text", plan: "bloomy", version: 1, copy_as: "Bloomy of the upper barn", wheels: [] });
    const { plans } = await watch.get("/api/plans");
    assert.equal(plans.at(-1).id, "bloomy-of-the-upper-barn");
    await lives({ kind: "plan", plan: "bloomy-of-the-upper-barn", version: 1, wheels: [wheels[2]] }, () => wheel(wheels[2]!), (w) => assert.equal(w.plan.id, "bloomy-of-the-upper-barn"), (w) => assert.equal(w.plan.id, "pressed-semi-hard"));
  });

  test("a wheel is not released before its days are full, unless somebody signs for it", async () => {
    const rule = { name: "60 days at 1.7 °C or more", start: "made", min_celsius: 1.7, min_days: 60, not_counting: ["drying"], vouching: true };
    await watch.did({ kind: "rule", wheels: [wheels[0]], rule });
    await refused({ kind: "release", wheels: [wheels[0]] }, "wheels", /60 days short/);
    await watch.did({ kind: "vouch", wheels: [wheels[0]], from: day(1), to: day(1), name: "IH", reason: "thermometer in the box" });
    await refused({ kind: "release", wheels: [wheels[0]] }, "wheels", /59 days short/);
    await lives({ kind: "release", wheels: [wheels[0]], override: { name: "IH", reason: "own table" } }, () => wheel(wheels[0]!), (w) => assert.equal(w.state, "released"), (w) => assert.notEqual(w.state, "released"));
  });

  test("a weighing is kept, the last one shows", async () => {
    for (const grams of [1480, 1455]) await watch.did({ kind: "care", wheels: [wheels[0]], done: ["weigh"], skipped: [], grams });
    const page = await watch.get(`/api/wheels/${wheels[0]}`);
    assert.equal(page.wheel.grams, 1455);
    assert.deepEqual(page.weighings.map((w: { grams: number }) => w.grams), [1480, 1455]);
  });

  test("who was left out of a line stays due, and the journal says why", async () => {
    await watch.did({ kind: "care", wheels: [wheels[0]], done: ["turn"], skipped: [], left: { wheels: [wheels[1]], why: "sticks" } });
    assert.deepEqual((await newest()).left_out, { count: 1, why: "sticks" });
  });

  test("days without a line are settled as away; where nothing is open there is nothing to settle", async () => {
    await watch.did({ kind: "past", how: "away", from: day(3), to: day(1) });
    const line = await newest();
    assert.deepEqual([line.what, line.day, line.to], ["away", day(3), day(1)]);
    await refused({ kind: "past", how: "all fine", from: day(3), to: day(1) }, "from", /Nothing is open of those days/);
  });

  test("the summing tables agree with the journal after all of it", async () => {
    await watch.end();
    const result = await run(rindwatch, ["check", "--config", watch.file, "--json"]);
    assert.deepEqual(JSON.parse(result.out).faults, []);
    await watch.up();
  });

  test("a tap that was sent after a move stands where the wheel lay when it was tapped", async () => {
    const ago = (seconds: number) => ({ tapped_at: Date.now() - seconds * 1000 });
    const { wheels: moved } = await enterWheel(watch, { ...ago(60), where: { new: { kind: "room", name: "Make room" } } });
    await watch.did({ ...ago(10), kind: "move", wheels: moved, to: { new: { kind: "room", name: "Loft" } } });
    await watch.did({ ...ago(30), kind: "care", wheels: moved, done: ["turn"], skipped: [] });
    const line = (await watch.get("/api/journal")).lines.findLast((l: { kind: string }) => l.kind === "care");
    assert.equal(line.place, "Make room");
    const { done } = await watch.get(`/api/returned?from=${day()}&back=${day(-1)}`);
    assert.ok(done.some((one: { place: string }) => one.place === "Make room"), JSON.stringify(done));
  });
});

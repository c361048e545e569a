// What the house tells beyond today, over the wire: an absence, the return, the weeks to come, who suits a cave, the days
// that count. Every answer is held against openapi.yaml. Invented.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { day, enterWheel } from "../support/keeping.ts";
import { Watch } from "../support/watch.ts";

interface Visit { day: string; minutes: number; lines: { rind: string; kinds: string[] }[] }
interface Lane { windows: { from: string; to: string; visit?: string }[] }

describe("beyond today", () => {
  let watch: Watch, pressed: number[], bloomies: number[], box: number;
  before(async () => {
    watch = await Watch.start();
    ({ wheels: pressed, cave: box } = await enterWheel(watch, { count: 4, made: day(40), starts: [{ start: "entered box", day: day(37), reckoned: false }] }));
    ({ wheels: bloomies } = await enterWheel(watch, { plan: "bloomy", count: 6, made: day(12), starts: [], where: { new: { kind: "fridge" } }, lot: "221" }));
  });
  after(() => watch.end());

  test("the visits of an absence lie inside the windows of every lane, and only a helper's work is on them", async () => {
    const plan = await watch.get(`/api/away?from=${day(-1)}&back=${day(-11)}`);
    const visits: Visit[] = plan.visits;
    assert.ok(visits.length > 0 && visits.length < 10, `${visits.length} visits`);
    const days = visits.map((v) => v.day);
    for (const lane of plan.lanes as Lane[]) {
      for (const { from, to, visit } of lane.windows) {
        if (!visit) continue;
        assert.ok(days.includes(visit) && from <= visit && visit <= to, `${from} to ${to}: ${visit}`);
      }
    }
    for (const line of visits.flatMap((v) => v.lines)) assert.ok(line.kinds.every((kind) => ["turn", "wipe", "look"].includes(kind)));
    assert.ok(plan.before.some((line: { kinds: string[] }) => line.kinds.includes("wash")), "the wash is done before leaving");
    assert.ok(plan.before.some((line: { lid?: boolean }) => line.lid), "and the lid is set");
    const one = await watch.get(`/api/away?from=${day(-1)}&back=${day(-11)}&caves=${box}`);
    assert.equal(one.lanes.length, 1);
  });

  test("an absence that is marked stands in the plan until it is struck out", async () => {
    const path = `/api/away?from=${day(-1)}&back=${day(-3)}`;
    await watch.did({ kind: "away", from: day(-1), back: day(-3) });
    const { marked } = await watch.get(path);
    assert.deepEqual([marked.length, marked[0].from, marked[0].back], [1, day(-1), day(-3)]);
    await watch.did({ kind: "undo", of: marked[0].act });
    assert.deepEqual((await watch.get(path)).marked, []);
  });

  test("after days away: nothing was recorded, nothing is made up", async () => {
    const page = await watch.get(`/api/returned?from=${day(3)}&back=${day()}`);
    assert.deepEqual([page.done, page.caves, page.alarms], [[], [], []]);
  });

  test("a year ahead has its weeks, its longest day, and what is ready on a wanted one", async () => {
    const page = await watch.get(`/api/ahead?weeks=53&wanted=${day(-25)}`);
    assert.equal(page.weeks.length, 53);
    const most = Math.max(...page.weeks.flatMap((week: { minutes: number[] }) => week.minutes));
    assert.equal(page.busiest.minutes, most);
    const lots = page.weeks.flatMap((week: { ready: { wheels: number[] }[] }) => week.ready.flatMap((ready) => ready.wheels));
    for (const wheel of [...bloomies, ...pressed]) assert.ok(lots.includes(wheel), `wheel ${wheel} is ready in some week`);
    assert.ok(page.wanted.ready >= bloomies.length);
    assert.ok(page.wanted.make.some((make: { plan: string; possible: boolean }) => make.plan === "bloomy" && make.possible));
  });

  test("who would not suit whom is told before a wheel is entered; a blue wants its own shut box", async () => {
    const fit = await watch.get(`/api/fit?plan=blue&cave=${box}&made=${day()}`);
    assert.ok(fit.advice.some((advice: string) => /shut/.test(advice)));
    assert.ok(fit.advice.some((advice: string) => /last/.test(advice)));
    for (const cost of fit.costs) assert.ok(cost.by > 0 && cost.what.length > 0);
  });

  test("every fault is told for every rind", async () => {
    const { faults } = await watch.get("/api/faults");
    for (const { what, rinds } of faults) assert.equal(new Set(rinds.map((r: { rind: string }) => r.rind)).size, 4, what);
  });

  test("the days that count stand on the wheel's page, their sums in the list", async () => {
    const rule = { name: "30 days", start: "made", min_celsius: 1.7, min_days: 30, not_counting: [], vouching: true };
    await watch.did({ kind: "rule", wheels: pressed, rule });
    const page = await watch.get(`/api/wheels/${pressed[0]}`);
    const { qualifying } = page.wheel;
    assert.deepEqual([qualifying.proven, qualifying.unproven, qualifying.days.length, qualifying.reached], [0, 40, 40, false]);
    assert.equal(qualifying.earliest, day(-30));
    await watch.did({ kind: "vouch", wheels: pressed, from: day(40), to: day(1), name: "IH", reason: "thermometer in the box" });
    const list = (await watch.get("/api/wheels")).wheels.find((w: { id: number }) => w.id === pressed[0]);
    assert.deepEqual([list.qualifying.vouched, list.qualifying.counted, list.qualifying.reached, list.qualifying.days], [40, 40, true, []]);
    await watch.did({ kind: "release", wheels: pressed });
    assert.ok((await watch.get(`/api/wheels/${pressed[0]}`)).wheel.qualifying.released);
  });

  test("a question that cannot be answered says what is wrong", async () => {
    for (const path of ["/api/away", `/api/away?from=${day()}&back=${day()}`, "/api/ahead?weeks=none", "/api/fit?plan=nothing&cave=1", `/api/returned?from=${day()}&back=soon`]) {
      assert.equal((await watch.ask({ path })).status, 400, path);
    }
  });
});

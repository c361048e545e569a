import assert from "node:assert/strict";
import { test } from "node:test";
import type { FaultText, PlanText, Wheel } from "../src/api.ts";
import { adviceFor, thenDays } from "../src/places/fault/advice.ts";
import { findGroup, groupsOf, lotsOf } from "../src/places/round/groups.ts";
import { bringOf, putOff } from "../src/places/round/little.ts";
import { nextThen } from "../src/places/round/next_then.ts";
import { numbersSaid, oneFewer, oneMore, rowsOf, spotsOf, toggled } from "../src/places/round/pick.ts";
import { partsOf } from "../src/places/round/shares.ts";

const to = (low: number, high: number) => `${low} to ${high}`;

test("wheels stand in rows of five, counted from the door", () => {
  const spots = spotsOf({ wheels: [7, 5, 6], numbers: [3, 1, 2] });
  assert.deepEqual(spots.map((s) => s.wheel), [5, 6, 7]);
  assert.deepEqual(rowsOf(Array.from({ length: 14 }, (_, i) => ({ wheel: i, number: i + 1 }))).map((r) => r.length), [5, 5, 4]);
});

test("one more without saying which is the farthest from the door; one fewer takes the last back", () => {
  const spots = spotsOf({ wheels: [1, 2, 3], numbers: [1, 2, 3] });
  assert.deepEqual(oneMore([], spots), [3]);
  assert.deepEqual(oneMore([3], spots), [3, 2]);
  assert.deepEqual(oneMore([3, 2, 1], spots), [3, 2, 1]);
  assert.deepEqual(oneFewer([3, 2]), [3]);
  assert.deepEqual(toggled(toggled([], 4), 4), []);
});

test("numbers are said one by one, long runs by their ends", () => {
  assert.equal(numbersSaid([7, 2, 6], to), "2, 6, 7");
  assert.equal(numbersSaid([1, 2, 3, 4, 9], to), "1 to 4, 9");
  assert.equal(numbersSaid([], to), "");
});

const wheel = (id: number, more: Partial<Wheel> = {}): Wheel => ({
  id, name: "", lot: "214", lot_id: 1, number: id, marks: [], left: 1, family: "tomme", plan: { id: "tomme", version: 1 }, rind: "natural and pressed", cave: 5, place: "A2", age: 20, made: "2026-11-01",
  counts_from: { start: "made", day: "2026-11-01", reckoned: false }, day: 20, stage: "ripening", state: "ripening", past_plan: false, ...more,
});

test("a lot on its shelf is one group; a lot on two shelves is one lot besides; what is gone lies nowhere", () => {
  const wheels = [wheel(3), wheel(1), wheel(2, { place: "B1" }), wheel(4, { state: "gone" }), wheel(5, { lot: "" })];
  assert.deepEqual(groupsOf(wheels).map((g) => g.wheels.map((w) => w.id)), [[1, 3], [2], [5]]);
  assert.deepEqual(lotsOf(wheels).map((g) => g.wheels.map((w) => w.id)), [[3, 1, 2]]);
  assert.deepEqual(findGroup(wheels, "3")?.wheels.map((w) => w.id), [1, 3]);
  assert.equal(findGroup(wheels, "4"), undefined);
  for (const { key } of [...groupsOf(wheels), ...lotsOf(wheels)]) assert.equal(findGroup(wheels, key)?.key, key);
});

test("what the trade does goes by rind and age; what changes stands by day", () => {
  const advice = (from: number, until: number | undefined, known: string): FaultText["rinds"][number] => ({
    rind: "washed", ages: { from, ...(until === undefined ? {} : { to: until }) }, mask: false, sisters: false, neighbours: true, known, caution: "", now: [],
    then: [{ in_days: 9, kinds: ["oil"], words: "" }, { in_days: 1, kinds: ["turn"], words: "" }], look_again_days: 3, apart: false, hold: false,
  });
  const faults: FaultText[] = [{ what: "crack", rinds: [advice(0, 14, "young"), advice(15, undefined, "old")] }];
  assert.equal(adviceFor(faults, "crack", "washed", 14)?.known, "young");
  assert.equal(adviceFor(faults, "crack", "washed", 15)?.known, "old");
  assert.equal(adviceFor(faults, "crack", "blue", 15), undefined);
  assert.equal(adviceFor(faults, "smell", "washed", 15), undefined);
  assert.deepEqual(thenDays(advice(0, undefined, ""), "2026-11-26").map((d) => [d.day, d.what === "look again" ? "look" : d.what.kinds[0]]), [["2026-11-27", "turn"], ["2026-11-29", "look"], ["2026-12-05", "oil"]]);
});

test("a short round holds for its day alone", () => {
  const bring = { washes: [], cloths: 1, tools: [], two_people: false, mask: false };
  const kept = { day: "2026-11-26", minutes: 15, bring, moved: [{ key: "a", to: "2026-11-27", window_end: "2026-11-28", leaves_window: false }] };
  assert.equal(putOff(kept, "2026-11-26").get("a")?.to, "2026-11-27");
  assert.equal(putOff(kept, "2026-11-27").size, 0);
  assert.equal(putOff(undefined, "2026-11-27").size, 0);
  assert.deepEqual([bringOf(kept, "2026-11-26"), bringOf(kept, "2026-11-27")], [bring, undefined]);
});

test("a room that is one keeper's is said as a room, else its lines", () => {
  const lines = [{ key: "a", cave: 1 }, { key: "b", cave: 1 }, { key: "c", cave: 2 }];
  const taken = new Map([["a", "IH"], ["b", "TR"], ["c", "TR"]]);
  assert.deepEqual(partsOf(lines, taken, "TR"), { keeper: "TR", caves: [2], lines: ["b"] });
  assert.deepEqual(partsOf(lines, taken, "IH"), { keeper: "IH", caves: [], lines: ["a"] });
});

test("a care done before its day says when the next is due, where the plan counts in days", () => {
  const figure = { low: 1, high: 1, source: "" };
  const stage = { name: "ripening", state: "ripening" as const, first_day: 1, counts: true, source: "", cares: [
    { kinds: ["turn" as const], brings: [], every_days: 2, note: "", source: "", cautions: [] }, { kinds: ["wash" as const], brings: [], times_a_week: 2, note: "", source: "", cautions: [] }] };
  const plan: PlanText = { id: "tomme", version: 1, family: "tomme", rind: "natural and pressed", text: "", cautions: [], ready: { ...figure, counted_from: "made" }, parts: [{ start: "made", question: "", stages: [stage] }] };
  const due = wheel(1, { next: { kinds: ["turn"], due: "2026-11-27" } });
  assert.equal(nextThen(plan, due, "turn", "2026-11-26"), "next turn then Saturday, not tomorrow");
  assert.equal(nextThen(plan, due, "wash", "2026-11-26"), "");
  assert.equal(nextThen(undefined, due, "turn", "2026-11-26"), "");
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Wheel, WheelPage } from "../src/api.ts";
import { instantOf, setZone } from "../src/days.ts";
import { nextOf, nextWord } from "../src/places/round/next_of.ts";
import { lineMinutes } from "../src/places/round/sum.ts";
import { groups, inWalkingOrder } from "../src/places/wheels/alike.ts";
import { countsWords } from "../src/parts/names.ts";
import { datesOf, toldTogether } from "../src/places/wheels/excursions.ts";
import { opensIn, readyWords } from "../src/places/wheels/ready.ts";
import { weightWords } from "../src/places/wheels/weight.ts";

const head = { day: "2026-11-26" } as WheelPage["head"];
const weighed = (day: string, grams: number) => ({ at: 0, day, grams });
const words = (weighings: WheelPage["weighings"], grams_at_entry?: number, grams?: number) =>
  weightWords({ head, weighings, wheel: grams === undefined ? {} : { grams }, ...(grams_at_entry === undefined ? {} : { grams_at_entry }) });

test("a weight stands beside the one that the wheel began with", () => {
  assert.equal(words([weighed("2026-11-26", 385)], 400, 385), "400\u00a0g, 385\u00a0g today: 4\u00a0% lost");
  assert.equal(words([weighed("2026-11-20", 2300), weighed("2026-11-22", 2170)], 2310, 2170), "2.31\u00a0kg, 2.17\u00a0kg on Sunday: 6\u00a0% lost");
  assert.equal(words([weighed("2026-11-26", 400)], 400, 400), "400\u00a0g, 400\u00a0g today");
  assert.equal(words([], 400, 400), "400\u00a0g");
  assert.equal(words([], undefined, undefined), "");
});

test("where nobody said what it began with, the first weighing is the first word", () => {
  assert.equal(words([weighed("2026-11-25", 385)], undefined, 385), "385\u00a0g yesterday");
  assert.equal(words([weighed("2026-11-20", 400), weighed("2026-11-25", 380)], undefined, 380), "400\u00a0g, 380\u00a0g yesterday: 5\u00a0% lost");
});

test("what is due already is said as such, what comes by its day", () => {
  const wheel = (due: string, late_since?: string): Pick<Wheel, "next"> => ({ next: { kinds: ["wash", "turn"], due, ...(late_since ? { late_since } : {}) } });
  assert.equal(nextOf([wheel("2026-11-24")], head.day), "Wash, turn: was due Tuesday.");
  assert.equal(nextOf([wheel("2026-11-24", "2026-11-23")], head.day), "Wash, turn: was due Monday.");
  assert.equal(nextOf([wheel("2026-11-27"), wheel("2026-11-28")], head.day), "Next: wash, turn, tomorrow.");
  assert.equal(nextOf([{}], head.day), "Nothing is asked of it.");
});

test("an event is told as the day it counts from, not as a place", () => {
  assert.equal(countsWords({ day: 25, counts_from: { start: "entered cold store", day: "2026-11-01", reckoned: false } }), "day 25 since the cold store, 1\u00a0Nov");
});

test("in a list of shelves what is late is not taken for a day to come", () => {
  assert.equal(nextWord({ kinds: ["brush", "turn"], due: "2026-11-25" }, "2026-11-27"), "brush, turn, due since Wednesday");
  assert.equal(nextWord({ kinds: ["brush", "turn"], due: "2026-12-02" }, "2026-11-27"), "brush, turn Wednesday");
});

test("a line under half a minute says none, since many of them would not add up", () => {
  assert.deepEqual([0, 0.1, 0.49, 0.5, 1.4].map(lineMinutes), ["", "", "", "1\u00a0min", "1\u00a0min"]);
});

test("wheels stand cave by cave and board by board, those alike as one", () => {
  const wheel = (id: number, cave: number, place: string, more: Partial<Wheel> = {}) => ({ id, cave, place, lot: "1", family: "Tomme", age: 3, marks: [], counts_from: {}, left: 1, ...more }) as unknown as Wheel;
  const all = groups([wheel(1, 2, "W4"), wheel(2, 1, "A10"), wheel(3, 2, "W4", { lot: "2" }), wheel(4, 1, "A9"), wheel(5, 2, "W4")]);
  assert.deepEqual(inWalkingOrder(all).map((g) => g.wheels.map((w) => w.id)), [[1, 5], [3], [4], [2]]);
});

test("a window is told by what of it is still to come, and the young road's beside it while nobody chose", () => {
  const window = { from: "2026-12-17", to: "2027-01-15" };
  assert.equal(readyWords(window, "2026-11-26"), "Ready 17\u00a0Dec to 15\u00a0Jan 2027.");
  assert.equal(readyWords(window, "2026-12-17"), "Ready now, to 15\u00a0Jan 2027.");
  assert.equal(readyWords(window, "2027-01-16"), "Its ready days ended 15\u00a0Jan.");
  const both = { ...window, young: { from: "2026-11-20", to: "2026-12-05" } };
  assert.equal(readyWords(both, "2026-11-10"), "Ready 17\u00a0Dec to 15\u00a0Jan 2027. Eaten young, 20\u00a0Nov to 5\u00a0Dec.");
  assert.equal(readyWords(both, "2026-11-26"), "Ready 17\u00a0Dec to 15\u00a0Jan 2027. Eaten young, now to 5\u00a0Dec.");
  assert.equal(readyWords(both, "2026-12-06"), "Ready 17\u00a0Dec to 15\u00a0Jan 2027.");
});

test("a stage within which the ready days open says so, one that begins with them need not", () => {
  const stage = { name: "rind set", state: "rind forming" as const, from: "2026-12-10", to: "2026-12-20", cares: [] };
  const ready = { from: "2026-12-17", to: "2027-01-15" };
  assert.equal(opensIn(ready, stage, "2026-11-26"), "2026-12-17");
  assert.equal(opensIn(ready, stage, "2026-12-18"), undefined);
  assert.equal(opensIn(ready, { ...stage, from: "2026-12-18" }, "2026-11-26"), undefined);
  assert.equal(opensIn(ready, { ...stage, to: "2026-12-16" }, "2026-11-26"), undefined);
  assert.equal(opensIn({ ...ready, from: "2026-12-10" }, stage, "2026-11-26"), undefined);
  assert.equal(opensIn(undefined, stage, "2026-11-26"), undefined);
});

test("power cuts of one cause are one row that says how many; what differs or lies far apart stands alone", () => {
  const day = 86_400_000;
  const start = Date.UTC(2026, 10, 1, 12);
  const cut = (n: number, more: object = {}) => ({ kind: "power gone" as const, from: start + n * day, to: start + n * day + 600_000, extreme: 0, ...more });
  const told = toldTogether(Array.from({ length: 19 }, (_, n) => cut(n)));
  assert.deepEqual(told.map((t) => [t.count, t.lasted]), [[19, 19 * 600_000]]);
  assert.equal(toldTogether([cut(0), cut(8)]).length, 2, "more than a week apart");
  assert.equal(toldTogether([cut(0, { what: "storm" }), cut(1, { what: "plant" })]).length, 2, "other causes on other days");
  const oneDay = toldTogether([cut(0, { what: "storm" }), { ...cut(0, { what: "plant" }), from: start + 3_600_000, to: start + 4_000_000 }]);
  assert.deepEqual(oneDay.map((t) => [t.count, t.what]), [[2, undefined]], "one day is one row, and names no cause that is not all of it");
  const cold = { kind: "too cold" as const, from: start, to: start + 1, extreme: 5 };
  assert.deepEqual(toldTogether([cold, { ...cold, from: start + 9, to: start + 10, extreme: 3 }, cut(0)]).map((t) => [t.kind, t.count, t.extreme]), [["too cold", 2, 3], ["power gone", 1, 0]]);
  assert.deepEqual(toldTogether([{ ...cut(0), kind: "too warm", beyond: 400_000 }, { ...cut(1), kind: "too warm" }]).map((t) => t.lasted), [1_000_000], "an alarm stands for longer than its air is out");
  assert.deepEqual(toldTogether([{ ...cold, uncounted: ["2026-11-21"] }, { ...cold, from: start + 9, to: start + 10, uncounted: ["2026-11-20", "2026-11-21"] }]).map((t) => t.uncounted), [["2026-11-20", "2026-11-21"]], "days that do not count are told once");
  const warm = { kind: "too warm" as const, from: start, to: start + 9 * day, extreme: 20 };
  const steps = toldTogether([{ ...warm, why: "plan step" as const, what: "plant" }, { ...warm, from: start + day, to: start + day + 3_600_000, extreme: 25, what: "plant" }]);
  assert.deepEqual(steps.map((t) => [t.why, t.count, t.extreme]), [["plan step", 1, 20], [undefined, 1, 25]], "a step of a plan is no failure, and takes no figure from one");
  const { to: _over, ...lasts } = cut(1);
  assert.deepEqual(toldTogether([cut(0), lasts]).map((t) => t.to === undefined), [false, true], "what still lasts stands alone");
});

test("what was out of the band is dated by the wall, also before the keeper's day turns", () => {
  setZone("Europe/Vienna");
  const night = instantOf("2026-10-01", 3, 48);
  assert.equal(datesOf({ from: night, to: night + 3.4 * 3_600_000 }), "1\u00a0Oct");
  assert.equal(datesOf({ from: night - 4 * 3_600_000, to: night }), "30\u00a0Sep to 1\u00a0Oct");
  assert.equal(datesOf({ from: night }), "1\u00a0Oct");
});

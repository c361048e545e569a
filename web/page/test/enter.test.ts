import assert from "node:assert/strict";
import { test } from "node:test";
import type { PlanOffer } from "../src/api.ts";
import { fitPath, actOf, askedLast, kEmpty, lastDay, proposedStarts } from "../src/places/enter/draft.ts";

const plan: PlanOffer = {
  id: "pressed", version: 1, family: "pressed", rind: "natural and pressed", rind_words: "pale, pressed, bare", cares: ["turn", "wash"], cautions: [],
  parts: [{ start: "salted", question: "Out of the brine?", usual_low: 1, usual_high: 1, cares: [] }, { start: "entered box", question: "Into the box?", usual_low: 2, usual_high: 4, cares: [] }],
};
const box = { new: { kind: "box" as const, inside: { kind: "fridge" as const } } };

import { costWords, laterWords } from "../src/places/enter/fit_words.ts";

test("where the wheel lies already, the plan's usual length gives the day of each part, marked as reckoned", () => {
  assert.deepEqual(proposedStarts(plan, "2026-11-10", "2026-11-26", box, new Map()), [
    { start: "salted", day: "2026-11-11", reckoned: true }, { start: "entered box", day: "2026-11-14", reckoned: true },
  ]);
});

test("a part whose usual day lies ahead has not begun, and on the counter none has", () => {
  assert.deepEqual(proposedStarts(plan, "2026-11-24", "2026-11-26", box, new Map()).map((s) => s.start), ["salted"]);
  assert.deepEqual(proposedStarts(plan, "2026-11-10", "2026-11-26", { cave: 4 }, new Map([[4, "counter"]])), []);
});

test("last done: within the wheel's life, and nothing for don't know", () => {
  assert.equal(lastDay("today", "2026-11-26", "2026-11-10"), "2026-11-26");
  assert.equal(lastDay("yesterday", "2026-11-26", "2026-11-10"), "2026-11-25");
  assert.equal(lastDay("some", "2026-11-26", "2026-11-25"), "2026-11-25");
  assert.equal(lastDay("unknown", "2026-11-26", "2026-11-10"), undefined);
});

test("last done? is asked of turning, and of washing where the part that it is in asks for it", () => {
  const brined = { ...plan, cares: ["turn", "wash", "brush"] as PlanOffer["cares"], parts: plan.parts.map((p) => (p.start === "entered box" ? { ...p, cares: ["turn", "wash"] as PlanOffer["cares"] } : p)) };
  assert.deepEqual(askedLast(brined, []), ["turn"]);
  assert.deepEqual(askedLast(brined, [{ start: "salted", day: "2026-11-11", reckoned: true }]), ["turn"]);
  assert.deepEqual(askedLast(brined, [{ start: "salted", day: "2026-11-11", reckoned: true }, { start: "entered box", day: "2026-11-14", reckoned: true }]), ["turn", "wash"]);
});

test("the house is asked whom a wheel suits, with the law that is typed with it, in a new cave too", () => {
  const rule = { name: "60 days", start: "made" as const, min_days: 60, not_counting: [], vouching: false };
  assert.equal(fitPath({ ...kEmpty, plan, made: "2026-11-26" }), "");
  assert.equal(fitPath({ ...kEmpty, plan, made: "2026-11-26", where: { where: { cave: 2 }, word: "" } }), "/api/fit?plan=pressed&cave=2&made=2026-11-26");
  const asked = new URL(fitPath({ ...kEmpty, plan, made: "2026-11-26", where: { where: box, word: "" }, rule }), "http://house");
  assert.equal(asked.searchParams.has("cave"), false);
  assert.deepEqual(JSON.parse(asked.searchParams.get("rule")!), rule);
});

test("four answers make an act, three do not", () => {
  assert.equal(actOf({ ...kEmpty, plan, made: "2026-11-26" }), undefined);
  assert.deepEqual(actOf({ ...kEmpty, plan, made: "2026-11-26", where: { where: box, word: "" }, grams: 250 }),
    { kind: "enter", plan: "pressed", made: "2026-11-26", count: 1, where: box, starts: [], last: [], grams: 250 });
});

test("what does not suit whom is said with where it lies, one by one or counted, now and from a day on", () => {
  const cost = { family: "Washed rind", count: 1, where: ["Box 3"], channel: "temperature" as const, by: 1, newcomer: false, what: "1 degree too warm" };
  assert.equal(costWords(cost), "For the washed rind in Box 3 it is 1 degree too warm.");
  assert.equal(costWords({ ...cost, family: "Bloomy", count: 3, where: ["Box 1", "Box 2"] }), "For 3 bloomies in Box 1 and Box 2 it is 1 degree too warm.");
  assert.equal(costWords({ ...cost, newcomer: true, where: [] }), "For yours it is 1 degree too warm.");
  assert.equal(laterWords({ ...cost, from: "2026-12-08" }, "2026-11-26"), "From 8\u00a0Dec on it is 1 degree too warm for the washed rind in Box 3.");
  assert.equal(laterWords({ ...cost, newcomer: true, where: [], from: "2027-01-08" }, "2026-11-26"), "From 8\u00a0Jan 2027 on it is 1 degree too warm for yours.");
});

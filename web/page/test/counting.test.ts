import assert from "node:assert/strict";
import { test } from "node:test";
import type { Qualifying, Wheel } from "../src/api.ts";
import { addDays } from "../src/days.ts";
import { gramsOf, lost } from "../src/places/wheels/scale.ts";
import { draftOf, kBlank, kPublished, ruleOf, wanting } from "../src/places/wheels/release/rule.ts";
import { namedRule } from "../src/places/wheels/release/rule_form.tsx";
import { folded, runsOf, weeksOf } from "../src/places/wheels/release/weeks.ts";
import { firstOf, sisters } from "../src/places/wheels/sisters.ts";
import { figureOf } from "../src/parts/write.tsx";

type Days = Qualifying["days"];
const proven = (from: string, count: number): Days => Array.from({ length: count }, (_, i) => ({ day: addDays(from, i), is: "proven" }));

test("days stand in weeks from Monday on; before the start and after today nothing stands", () => {
  const weeks = weeksOf([...proven("2026-11-26", 3), { day: "2026-11-29", is: "missing", low: 0.9 }, ...proven("2026-11-30", 1)]); // a Thursday
  assert.equal(weeks.length, 2);
  assert.deepEqual(weeks[0]!.cells, [undefined, undefined, undefined, "proven", "proven", "proven", "missing"]);
  assert.deepEqual(weeks[1]!.cells, ["proven", undefined, undefined, undefined, undefined, undefined, undefined]);
  assert.deepEqual(weeks[0]!.missing, [{ day: "2026-11-29", low: 0.9 }]);
  assert.deepEqual(weeksOf([]), []);
});

test("a day that the rule leaves out is neither proven nor missing", () => {
  const weeks = weeksOf([...proven("2026-11-23", 2), ...proven("2026-11-26", 4)]);
  assert.deepEqual(weeks[0]!.cells, ["proven", "proven", "not counting", "proven", "proven", "proven", "proven"]);
});

test("a long run of weeks that are alike folds, and every week is either shown or counted in a fold", () => {
  const weeks = weeksOf([...proven("2026-01-05", 7 * 20), { day: "2026-05-25", is: "unproven" }, ...proven("2026-05-26", 6)]);
  const rows = folded(weeks);
  const shown = rows.filter((r) => "week" in r).length;
  const hidden = rows.reduce((sum, r) => sum + ("folded" in r ? r.folded : 0), 0);
  assert.deepEqual([weeks.length, shown, hidden], [21, 7, 14]);
  assert.equal(folded(weeksOf(proven("2026-01-05", 7 * 7))).length, 7);
  const blind: Days = proven("2026-01-05", 7 * 20).map(({ day }) => ({ day, is: "unproven" }));
  assert.deepEqual(folded(weeksOf(blind)).flatMap((r) => ("folded" in r ? [r.is, r.folded] : [])), ["unproven", 14]);
  assert.equal(folded(weeksOf([...proven("2026-01-05", 7 * 5), ...blind.slice(7 * 5)])).filter((r) => "folded" in r).length, 1);
});

test("days one after another are one span", () => {
  assert.deepEqual(runsOf(["2026-11-07", "2026-11-05", "2026-11-06", "2026-11-30", "2026-12-01"]), [{ from: "2026-11-05", to: "2026-11-07" }, { from: "2026-11-30", to: "2026-12-01" }]);
});

test("the published rule: 35 °F to the letter, for 60 days; no vouching, as it knows none", () => {
  // 21 CFR 133.182 (a): cured at not less than 35 °F for not less than 60 days. 35 °F by the definition of the scale:
  const celsius = (35 - 32) / 1.8;
  const rule = ruleOf(kPublished, namedRule)!;
  assert.ok(Math.abs(rule.min_celsius! - celsius) < 1e-12);
  assert.equal(draftOf(rule).degrees, "35 °F");
  assert.equal(draftOf({ ...rule, min_celsius: 1.7 }).degrees, "1.7");
  assert.deepEqual([rule.min_days, rule.vouching, rule.start], [60, false, "made"]);
});

test("a rule needs its days; a temperature may be left out, and a comma is a point", () => {
  assert.equal(wanting(kBlank), "days");
  assert.equal(wanting({ ...kBlank, days: "60", degrees: "warm" }), "degrees");
  assert.equal(wanting({ ...kBlank, days: "0" }), "days");
  assert.equal(wanting({ ...kBlank, days: "2.5" }), "days");
  assert.deepEqual(ruleOf({ ...kBlank, days: "90" }, namedRule), { name: "90 days at any temperature", start: "made", min_days: 90, not_counting: [], vouching: false });
  assert.deepEqual(ruleOf({ ...kBlank, days: "10", months: true }, namedRule), { name: "10 months at any temperature", start: "made", min_days: 0, min_months: 10, not_counting: [], vouching: false });
  assert.equal(ruleOf({ ...kBlank, days: "60", degrees: "1,7" }, namedRule)?.min_celsius, 1.7);
  assert.equal(ruleOf({ ...kBlank, days: "60", degrees: "-1" }, namedRule)?.min_celsius, -1);
});

test("a scale's figure is grams, or kilograms where it is small", () => {
  assert.equal(gramsOf(2170), 2170);
  assert.equal(gramsOf(2.17), 2170);
  assert.equal(gramsOf(49.9), 49900);
  assert.equal(gramsOf(50), 50);
  assert.equal(figureOf(" 2,17 "), 2.17);
  for (const bad of ["", "-1", "0", "two", "1e999"]) assert.equal(figureOf(bad), undefined, bad);
  assert.equal(Math.round(lost(2310, 2170)!), 6);
  assert.equal(lost(undefined, 2170), undefined);
});

const wheel = (id: number, more: Partial<Wheel> = {}): Wheel => ({
  id, name: `Tomme ${id}`, lot: "214", lot_id: 1, number: id, family: "Tomme", plan: { id: "tomme", version: 1 }, rind: "natural and pressed", cave: 1, place: "A1", age: 9, made: "2026-11-17",
  counts_from: { start: "made", day: "2026-11-17", reckoned: false }, day: 9, stage: "", state: "ripening", past_plan: false, marks: [], left: 1, ...more,
});

test("by count: this wheel, then those beside it as they stand from the door, then those elsewhere; gone ones never", () => {
  const all = [wheel(1, { number: 3 }), wheel(2, { number: 1 }), wheel(3, { number: 2, state: "gone" }), wheel(4, { place: "B1", number: 1 }), wheel(5, { lot_id: 2 })];
  const of = sisters(all[0]!, all);
  assert.deepEqual(of.map((w) => w.id), [1, 2, 4]);
  assert.deepEqual(firstOf(of, 2), [1, 2]);
  assert.deepEqual(firstOf(of, 9), [1, 2, 4]);
  assert.deepEqual(sisters(wheel(9), []).map((w) => w.id), [9]);
});

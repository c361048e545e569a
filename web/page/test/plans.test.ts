import assert from "node:assert/strict";
import { test } from "node:test";
import type { PlanCare, PlanEdit, PlanStage, PlanText } from "../src/api.ts";
import { cadenceWord, usualTolerance } from "../src/places/plans/cadence.ts";
import { added, additionsOf, atOf, careAfter, changed, counts, editOf, explained, keyOf, removed, stageAfter, stageOfPlan, stagesInOrder } from "../src/places/plans/edits.ts";
import { namedIn } from "../src/places/plans/export.ts";
import { everyday } from "../src/places/plans/month.tsx";
import { inRindOrder } from "../src/places/plans/order.ts";

const care = (more: Partial<PlanCare> = {}): PlanCare => ({ kinds: ["turn"], brings: [], every_days: 2, note: "", source: "notes", cautions: [], ...more });
const stage = (name: string, more: Partial<PlanStage> = {}): PlanStage => ({ name, state: "ripening", first_day: 1, last_day: 20, counts: true, source: "", cares: [care()], ...more });
const plan: PlanText = {
  id: "tomme", version: 3, family: "Tomme", rind: "natural and pressed", text: "", cautions: [],
  parts: [
    { start: "made", question: "", stages: [stage("drying")] },
    { start: "entered cave", question: "Dry?", stages: [stage("young")], branch: { question: "Keep on?", asked_from: 20, default_option: "keep_on", options: [{ name: "young", stages: [] }, { name: "keep_on", stages: [stage("aged")] }] } },
  ],
};
const at = { part: 1, stage: 0 };

test("a stage's address leads back to it, on a branch whose name holds the sign between its parts too", () => {
  for (const where of [{ part: 0, stage: 0 }, at, { part: 1, option: "keep_on", stage: 0 }]) assert.deepEqual(atOf(keyOf(where)), where);
  assert.equal(stageOfPlan(plan, atOf("1_keep_on_0")!)?.name, "aged");
  assert.equal(atOf("nonsense"), undefined);
  assert.deepEqual(stagesInOrder(plan).map((s) => s.stage.name), ["drying", "young", "aged"]);
});

test("changes of one care gather in one edit, and of two cadences the later said holds alone", () => {
  let edits = changed([], at, 0, { every_days: 3 });
  edits = changed(edits, at, 0, { tolerance: 1 });
  edits = changed(edits, at, 0, { times_a_week: 2 });
  assert.deepEqual(edits, [{ part: 1, stage: 0, care: 0, set: { tolerance: 1, times_a_week: 2 } }]);
  assert.equal(cadenceWord(careAfter(care(), edits[0])), "twice a week");
  assert.deepEqual(explained(edits, at, 0, " dusty ")[0]?.why, "dusty");
  assert.equal(explained(explained(edits, at, 0, "dusty"), at, 0, "")[0]?.why, undefined);
});

test("a change of one stage leaves the same place of another alone", () => {
  const edits = changed(changed([], at, 0, { every_days: 3 }), { part: 1, option: "keep_on", stage: 0 }, 0, { every_days: 9 });
  assert.equal(editOf(edits, at, 0)?.set?.every_days, 3);
  assert.equal(editOf(edits, at, undefined), undefined);
});

test("removals come last and from the end, so that no place shifts under another; asked again, a care stays", () => {
  let edits: PlanEdit[] = removed([], at, 0);
  edits = removed(edits, at, 2);
  edits = added(edits, at, { kinds: ["brush"], every_days: 7 });
  edits = changed(edits, at, 1, { every_days: 5 });
  assert.deepEqual(edits.map((e) => [e.care, e.remove ?? false, e.add !== undefined]), [[1, false, false], [undefined, false, true], [2, true, false], [0, true, false]]);
  assert.equal(additionsOf(edits, at).length, 1);
  assert.equal(removed(edits, at, 2).some((e) => e.care === 2), false);
});

test("a band and the salt of a wash are shown as they would be, with why as their source", () => {
  const edit: PlanEdit = { part: 1, stage: 0, set: { temperature_band: { low: 9, high: 12 }, last_day: 30 }, why: "my cellar" };
  const next = stageAfter(stage("young", { temperature_band: { low: 10, high: 13, source: "practice" } }), edit);
  assert.deepEqual([next.temperature_band, next.last_day], [{ low: 9, high: 12, source: "my cellar" }, 30]);
  const washed = careAfter(care({ wash: { salt: { low: 3, high: 5, source: "practice" }, additions: [], note: "" } }), { part: 0, stage: 0, care: 0, set: { salt: { low: 2, high: 3 } } });
  assert.deepEqual(washed.wash?.salt, { low: 2, high: 3, source: "practice" });
});

test("how often, in words; and the days that are no lateness, by the interval", () => {
  assert.equal(cadenceWord({ every_days: 1 }), "daily");
  assert.equal(cadenceWord({ every_days: 14 }), "every 14 days");
  assert.equal(cadenceWord({ on_day: 7 }), "on day 7");
  assert.equal(cadenceWord({ morning_and_evening: true }), "morning and evening");
  assert.equal(cadenceWord({}), "comes with another");
  // The bounds that the schedule itself has: under 2 days 0, under 5 days 1, to 10 days 2, longer 4; once on a day 2.
  const days: [number, number][] = [[1, 0], [2, 1], [4, 1], [5, 2], [10, 2], [11, 4]];
  for (const [every_days, tolerance] of days) assert.equal(usualTolerance({ every_days }), tolerance, String(every_days));
  assert.equal(usualTolerance({ times_a_week: 2 }), 1);
  assert.equal(usualTolerance({ times_a_week: 7 }), 0);
  assert.equal(usualTolerance({ times_a_week: 1 }), 2);
  assert.equal(usualTolerance({ on_day: 3 }), 2);
});

test("a month is summed by kinds, and its everyday stroke is the most frequent one", () => {
  const days = [{ day: "2026-11-27", kinds: ["turn" as const] }, { day: "2026-11-29", kinds: ["brush" as const, "turn" as const] }];
  assert.deepEqual(counts(days), [{ kind: "turn", count: 2 }, { kind: "brush", count: 1 }]);
  assert.equal(everyday(days), "turn");
  assert.equal(everyday([]), undefined);
});

test("a plan's file says its own name in its first lines; another text says none", () => {
  assert.deepEqual(namedIn('format = 1\nid = "barn-tomme"\nversion = 2\n'), { id: "barn-tomme", version: 2 });
  assert.deepEqual(namedIn('id = "barn-tomme"\n'), { id: "barn-tomme", version: 1 });
  assert.equal(namedIn("a shopping list"), undefined);
});

test("families stand as the round takes their rinds", () => {
  const offer = (id: string, rind: "blue" | "washed" | "fresh and white") => ({ id, version: 1, family: id, rind, rind_words: "", parts: [], cares: [], cautions: [] });
  assert.deepEqual(inRindOrder([offer("b", "blue"), offer("w", "washed"), offer("f", "fresh and white"), offer("w2", "washed")]).map((g) => g.plans.map((p) => p.id)), [["f"], ["w", "w2"], ["b"]]);
});

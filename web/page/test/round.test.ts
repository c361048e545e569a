import assert from "node:assert/strict";
import { test } from "node:test";
import type { Round, RoundLine, RoundQuestion } from "../src/api.ts";
import { overLines, overQuestions, unknownTo } from "../src/house/overlay.ts";
import { layRound } from "../src/places/round/order.ts";
import { besides, great, nextWords } from "../src/places/round/sentence.ts";
import { earlierTimes, later, onDay, sooner } from "../src/places/round/times.ts";
import type { Entry } from "../src/queue/entry.ts";
import { instantOf, setZone } from "../src/days.ts";

const line = (key: string, more: Partial<RoundLine> = {}): RoundLine => ({
  key, section: 0, minutes: 1, numbers: [1], two_people: false, look_first: [], held: false, cut: 0, rind: "natural and pressed", cave: 1, cave_name: "Cellar", place: key.toUpperCase(), wheels: [Number(key.slice(1))], lot: "", family: "tomme", day: 3, age: 3, stage: "ripening",
  wheel_state: "ripening", kinds: ["wash", "turn"], done_kinds: [], skipped_kinds: [], state: "due", due: "2026-11-26", away: false, evening: false, note: "", past_plan: false, ...more,
});
const entry = (seq: number, about: string, act: object, state: Entry["state"] = "waiting"): Entry =>
  ({ seq, about, state, tries: 0, act: { id: `id${seq}`, tapped_at: 0, ...act } as Entry["act"] });
const sign = (seq: number, about: string, done: string[], skipped: string[] = []) => entry(seq, about, { kind: "care", wheels: [1], done, skipped });

test("a tap settles the line at once, marked as waiting", () => {
  const [shown] = overLines([line("a1")], [sign(1, "a1", ["wash", "turn"])]);
  assert.equal(shown!.state, "done");
  assert.equal(shown!.waiting, true);
  assert.equal(shown!.settled_by, "id1");
});

test("in part without a reason the line stays open, with a reason it is settled", () => {
  assert.equal(overLines([line("a1")], [sign(1, "a1", ["turn"])])[0]!.state, "due");
  const settled = overLines([line("a1")], [sign(1, "a1", ["turn"], ["wash"])])[0]!;
  assert.equal(settled.state, "done");
  assert.deepEqual(settled.skipped_kinds, ["wash"]);
});

test("an undo opens the line again, late if it was late, and it can be signed anew", () => {
  const entries = [sign(1, "a1", ["wash", "turn"]), entry(2, "a1", { kind: "undo", of: "id1" })];
  assert.equal(overLines([line("a1", { late_since: "2026-11-24", state: "late" })], entries)[0]!.state, "late");
  const again = overLines([line("a1")], [...entries, sign(3, "a1", ["wash", "turn"])])[0]!;
  assert.equal(again.settled_by, "id3");
});

test("an undo of what another phone has done opens that line", () => {
  const done = line("a1", { state: "done", settled_by: "theirs", done_kinds: ["wash", "turn"], keeper: "TR" });
  const [shown] = overLines([done], [entry(1, "a1", { kind: "undo", of: "theirs" })]);
  assert.equal(shown!.state, "due");
  assert.equal(shown!.keeper, undefined);
});

test("only what the answer cannot know is laid over it, and nothing that was refused", () => {
  const acked = { ...sign(1, "a1", ["turn"], []), state: "acked" as const, acked_at: 50 };
  assert.deepEqual(unknownTo(40, [acked]), [acked]);
  assert.deepEqual(unknownTo(60, [acked]), []);
  assert.deepEqual(unknownTo(0, [{ ...acked, state: "refused" }]), []);
});

test("the line at hand is the first unsettled one; a line just signed keeps its place", () => {
  const lines = overLines([line("a1", { state: "done" }), line("a2"), line("a3")], []);
  assert.equal(layRound(lines, []).at_hand, "a2");
  const signed = overLines([line("a1", { state: "done" }), line("a2"), line("a3")], [sign(1, "a2", ["wash", "turn"])]);
  assert.equal(layRound(signed, [], "a2").at_hand, "a2");
  assert.equal(layRound(signed, []).at_hand, "a3");
  assert.equal(layRound(signed, []).left, 1);
});

test("rinds are named once for each run of lines", () => {
  const lines = overLines([line("a1", { state: "done", rind: "fresh and white" }), line("a2", { rind: "fresh and white" }), line("a3", { rind: "washed" })], []);
  const laid = layRound(lines, []);
  assert.deepEqual([...laid.before, ...laid.after].map((r) => r.kind), ["rind", "line", "line", "rind", "line"]);
});

test("a question stands before the open line of its wheels, one without a line below the lines", () => {
  const question = (key: string, wheels: number[]): RoundQuestion => ({ key, section: 0, cave: 1, place: "none", wheels, lot: "", family: "tomme", day: 2, wheel_state: "drying", kind: "start", start: "dry", text: "Dry?" });
  const laid = layRound(overLines([line("a1"), line("a2")], []), overQuestions([question("q1", [2]), question("q2", [9])], []));
  assert.deepEqual(laid.after.map((r) => (r.kind === "line" ? r.line.key : r.kind === "question" ? r.question.key : r.rind)), ["natural and pressed", "a1", "q1", "a2", "q2"]);
  assert.equal(laid.questions, 2);
});

test("what stands before a line just signed stays before it until it is let go", () => {
  const question: RoundQuestion = { key: "q", section: 0, cave: 1, place: "A2", wheels: [2], lot: "", family: "tomme", day: 2, wheel_state: "drying", kind: "start", start: "dry", text: "Dry?" };
  const lines = overLines([line("a1"), line("a2"), line("a3")], [sign(1, "a2", ["wash", "turn"])]);
  const rows = (held?: string) => layRound(lines, [question], held).after.flatMap((r) => (r.kind === "line" ? r.line.key : r.kind === "question" ? r.question.key : []));
  assert.deepEqual(rows("a2"), ["a1", "q", "a2", "a3"]);
  assert.deepEqual(rows(), ["a1", "a2", "a3", "q"]);
});

const said = (sentence: string, more: Partial<Round> = {}) => ({ lines: [], questions: [], open: [], head: { day: "2026-11-26", sentence } as Round["head"], ...more }) as Round;

test("what is unknown or out of band is said however much is done", () => {
  assert.equal(besides(said("All done for today. Next: Friday, A1. Box 1 is too damp. Cellar is unknown.")), "Box 1 is too damp. Cellar is unknown.");
  assert.equal(besides(said("Five left. One question. Fridge too warm since 04:20. Box 1 drifts damp.")), "Box 1 drifts damp.");
});

test("all is done for today only if nothing is asked later today", () => {
  const next = (day: string): Partial<Round> => ({ next: { day, lines: [{ place: "Counter", kinds: ["turn"], count: 1 }] } });
  const evening = said("", next("2026-11-26"));
  assert.deepEqual([great(evening, 0, 3), nextWords(evening, 0)], ["All done for now.", "This evening: Counter."]);
  const friday = said("", next("2026-11-27"));
  assert.deepEqual([great(friday, 0, 3), great(friday, 0, 0), nextWords(friday, 0)], ["All done for today.", "Nothing to do today.", "Next: Friday, Counter."]);
  assert.deepEqual([great(friday, 2, 3), nextWords(friday, 2)], ["Two left.", ""]);
});

test("earlier times lie behind now, by the wall of the house", () => {
  setZone("Europe/Zurich");
  const now = instantOf("2026-11-26", 7, 14);
  assert.deepEqual(earlierTimes(now, "2026-11-26").map((o) => o.word), ["yesterday morning", "last night", "this morning", "just now"]);
  assert.deepEqual(earlierTimes(instantOf("2026-11-26", 6, 0), "2026-11-26").map((o) => o.word), ["yesterday morning", "last night", "just now"]);
  assert.equal(later(now - 60_000, now), now);
  assert.equal(now - sooner(now), 1_800_000);
  assert.equal(onDay(instantOf("2026-11-26", 6, 30), "2026-11-24", now), instantOf("2026-11-24", 6, 30));
});

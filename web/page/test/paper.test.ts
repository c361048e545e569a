import assert from "node:assert/strict";
import { test } from "node:test";
import type { Round, RoundLine, RoundQuestion } from "../src/api.ts";
import { instantOf, setZone } from "../src/days.ts";
import { overLines } from "../src/house/overlay.ts";
import { actsOf, openOf } from "../src/places/paper/acts.ts";
import { numberedOf, paperRows } from "../src/places/paper/numbered.ts";
import { instantOfStamp, printedWord, stampOf } from "../src/places/paper/sheets.ts";
import { answersOf, numbersIn, parsePaper, type Sheet } from "../src/places/paper/parse.ts";

setZone("Europe/Zurich");
const kDay = "2026-11-28";
const now = instantOf(kDay, 9, 0);

const line = (number: number, more: Partial<RoundLine> = {}): RoundLine => ({
  key: `l${number}`, section: 0, minutes: 2, numbers: [1, 2, 3, 4], two_people: false, look_first: [], held: false, cut: 0, rind: "natural and pressed", cave: 1, cave_name: "Cellar", place: `A${number}`,
  wheels: [1, 2, 3, 4].map((w) => number * 10 + w), lot: "", lot_here: 4, family: "tomme", day: 3, age: 3, stage: "ripening", wheel_state: "ripening", kinds: ["wash", "turn"], done_kinds: [], skipped_kinds: [], state: "due",
  due: kDay, away: false, evening: false, note: "", past_plan: false, ...more,
});
const question = (more: Partial<RoundQuestion> = {}): RoundQuestion =>
  ({ key: "q", section: 0, cave: 1, place: "A2", wheels: [99], lot: "", family: "tomme", day: 2, wheel_state: "drying", kind: "start", start: "dry", text: "Dry to the touch?", ...more });

function round(lines: RoundLine[], questions: RoundQuestion[] = []): Round {
  return { head: { day: kDay } as Round["head"], day: kDay, expected: false, lines, questions, sections: [{ rind: "natural and pressed", marked: false, change: [], minutes: 0 }], minutes: 0,
    bring: { washes: [], cloths: 0, tools: [], two_people: false, mask: false }, coming: [], shares: [], open: [] };
}
const sheet = (of: Round, more: Partial<Sheet> = {}): Sheet => ({ rows: numberedOf(paperRows(of)), day: kDay, now, keepers: ["IH", "TR"], me: "", ...more });
const seven = round([1, 2, 3, 4, 5, 6, 7].map((n) => line(n)));
const said = (text: string, of = seven, more: Partial<Sheet> = {}) => parsePaper(text, sheet(of, more));

test("lines are numbered in working order with their questions; what was settled before it was printed has no number", () => {
  const rows = numberedOf(paperRows(round([line(1, { state: "done", settled_at: 5 }), line(2), line(3)], [question()])));
  assert.deepEqual(rows.map((r) => [r.number, r.kind === "line" ? r.line.key : r.question.key]), [[1, "q"], [2, "l2"], [3, "l3"]]);
});

test("numbers, an hour, initials", () => {
  const { said: all, troubles } = said("1 3-7, 07:40, IH");
  assert.deepEqual(troubles, []);
  assert.deepEqual(all.map((s) => s.row.number), [1, 3, 4, 5, 6, 7]);
  assert.ok(all.every((s) => s.at === instantOf(kDay, 7, 40) && s.keeper === "IH"));
  assert.deepEqual(all[0]!.done, ["wash", "turn"]);
});

test("good ways to write it", () => {
  const good: [string, number[]][] = [
    ["1 3-7 07:40 IH", [1, 3, 4, 5, 6, 7]], ["1, 3 - 7, 7.40, ih", [1, 3, 4, 5, 6, 7]], ["2–3, 7h40 TR", [2, 3]], ["07:40, IH, 5", [5]],
    ["1, 07:40, IH\n2, 07:50\n3", [1, 2, 3]], ["1, 07:40, IH; 2, 07:50, TR", [1, 2]], ["  1 ,, 07:40,IH ", [1]],
  ];
  for (const [text, numbers] of good) {
    const { said: all, troubles } = said(text);
    assert.deepEqual([all.map((s) => s.row.number), troubles], [numbers, []], text);
  }
});

test("hour and initials hold until others are written", () => {
  const { said: all } = said("1, 07:40, IH\n2\n3, 07:50\n4, TR");
  assert.deepEqual(all.map((s) => [(s.at - instantOf(kDay, 7, 0)) / 60_000, s.keeper]), [[40, "IH"], [40, "IH"], [50, "IH"], [50, "TR"]]);
});

test("what cannot be read says why, and leaves the other entries", () => {
  const bad: [string, RegExp][] = [
    ["9, 07:40, IH", /no line 9/], ["1, IH", /Which hour/], ["1, 07:40", /Whose initials/], ["1, 07:40, XX", /IH, TR/], ["1, 25:00, IH", /no hour/], ["1, 12:00, IH", /ahead/],
    ["7-3, 07:40, IH", /lower to the higher/], ["1-9999, 07:40, IH", /lower to the higher/], ["1 banana, 07:40, IH", /cannot be read/], ["hello world", /cannot be read/],
    ["1 not 7, 07:40, IH", /No wheel 7/], ["1 not done, 07:40, IH", /why/], ["1 wash only, 07:40, IH", /cannot be read/],
  ];
  for (const [text, why] of bad) {
    const { said: all, troubles } = said(`${text}\n2, 07:50, TR`);
    assert.equal(troubles.length, 1, text);
    assert.match(troubles[0]!.what, why);
    assert.deepEqual(all.map((s) => s.row.number), [2], text);
  }
  assert.match(said("1 1, 07:40, IH").troubles[0]!.what, /twice/);
});

test("one keeper alone needs no initials; the phone's own keeper is meant where none are written", () => {
  assert.deepEqual(said("1, 07:40", seven, { keepers: [] }).troubles, []);
  assert.equal(said("1, 07:40, tr", seven, { keepers: [] }).said[0]!.keeper, "TR");
  assert.equal(said("1, 07:40", seven, { me: "TR" }).said[0]!.keeper, "TR");
});

test("after midnight it is still the evening before; before the day turns nothing lies ahead", () => {
  const late = instantOf("2026-11-29", 2, 0);
  const { said: all, troubles } = said("1, 01:30, IH\n2, 22:10", seven, { now: late });
  assert.deepEqual(troubles, []);
  assert.deepEqual(all.map((s) => s.at), [instantOf("2026-11-29", 1, 30), instantOf(kDay, 22, 10)]);
});

test("wheels left out, a line not done, a care in part", () => {
  const { said: all, troubles } = said("4 not 2 4: sticks, 07:40, IH\n5 not done: no time\n3 turn only: rind wet\n2 turn only\n1 without 1-2");
  assert.deepEqual(troubles, []);
  const of = (number: number) => all.find((s) => s.row.number === number)!;
  assert.deepEqual([of(4).left, of(4).reason, of(4).done], [[42, 44], "sticks", ["wash", "turn"]]);
  assert.deepEqual([of(5).done, of(5).skipped, of(5).reason], [[], ["wash", "turn"], "no time"]);
  assert.deepEqual([of(3).done, of(3).skipped, of(3).reason], [["turn"], ["wash"], "rind wet"]);
  assert.deepEqual([of(2).done, of(2).skipped], [["turn"], []]);
  assert.deepEqual(of(1).left, [11, 12]);
});

test("questions are answered in the words that are printed beside them", () => {
  const dry = round([line(2)], [question()]);
  assert.equal(said("1 dry, 07:40, IH", dry).said[0]!.answer, "dry");
  assert.equal(said("1 yes, 07:40, IH", dry).said[0]!.answer, "dry");
  assert.equal(said("1 not yet, 07:40, IH", dry).said[0]!.answer, "not yet");
  assert.match(said("1, 07:40, IH", dry).troubles[0]!.what, /dry \/ not yet/);
  const branch = round([], [question({ kind: "branch", options: ["eat young", "keep on"] })]);
  assert.equal(said("1 Keep on, 07:40, IH", branch).said[0]!.answer, "keep on");
  const where = round([], [question({ start: "entered box", where: [{ cave: 2, cave_name: "Box 1" }, { cave: 3, cave_name: "Box 2" }] })]);
  assert.deepEqual(answersOf(numberedOf(paperRows(where))[0] as never), ["Box 1", "Box 2", "not yet"]);
  assert.equal(said("1 box 2, 07:40, IH", where).said[0]!.answer, "Box 2");
  assert.match(said("1 yes, 07:40, IH", where).troubles[0]!.what, /Box 1/);
});

test("what is read becomes acts at the hour of the paper, without what was signed meanwhile", () => {
  const { said: all } = said("1 3, 07:40, IH\n4 not 2: sticks");
  const present = overLines([line(1, { state: "done", settled_at: 5 }), line(3, { state: "done", settled_at: 5, wheels: [31, 32], numbers: [1, 2] }), line(3, { key: "rest", wheels: [33, 34], numbers: [3, 4] }), line(4)], []);
  const open = all.map((s) => openOf(s, present));
  assert.deepEqual(open, [[], [33, 34], [41, 42, 43, 44]]);
  const acts = all.flatMap((s, i) => actsOf(s, open[i]!));
  assert.deepEqual(acts.map((a) => a.kind === "care" && [a.wheels, a.done, a.keeper, a.left]), [[[33, 34], ["wash", "turn"], "IH", undefined], [[41, 43, 44], ["wash", "turn"], "IH", { wheels: [42], why: "sticks" }]]);
  const skipped = said("5 not done: no time, 07:40, IH").said[0]!;
  const [skip] = actsOf(skipped, [51]);
  assert.ok(skip?.kind === "care");
  assert.deepEqual([skip.done, skip.skipped, skip.reason], [[], ["wash", "turn"], "no time"]);
});

test("an answer on paper names its day; not yet is no act", () => {
  const dry = round([], [question({ start: "entered box", where: [{ cave: 2, cave_name: "Box 1" }] })]);
  const [act] = actsOf(said("1 box 1, 07:40, IH", dry).said[0]!, [99]);
  assert.ok(act?.kind === "answer" && "start" in act);
  assert.deepEqual([act.start, act.day, act.move_to], ["entered box", kDay, { cave: 2 }]);
  assert.deepEqual(actsOf(said("1 not yet, 07:40, IH", dry).said[0]!, [99]), []);
});

test("whatever is typed is read or complained about, and never breaks", () => {
  const pieces = ["1", "3-7", "not", "2", "07:40", "IH", ",", ";", "\n", "dry", "only", ":", "turn", "–", "999", "99:99", "", " ", "é", "not done", "'"];
  let seed = 7;
  const next = () => (seed = (seed * 1664525 + 1013904223) % 4294967296) / 4294967296;
  for (let i = 0; i < 3000; i += 1) {
    const text = Array.from({ length: 1 + Math.floor(next() * 9) }, () => pieces[Math.floor(next() * pieces.length)]).join(next() < 0.5 ? " " : "");
    const { said: all } = said(text);
    assert.equal(new Set(all.map((s) => s.row.number)).size, all.length, text);
    assert.ok(all.every((s) => s.at <= now && s.row.number >= 1 && s.row.number <= 7), text);
  }
});

test("ranges", () => {
  assert.deepEqual(numbersIn("1 3-5 9"), [1, 3, 4, 5, 9]);
  assert.throws(() => numbersIn("5-3"));
});

test("the instant at the foot of a sheet is read as it is printed; without seconds it is the end of its minute", () => {
  const at = instantOf(kDay, 7, 14) + 50_000;
  assert.equal(stampOf(at), "07:14:50");
  assert.equal(instantOfStamp(kDay, "07:14:50"), at);
  assert.equal(instantOfStamp(kDay, " 7.14 "), instantOf(kDay, 7, 15) - 1000);
  assert.equal(instantOfStamp(kDay, "01:30:00"), instantOf(kDay, 1, 30), "past midnight the date on the wall");
  assert.equal(printedWord(instantOf("2026-11-29", 1, 30)), "29\u00a0Nov 01:30:00");
  for (const text of ["", "7", "24:00", "07:61", "07:14:70", "noon"]) assert.equal(instantOfStamp(kDay, text), undefined, text);
});

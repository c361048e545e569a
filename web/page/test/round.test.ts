import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import type { Alarm, Round, RoundLine, RoundQuestion, RoundSection } from "../src/api.ts";
import { overLines, overQuestions, unknownTo } from "../src/house/overlay.ts";
import { layRound } from "../src/places/round/order.ts";
import { washParts, toolWords } from "../src/places/round/bring.ts";
import { keeperOf, overShares } from "../src/places/round/shares.ts";
import { summed, sumOf } from "../src/places/round/sum.ts";
import { whichDay } from "../src/parts/names.ts";
import { numbersWords, partsOf, whatWords } from "../src/places/round/what.ts";
import { alarmFirst, great, nextWords } from "../src/places/round/sentence.ts";
import { earlierTimes, later, onDay, sooner } from "../src/places/round/times.ts";
import type { Entry } from "../src/queue/entry.ts";
import { instantOf, setZone } from "../src/days.ts";

const line = (key: string, more: Partial<RoundLine> = {}): RoundLine => ({
  key, section: 0, minutes: 1, numbers: [1], two_people: false, look_first: [], held: false, cut: 0, rind: "natural and pressed", cave: 1, cave_name: "Cellar", place: key.toUpperCase(), wheels: [Number(key.slice(1))], lot: "", lot_here: more.wheels?.length ?? 1, family: "tomme", day: 3, age: 3, stage: "ripening",
  wheel_state: "ripening", kinds: ["wash", "turn"], done_kinds: [], skipped_kinds: [], state: "due", due: "2026-11-26", away: false, evening: false, note: "", past_plan: false, ...more,
});
const kSections: RoundSection[] = [
  { rind: "natural and pressed", marked: false, change: [], minutes: 0 },
  { rind: "washed", marked: false, change: ["gloves", "cloth", "wash"], minutes: 1 },
];
const entry = (seq: number, about: string, act: object, state: Entry["state"] = "waiting"): Entry =>
  ({ seq, about, state, tries: 0, act: { id: `id${seq}`, tapped_at: 0, ...act } as Entry["act"] });
const sign = (seq: number, about: string, done: string[], skipped: string[] = []) => entry(seq, about, { kind: "care", wheels: [Number(about.slice(1))], done, skipped });

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
  assert.equal(layRound(lines, [], kSections).at_hand, "a2");
  const signed = overLines([line("a1", { state: "done" }), line("a2"), line("a3")], [sign(1, "a2", ["wash", "turn"])]);
  assert.equal(layRound(signed, [], kSections, { held: "a2" }).at_hand, "a2");
  assert.equal(layRound(signed, [], kSections).at_hand, "a3");
  assert.equal(sumOf(signed, kSections).left, 1);
});

const names = (rows: ReturnType<typeof layRound>["after"]) => rows.map((r) => (r.kind === "line" ? r.line.key : r.kind === "question" ? r.question.key : r.section.rind));

test("sections are named once for each run of lines, also where the line at hand begins one", () => {
  const lines = overLines([line("a1", { state: "done" }), line("a2"), line("a3", { section: 1 })], []);
  const laid = layRound(lines, [], kSections);
  assert.deepEqual([names(laid.before), names(laid.after)], [["natural and pressed", "a1"], ["a2", "washed", "a3"]]);
  const next = layRound(overLines([line("a1", { state: "done" }), line("a3", { section: 1 })], []), [], kSections);
  assert.deepEqual(names(next.after), ["washed", "a3"]);
});

test("a question stands before the open line of its wheels, one without a line below the lines", () => {
  const question = (key: string, wheels: number[]): RoundQuestion => ({ key, section: 0, cave: 1, place: "none", wheels, lot: "", family: "tomme", day: 2, wheel_state: "drying", kind: "start", start: "dry", text: "Dry?" });
  const laid = layRound(overLines([line("a1"), line("a2")], []), overQuestions([question("q1", [2]), question("q2", [9])], []), kSections);
  assert.deepEqual(names(laid.after), ["natural and pressed", "a1", "q1", "a2", "q2"]);
  const later = layRound(overLines([line("a1"), line("a2", { section: 1 })], []), [question("q2", [9])], kSections);
  assert.deepEqual(names(later.after), ["natural and pressed", "a1", "q2", "washed", "a2"], "in its section");
  const mixed = overLines([{ ...line("a1", { section: 1 }), place: "Box 2" }, { ...line("a2", { section: 1 }), place: "Box 3" }], []);
  const white = layRound(mixed, [{ ...question("q3", [9]), place: "Box 3" }], kSections);
  assert.deepEqual(names(white.after), ["natural and pressed", "q3", "washed", "a1", "a2"], "not down to where others of its box are asked for");
  assert.equal(laid.questions, 2);
});

const dry = (key: string, wheels: number[], more: Partial<RoundQuestion> = {}): RoundQuestion => ({ key, section: 0, cave: 1, place: "A2", wheels, lot: "", family: "tomme", day: 2, wheel_state: "drying", kind: "start", start: "dry", text: "Dry?", ...more });

test("a question keeps its place while lines are signed, and now stands before it as long as it is open", () => {
  const lines = [line("a1"), line("a2"), line("a3"), line("b4", { section: 1 })];
  const shown = (signed: string[], question = dry("q", [2]), held?: string) => layRound(overLines(lines, signed.map((key, i) => sign(i + 1, key, ["wash", "turn"]))), [question], kSections, { held });
  assert.deepEqual(names(shown([]).after), ["natural and pressed", "a1", "q", "a2", "a3", "washed", "b4"]);
  assert.deepEqual(names(shown(["a2"], undefined, "a2").after), ["natural and pressed", "a1", "q", "a2", "a3", "washed", "b4"]);
  // Its own line and later ones are signed: it does not jump behind the washed rinds, and their gloves stand once.
  for (const signed of [["a1", "a2"], ["a1", "a2", "a3"]]) {
    const laid = shown(signed);
    assert.deepEqual([names(laid.before), names(laid.after)], [["natural and pressed", "a1"], ["q", "a2", "a3", "washed", "b4"]]);
    assert.equal(laid.at_hand, signed.includes("a3") ? "b4" : "a3");
  }
  // One of wheels that have no line stands where the house says.
  assert.deepEqual(names(shown(["a1", "a2"], dry("q", [9], { before: "a2" })).after), ["q", "a2", "a3", "washed", "b4"]);
  // Once it is answered it holds nobody up.
  const answered = { ...dry("q", [2]), answered: { word: "dry", later: false, waiting: false, entry: entry(9, "q", { kind: "answer", wheels: [2], start: "dry" }) } };
  const after = (held?: string) => names(layRound(overLines(lines, [sign(1, "a1", ["wash", "turn"]), sign(2, "a2", ["wash", "turn"])]), [answered], kSections, { held }).after);
  assert.deepEqual(after("q"), ["q", "a2", "a3", "washed", "b4"], "not while the thumb is there");
  assert.deepEqual(after(), ["a3", "washed", "b4"]);
});

test("a question at what another keeper took holds nobody up", () => {
  const lines = overLines([line("a1"), line("a2"), line("a3")], []);
  const laid = layRound(lines, [dry("q", [1])], kSections, { theirs: (l) => l.key === "a1" });
  assert.deepEqual([names(laid.before), names(laid.after)], [["natural and pressed", "q", "a1"], ["a2", "a3"]]);
});

const round = (more: Partial<Round> = {}) => ({ lines: [], questions: [], open: [], head: { day: "2026-11-26" } as Round["head"], ...more }) as Round;

test("all is done for today only if nothing is asked later today", () => {
  const next = (day: string): Partial<Round> => ({ next: { day, lines: [{ place: "Counter", kinds: ["turn"], count: 1 }] } });
  const sum = (left: number, minutes = 0) => ({ left, minutes });
  const evening = round(next("2026-11-26"));
  assert.deepEqual([great(evening, sum(0), 3), nextWords(evening, 0)], ["All done for now.", "This evening: Counter."]);
  const friday = round(next("2026-11-27"));
  assert.deepEqual([great(friday, sum(0), 3), great(friday, sum(0), 0), nextWords(friday, 0)], ["All done for today.", "Nothing to do today.", "Next: Friday, Counter."]);
  assert.deepEqual([great(friday, sum(2), 3), nextWords(friday, 2)], ["Two left.", ""]);
  assert.equal(great(friday, sum(2, 15), 3), "Two left, 15 minutes.");
  const barred = { ...friday, lines: [{ barred: "gas" }] as Round["lines"] };
  assert.equal(great(barred, sum(0), 1), "", "what gas bars is not done");
});

test("while an alarm asks for a hand it comes first, whatever is done; once it is taken, or back inside, the work does", () => {
  const alarm = (more: Partial<Alarm> = {}) => ({ id: "a", kind: "too warm", severity: "act", cave: 1, cave_name: "Fridge", since: 0, raised: 0, wheels: [], concerns: [], first: [], found_later: false, ...more }) as Alarm;
  assert.equal(alarmFirst([alarm({ severity: "watch" }), alarm()]), "The alarm first.");
  assert.equal(alarmFirst([alarm(), alarm({ kind: "ammonia", taken: 1 })]), "Gas first.");
  for (const calm of [{ taken: 1 }, { over: 1 }, { inside: true }, { severity: "watch" }, { kind: "ammonia", over: 1 }] as Partial<Alarm>[]) assert.equal(alarmFirst([alarm(calm)]), "");
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

test("those left out stay due with their share of the minutes; an undo joins them again", () => {
  const whole = line("a1", { wheels: [1, 2, 3, 4], numbers: [1, 2, 3, 4], minutes: 8 });
  const act = entry(1, "a1", { kind: "care", wheels: [1, 3, 4], done: ["wash", "turn"], skipped: [], left: { wheels: [2], why: "sticks" } });
  const [done, left] = overLines([whole], [act]);
  assert.deepEqual([done!.state, done!.wheels, done!.numbers], ["done", [1, 3, 4], [1, 3, 4]]);
  assert.deepEqual([left!.state, left!.wheels, left!.numbers, left!.minutes], ["due", [2], [2], 2]);
  assert.equal(overLines([whole], [act, entry(2, "a1", { kind: "undo", of: "id1" })]).length, 1);
  const both = overLines([whole], [act, entry(3, left!.key, { kind: "care", wheels: [2], done: ["wash", "turn"], skipped: [] })]);
  assert.deepEqual(both.map((l) => l.state), ["done", "done"]);
});

test("a tap of one kind after a tap of another adds to it, and taking back the second leaves the first", () => {
  const taps = [sign(1, "a1", ["turn"]), sign(2, "a1", ["wash"])];
  assert.equal(overLines([line("a1")], taps)[0]!.state, "done");
  const back = overLines([line("a1")], [...taps, entry(3, "a1", { kind: "undo", of: "id2" })])[0]!;
  assert.deepEqual([back.state, back.done_kinds], ["due", ["turn"]]);
});

test("wheels that are gone lie on no line, and a fault stands beside its line until the house knows of it", () => {
  const lines = [line("a1"), line("a2", { wheels: [2, 3] })];
  const shown = overLines(lines, [entry(1, "gone", { kind: "gone", wheels: [1, 3], how: "eaten" }), entry(2, "fault", { kind: "fault", what: "crack", wheels: [2], of: 2, agreed: true })]);
  assert.deepEqual(shown.map((l) => [l.key, l.wheels, l.noted]), [["a2", [2], "crack"]]);
});

test("the sum is never less than the lines as they are shown and the changes", () => {
  assert.equal(summed([{ minutes: 0.52 }, { minutes: 0.52 }], [{ minutes: 1 }]), 3);
  assert.equal(summed([{ minutes: 0.2 }, { minutes: 0.2 }, { minutes: 0.2 }], []), 1);
  assert.equal(summed([{ minutes: 0.05 }], []), 1);
  assert.equal(summed([{ minutes: 1.48 }, { minutes: 0.48 }, { minutes: 0.48 }], []), 2);
  assert.equal(summed([], []), 0);
});

test("the sum counts changes still to come, and nothing of what another keeper took or what was put off", () => {
  const lines = overLines([line("a1", { minutes: 5 }), line("a2", { minutes: 0.4 }), line("a3", { section: 1, minutes: 2 })], []);
  assert.deepEqual(sumOf(lines, kSections), { left: 3, minutes: 8, changes: 1 });
  assert.deepEqual(sumOf(lines, kSections, (l) => l.key !== "a3"), { left: 2, minutes: 5, changes: 0 });
  const begun = overLines([...lines.slice(0, 2), line("a3", { section: 1, state: "done", settled_at: 5 }), line("a4", { section: 1, minutes: 2 })], []);
  assert.equal(sumOf(begun, kSections).changes, 0, "in those gloves already");
  assert.deepEqual(sumOf([], kSections), { left: 0, minutes: 0, changes: 0 });
});

test("the line at hand is mine; what was put off stands apart and can still be signed", () => {
  const lines = overLines([line("a1"), line("a2"), line("a3")], []);
  const laid = layRound(lines, [], kSections, { theirs: (l) => l.key === "a1", waits: (l) => l.key === "a2" });
  assert.deepEqual([laid.at_hand, names(laid.before), names(laid.after), laid.waits.map((l) => l.key)], ["a3", ["natural and pressed", "a1"], ["a3"], ["a2"]]);
  const signed = overLines(lines, [sign(1, "a2", ["wash", "turn"])]);
  assert.deepEqual(layRound(signed, [], kSections, { waits: (l) => l.key === "a2" }).waits, []);
});

test("who has a line: by itself before by its room; what one takes is no other's any more", () => {
  const given = [{ keeper: "TR", caves: [1], lines: ["a9"] }];
  assert.equal(keeperOf({ key: "a1", cave: 1 }, given), "TR");
  assert.equal(keeperOf({ key: "a1", cave: 2 }, given), undefined);
  const mine = overShares(given, [entry(1, "share", { kind: "share", day: "2026-11-26", by: "IH", caves: [], lines: ["a1"] })], "2026-11-26");
  assert.deepEqual([keeperOf({ key: "a1", cave: 1 }, mine), keeperOf({ key: "a2", cave: 1 }, mine)], ["IH", "TR"]);
  const all = overShares(mine, [entry(2, "share", { kind: "share", day: "2026-11-26", by: "IH", caves: [1], lines: [] })], "2026-11-26");
  assert.equal(keeperOf({ key: "a2", cave: 1 }, all), "IH");
  assert.equal(keeperOf({ key: "a9", cave: 7 }, all), "TR");
});

test("what to bring: mixings alike are said once, tools in a row", () => {
  const wash = (salt_grams: number, water_ml: number, ...places: string[]) => ({ salt_grams, water_ml, total_grams: salt_grams + water_ml, percent: 3, additions: [], wheels: 3, places, note: "" });
  assert.deepEqual(washParts([wash(15.6, 500, "A1"), wash(16.2, 500, "Box 2")]), [{ times: "twice", strong: "16\u00a0g salt in 500\u00a0mL", rest: "water" }]);
  assert.deepEqual(washParts([wash(3.55, 100, "A1"), { ...wash(0, 200, "Box 2"), additions: [{ name: "whey", ml: 2 }] }]),
    [{ times: "", strong: "3.6\u00a0g salt in 100\u00a0mL", rest: "water: for A1" }, { times: "", strong: "200\u00a0mL", rest: "water, 2\u00a0mL whey: for Box 2" }]);
  assert.deepEqual(washParts([wash(15, 361, "B1", "B2", "B3", "B4"), wash(4, 96, "W5"), wash(4, 96, "W5", "W6")]).map((part) => part.rest),
    ["water: for B1 to B4", "water: for W5, W5, W6"], "two strengths of one rind are told apart by their shelves");
  assert.equal(toolWords({ washes: [], cloths: 3, tools: ["soft brush"], two_people: false, mask: true }), "3\u00a0cloths, soft brush, mask (FFP2)", "a line breaks between things, never inside one");
});

test("under the verb stands first what the eye must know", () => {
  assert.equal(whatWords(line("a1", { lot: "214", day: 26 })), "Tomme, lot\u00a0214, day 26");
  assert.equal(whatWords(line("a1", { late_since: "2026-11-20", look_first: ["slimy", "stuck"], note: "A damp cloth." })), "Look first: slimy? stuck? A damp cloth");
  assert.equal(whatWords(line("a1", { note: "A damp cloth." }), true), "Tomme, day 3");
  const three = { numbers: [7, 2, 6], wheels: [1, 2, 3], lot_here: 16 };
  assert.equal(whatWords(line("a1", { ...three, marked: "mite dust", held: true })), "2, 6, 7: mite dust. Held");
  assert.equal(whatWords(line("a1", { marked: "soft" })), "Tomme, day 3, soft, slumped");
  assert.equal(whatWords(line("a1", { lot: "5", new_cadence: "now twice a week", cut: 1 })), "Tomme, lot\u00a05, day 3. 1 cut: not on the face. Now twice a week");
  assert.equal(whatWords(line("a1", { found_at: [{ what: "mite dust", place: "A2" }] })), "Tomme, day 3. Mite dust, found at A2");
  assert.equal(whatWords(line("a1", { kinds: ["wrap"], then: { low: 2, high: 6 } })), "Tomme, day 3. Then to 2\u00a0to\u00a06\u00a0°C");
  assert.equal(whatWords(line("a1", { barred: "gas" })), "Not now: gas first, stay out. Tomme, day 3");
  assert.equal(whatWords(line("a1", { barred: "power" })), "Not now: power first, keep it shut. Tomme, day 3");
});

test("a part of a lot on its shelf is told by its numbers from the door; a whole one is not", () => {
  const of = (numbers: number[], lot_here: number) => line("a5", { numbers, wheels: numbers, lot_here, lot: "228", day: 45 });
  assert.equal(whatWords(of([7, 3], 16)), "3, 7: tomme, lot\u00a0228, day 45");
  assert.equal(whatWords(of([3, 7], 2)), "Tomme, lot\u00a0228, day 45");
  assert.equal(whatWords({ ...of([3, 7], 16), late_since: "2026-11-20", look_first: ["slimy"] }), "3, 7: Look first: slimy?");
  assert.equal(numbersWords([12, 1, 2, 3, 4, 6, 7, 13, 14]), "1\u00a0to\u00a04, 6, 7, 12\u00a0to\u00a014");
  const [gone] = overLines([of([1, 2, 3], 3)], [entry(1, "gone", { kind: "gone", wheels: [2], how: "eaten" })]);
  assert.equal(whatWords(gone!), "Tomme, lot\u00a0228, day 45", "those that are gone are no part left out");
});

test("what can be done of a line without the rest: the leading care is never without those that it brings", () => {
  assert.deepEqual(partsOf(["turn"]), []);
  assert.deepEqual(partsOf(["wash", "turn"]), [["turn"]]);
  assert.deepEqual(partsOf(["wash", "turn", "pat"]), [["turn"], ["pat"], ["turn", "pat"]]);
});

test("the first days of a later part say since what they are counted", () => {
  assert.equal(whichDay({ day: 2, since: "entered box" }), "day 2 in the box");
  assert.equal(whichDay({ day: 26 }), "day 26");
  // Every place says it by this function, but where a plan's own days are meant.
  const places = new URL("../src/places/", import.meta.url);
  const files = readdirSync(places, { recursive: true }).map(String).filter((name) => /\.tsx?$/.test(name) && !name.startsWith("plans"));
  assert.ok(files.length > 50);
  assert.deepEqual(files.filter((name) => readFileSync(new URL(name, places), "utf8").includes('"day.number"')), []);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { JournalLine } from "../src/api.ts";
import { careHour, setZone } from "../src/days.ts";
import { dated } from "../src/places/journal/dated.ts";
import { once } from "../src/places/journal/once.ts";
import { dayName } from "../src/places/journal/line.tsx";
import { besideText, textOf } from "../src/places/journal/text.tsx";

const at = Date.parse("2026-11-26T06:14:00Z");
const line = (kind: JournalLine["kind"], more: Partial<JournalLine> = {}): JournalLine => ({ position: 1, id: "1", at, received_at: at, kind, late_entry: false, undone: false, count: 0, ...more });

test("a watch that was gone for less than two minutes only began", () => {
  setZone("UTC");
  const began = (minutes?: number) => textOf(line("started", minutes === undefined ? {} : { unwatched: { from: at - minutes * 60_000, to: at } })).print;
  assert.deepEqual([began(), began(0), began(1.9)], ["The watch began.", "The watch began.", "The watch began."]);
  assert.equal(began(2), "The watch began again. Nobody had watched 06:12 to 06:14.");
});

test("a clock that went on by far more than time did says from when to when", () => {
  setZone("UTC");
  assert.equal(textOf(line("leapt", { unwatched: { from: at - 86_400_000, to: at } })).print, "From Wed\u00a006:14 to 06:14 this machine slept, or its clock was set forward.");
});

test("an alarm that became graver says what is asked of the keeper", () => {
  const graver = line("alarm", { cave_name: "Fridge", alarm: { id: "2", kind: "too warm", severity: "act", change: "severity", since: at, extreme: 16, dose: 3, value: 16, found_later: false } });
  assert.equal(textOf(graver).print, "Fridge too warm: it is time to act.");
});

test("what is over says how it ended by what it rang for: back in band only where it had left it", () => {
  const over = (more: object) => textOf(line("alarm", { cave_name: "Fridge", alarm: { id: "2", kind: "too warm", severity: "act", change: "over", since: at - 7_200_000, extreme: 13.4, dose: 0, value: 13.4, found_later: false, band: { low: 11, high: 14 }, ...more } })).print;
  assert.equal(over({ why: "band", extreme: 15.2, dose: 3 }), "Fridge back in band: 2\u00a0h, to 15.2\u00a0°C, 3 degree-hours.");
  assert.equal(over({ why: "not turning", extreme: 15.2 }), "Fridge back in band: 2\u00a0h, to 15.2\u00a0°C.");
  assert.equal(over({ why: "not turning" }), "Fridge turned back within its band: 2\u00a0h, to 13.4\u00a0°C.");
  assert.equal(over({ why: "wheel" }), "Fridge: its wheels are back, after 2\u00a0h. The air stayed in band, to 13.4\u00a0°C.");
  assert.equal(over({ why: "below normal", kind: "too dry", extreme: 78, band: { low: 74, high: 84 } }), "Fridge: too dry, over after 2\u00a0h, to 78\u00a0%.");
  const wait = { extreme: 15.2, back_since: at - 3_600_000 };
  assert.equal(over(wait), "Fridge back in band since 05:14: 1\u00a0h, to 15.2\u00a0°C.", "the line stands an hour later, when it had lasted");
  assert.equal(over({ ...wait, why: "not turning", extreme: 13.4 }), "Fridge turned back within its band since 05:14: 1\u00a0h, to 13.4\u00a0°C.");
  assert.equal(over({ ...wait, back_since: at }), "Fridge back in band: 2\u00a0h, to 15.2\u00a0°C.");
  assert.equal(over({ extreme: 15.2, ending: "inside" }), "Fridge back in band: 2\u00a0h, to 15.2\u00a0°C.");
  assert.equal(over({ extreme: 15.2, ending: "not asked" }), "Fridge, too warm: no wheel there asks for it any more, after 2\u00a0h, to 15.2\u00a0°C.");
  for (const ending of ["struck", "taken down", "not known"])
    assert.equal(over({ extreme: 15.2, ending }), "Fridge, too warm: no longer judged, after 2\u00a0h. Nothing else ended it.");
  assert.equal(over({ extreme: 15.2, ending: "asked otherwise", why: "plan step" }), "Fridge, warmer than is asked now: another band is asked, after 2\u00a0h.");
});

test("gas and a power cut have their figures in the journal", () => {
  const told = (more: object) => {
    const { print } = textOf(line("alarm", { cave_name: "Cellar", alarm: { id: "2", kind: "carbon dioxide", severity: "urgent", change: "over", since: at - 7_200_000, extreme: 16_240, dose: 0, value: 15_800, found_later: false, ...more } }));
    return typeof print === "string" ? print : JSON.stringify(print);
  };
  assert.match(told({ change: "raised" }), /Cellar carbon dioxide high, 15800\u00a0ppm/);
  assert.equal(told({ change: "severity" }), "Cellar carbon dioxide high, 15800\u00a0ppm: it is urgent.");
  assert.equal(told({}), "Cellar: carbon dioxide high, over after 2\u00a0h, to 16240\u00a0ppm.");
  assert.match(told({ kind: "power gone", before: 12.4, extreme: 15.1, warmest: 13.2 }), /over after 2\u00a0h\. .*12\.4.*15\.1.*13\.2/);
});

test("what ended only because newer rules do not see it is not said to be back in band", () => {
  const ended = line("alarm", { at: at + 2 * 3_600_000, cave_name: "Fridge", alarm: { id: "2", kind: "too warm", severity: "act", change: "over", since: at, extreme: 16, dose: 3, value: 16, found_later: false, over: at + 2 * 3_600_000, unseen: true } });
  assert.equal(textOf(ended).print, "Fridge, too warm: ended after 2\u00a0h, for the rules of now no longer see it. Nothing else ended it.");
  const goesOn = line("alarm", { ...ended, alarm: { ...ended.alarm!, told_by: "3" } });
  assert.equal(textOf(goesOn).print, "Fridge, too warm: goes on after 2\u00a0h as another alarm, dated by the rules of now.");
});

test("what was done about an alarm stays in the words of its cave", () => {
  const alarm: NonNullable<JournalLine["alarm"]> = { id: "2", kind: "too warm", severity: "act", change: "raised", since: at, extreme: 16, dose: 3, value: 16, found_later: false };
  assert.equal(textOf(line("take", { cave: 1, cave_name: "Fridge", alarm })).hand, "Took the alarm: Fridge too warm.");
  // What is over needs nobody any more: it was seen.
  assert.equal(textOf(line("take", { at: 20, cave: 1, cave_name: "Fridge", alarm: { ...alarm, over: 10 } })).hand, "Saw that it is over: Fridge too warm.");
  assert.equal(textOf(line("take", { at: 20, cave: 1, cave_name: "Fridge", alarm: { ...alarm, over: 30 } })).hand, "Took the alarm: Fridge too warm.");
  assert.equal(textOf(line("called", { cave: 1, what: "door" })).hand, "It was: door.");
  assert.equal(textOf(line("aside", { cave: 1 })).hand, "Set an alarm aside.");
});

test("what was decided of wheels is said with its count and its reason", () => {
  const of = (kind: JournalLine["kind"], more: Partial<JournalLine>) => textOf(line(kind, { count: 3, family: "Bloomy", place: "B3", ...more }));
  assert.deepEqual(of("fault", { what: "slime", of_count: 14, text: "at the edge" }), { hand: "Slime: 3 of 14, B3.", note: "at the edge" });
  assert.deepEqual(of("hold", { what: "held", reason: "slime" }), { hand: "Held 3 bloomies.", note: "B3, slime" });
  assert.equal(of("hold", { what: "let go" }).hand, "Let go of 3 bloomies: held no more.");
  assert.deepEqual(of("cut", { what: "eaten", share_left: 0.5 }), { hand: "Cut 3 bloomies, eaten.", note: "B3, 50\u00a0% of a whole wheel is left" });
  assert.deepEqual(of("gone", { what: "sold", text: "the market" }), { hand: "Gone: 3 bloomies, sold, to: the market.", note: "B3" });
  assert.equal(of("gone", { what: "not found" }).hand, "Gone: 3 bloomies, not found.");
  assert.equal(of("band", { temperature: { low: 8, high: 10 } }).hand, "A band of their own for 3 bloomies: 8\u00a0to\u00a010\u00a0°C.");
  assert.equal(of("plan", { text: "Washed", version: 2 }).hand, "3 bloomies follow Washed, version 2.");
  assert.equal(of("release", { text: "IH", reason: "own table" }).note, "B3, before its days were full, by IH: own table");
});

test("what was decided of the house is said in the words of the book", () => {
  assert.equal(textOf(line("away", { day: "2026-11-27", to: "2026-11-30" })).hand, "Away 27 to 29\u00a0Nov.");
  assert.equal(textOf(line("past", { what: "all fine", day: "2026-11-20", to: "2026-11-24" })).hand, "Not written, all was done: 20 to 24\u00a0Nov.");
  assert.equal(textOf(line("calendar", { cave_name: "Cellar", days: [3, 6] })).hand, "Care days, Cellar: Wednesday, Saturday.");
  assert.equal(textOf(line("keeper", { text: "TR", what: "comes" })).hand, "TR keeps here from now on.");
  assert.equal(textOf(line("feed", { what: "shut" })).hand, "The calendar has no address any more.");
  assert.equal(textOf(line("share", { text: "TR", day: "2026-11-26" })).hand, "TR took a part of the round, 26\u00a0Nov.");
});

test("an undo says what and where, a choice what was chosen, and a late entry follows a full stop", () => {
  setZone("UTC");
  assert.equal(textOf(line("undo", { of: { kind: "care", at, done: ["turn"], place: "A2" } })).hand, "Undid 06:14: turned, A2.");
  assert.equal(textOf(line("undo", { of: { kind: "note", at } })).hand, "Undid 06:14.");
  assert.equal(textOf(line("undo", { of: { kind: "away", at } })).hand, "Undid 06:14: an absence.");
  assert.equal(textOf(line("answer", { option: "in the cellar", count: 1, family: "Washed rind", place: "Box 3" })).hand, "Chose “in the cellar”: 1 washed rind, Box 3.");
  assert.equal(textOf(line("later", { text: "Eat young, keep on?", count: 2, family: "Tomme", place: "A1" })).hand, "Put off to the next day, “Eat young, keep on?”: 2 tommes, A1.");
  const wet = line("care", { done: ["turn"], skipped: ["wash"], reason: "rind wet", count: 1, place: "A1", late_entry: true });
  assert.equal(besideText(wet, "2026-11-26"), "(wash) skipped: rind wet. Late entry, written today 06:14.");
  assert.equal(besideText({ ...wet, late_entry: false }, "2026-11-26"), "(wash) skipped: rind wet");
});

test("a care names what was weighed and what was left out", () => {
  const care = line("care", { done: ["weigh"], count: 1, place: "A1", grams: 1480, left_out: { count: 3, why: "rind wet" } });
  assert.match(String(textOf(care).note), /1\.48.kg, 3 left out: rind wet/);
});

test("what was changed of limits says from what to what, and names what is struck or judged again", () => {
  const of = (limits: JournalLine["limits"]) => String(textOf(line("watching", { cave: 1, cave_name: "Fridge", limits: limits! })).hand);
  assert.equal(of({ settings: [{ id: "too warm: watch after", unit: "min", was: 25, now: 40 }] }), "Limits, Fridge. Too warm, a quiet notice after: 40\u00a0min, was 25\u00a0min.");
  assert.equal(of({ struck: ["too damp", "probe wet"], judged: ["door open"] }), "Limits, Fridge. No longer judged: too damp, probe wet. Judged again: door left open.");
  assert.equal(of({ temperature: { now: { low: 11, high: 13 } }, humidity: { was: { low: 80, high: 90 } } }),
    "Limits, Fridge. Air temperature: 11\u00a0to\u00a013\u00a0°C, was that of its wheels. Humidity: that of its wheels, was 80\u00a0to\u00a090\u00a0%.");
  assert.equal(of({ ready_cheese: true }), "Limits, Fridge. Finished cheese, kept cold.");
  assert.equal(of(undefined), "Changed how the watch judges, Fridge.", "a house that does not say");
});

test("who reads an hour past midnight reads the date on the wall, also where it counts for the evening before", () => {
  setZone("Europe/Vienna");
  const midnight = Date.parse("2026-11-24T23:39:00Z"); // Wednesday 25 November 00:39
  const heads = dated([line("note", { at: midnight - 7_200_000 }), line("note", { at: midnight - 3_600_000 }), line("note", { at: midnight }), line("note", { at: midnight + 7 * 3_600_000 })]).map((l) => l.head);
  assert.deepEqual(heads, ["2026-11-24", undefined, "2026-11-25", undefined]);
  assert.equal(besideText(line("note", { late_entry: true, received_at: midnight }), "2026-11-27"), "Late entry, written Wednesday 25\u00a0November 00:39.");
  assert.equal(careHour({ at: midnight, day: "2026-11-24" }), "Wed\u00a000:39");
  assert.equal(careHour({ at: midnight - 3_600_000, day: "2026-11-24" }), "23:39");
});

test("dates are called by the calendar, also in the hours that still belong to the keeper's day before", () => {
  setZone("Europe/Vienna");
  const night = Date.parse("2026-11-25T23:42:00Z"); // Thursday 00:42 on the wall
  assert.deepEqual(["2026-11-24", "2026-11-25", "2026-11-26"].map((day) => dayName(day, night)), ["Tuesday 24\u00a0November", "yesterday", "today"]);
});

test("a taking that arrived long after its tap says when", () => {
  setZone("UTC");
  const took = (after: number) => besideText(line("take", { received_at: at + after }), "2026-11-26");
  assert.deepEqual([took(2_000), took(18 * 60_000)], ["", "It arrived 06:32."]);
});

test("a silence that is over is one line, with both times; one that lasts, or ended otherwise, keeps its beginning", () => {
  const silent = (position: number, id: string, change: "raised" | "severity" | "over", more: object = {}) => line("alarm", { position, alarm: { id, kind: "probe silent", severity: "watch", change, since: at, extreme: 0, dose: 0, value: 0, found_later: false, ...more } });
  const kept = (...lines: JournalLine[]) => once(lines).map((one) => one.position);
  assert.deepEqual(kept(silent(1, "a", "raised"), line("take", { position: 2 }), silent(3, "a", "over")), [2, 3]);
  assert.deepEqual(kept(silent(1, "a", "raised"), silent(3, "b", "over")), [1, 3]);
  assert.deepEqual(kept(silent(1, "a", "raised"), silent(3, "a", "over", { unseen: true })), [1, 3], "its end does not tell when it began");
  assert.deepEqual(kept(silent(1, "a", "raised", { found_later: true }), silent(3, "a", "over")), [1, 3]);
  assert.deepEqual(kept(silent(1, "a", "raised"), silent(2, "a", "severity"), silent(3, "a", "over")), [1, 2, 3], "what became graver had begun");
  const warm = { kind: "too warm" as const };
  assert.deepEqual(kept(silent(1, "a", "raised", warm), silent(3, "a", "over", warm)), [1, 3]);
});

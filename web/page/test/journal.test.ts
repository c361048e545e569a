import assert from "node:assert/strict";
import { test } from "node:test";
import type { JournalLine } from "../src/api.ts";
import { setZone } from "../src/days.ts";
import { textOf } from "../src/places/journal/text.tsx";

const at = Date.parse("2026-11-26T06:14:00Z");
const line = (kind: JournalLine["kind"], more: Partial<JournalLine> = {}): JournalLine => ({ position: 1, id: "1", at, received_at: at, kind, late_entry: false, undone: false, count: 0, ...more });

test("a watch that was gone for less than two minutes only began", () => {
  setZone("UTC");
  const began = (minutes?: number) => textOf(line("started", minutes === undefined ? {} : { unwatched: { from: at - minutes * 60_000, to: at } })).print;
  assert.deepEqual([began(), began(0), began(1.9)], ["The watch began.", "The watch began.", "The watch began."]);
  assert.equal(began(2), "The watch began again. Nobody had watched 06:12 to 06:14.");
});

test("an alarm that became graver says what is asked of the keeper", () => {
  const graver = line("alarm", { cave_name: "Fridge", alarm: { id: "2", kind: "too warm", severity: "act", change: "severity", since: at, extreme: 16, dose: 3, value: 16, found_later: false } });
  assert.equal(textOf(graver).print, "Fridge too warm: it is time to act.");
});

test("what was done about an alarm stays in the words of its cave", () => {
  const alarm: NonNullable<JournalLine["alarm"]> = { id: "2", kind: "too warm", severity: "act", change: "raised", since: at, extreme: 16, dose: 3, value: 16, found_later: false };
  assert.equal(textOf(line("take", { cave: 1, cave_name: "Fridge", alarm })).hand, "Took the alarm: Fridge too warm.");
  assert.equal(textOf(line("called", { cave: 1, what: "door" })).hand, "It was: door.");
  assert.equal(textOf(line("aside", { cave: 1 })).hand, "Set an alarm aside.");
});

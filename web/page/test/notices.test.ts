import assert from "node:assert/strict";
import { test } from "node:test";
import type { Act, Hearer } from "../src/api.ts";
import { addressesOf, dayOf, hourOf, newHearer, overHearers } from "../src/places/notices/over.ts";
import type { Entry } from "../src/queue/entry.ts";

const tapped = (act: Partial<Act>, state: Entry["state"] = "waiting"): Entry =>
  ({ seq: 1, state, tries: 0, act: { id: "0".repeat(32), tapped_at: 1, kind: "hearing", ...act } as Act });

test("an hour is taken as it is written, and none that is none", () => {
  assert.deepEqual(["06:30", "6:30", "6.30", "630", "22", " 7 "].map(hourOf), ["06:30", "06:30", "06:30", "06:30", "22:00", "07:00"]);
  assert.deepEqual(["24:00", "6:60", "", "half past six", "-1"].map(hourOf), [undefined, undefined, undefined, undefined, undefined]);
});

test("addresses stand beside each other however they are parted", () => {
  assert.deepEqual(addressesOf(" ih@a.example, tr@a.example;\nmk@a.example "), ["ih@a.example", "tr@a.example", "mk@a.example"]);
  assert.deepEqual(addressesOf("  "), []);
});

test("a day is one of the calendar", () => {
  assert.deepEqual(["2026-12-24", "2026-02-30", "24.12.2026", ""].map(dayOf), ["2026-12-24", undefined, undefined, undefined]);
});

test("what this phone has tapped shows before the house answers: a new hearer, a changed one, one who hears no more", () => {
  const ih: Hearer = { ...newHearer("IH", 1), mail: ["ih@a.example"] };
  const tr: Hearer = { ...newHearer("TR", 2), mail: ["tr@a.example"] };
  const shown = (...entries: Entry[]) => overHearers([ih, tr], -1, entries).map((h) => `${h.rank} ${h.name} ${h.mail.join()}`);
  assert.deepEqual(shown(), ["1 IH ih@a.example", "2 TR tr@a.example"]);
  assert.deepEqual(shown(tapped({ ...tr, rank: 1 } as Partial<Act>), tapped({ ...ih, rank: 2 } as Partial<Act>)), ["1 TR tr@a.example", "2 IH ih@a.example"]);
  assert.deepEqual(shown(tapped({ name: "IH", leaves: true } as Partial<Act>)), ["2 TR tr@a.example"]);
  assert.deepEqual(shown(tapped({ ...newHearer("MK", 3), mail: ["mk@a.example"] } as Partial<Act>)), ["1 IH ih@a.example", "2 TR tr@a.example", "3 MK mk@a.example"]);
  assert.deepEqual(shown(tapped({ name: "IH", leaves: true } as Partial<Act>, "refused")), ["1 IH ih@a.example", "2 TR tr@a.example"]);
});

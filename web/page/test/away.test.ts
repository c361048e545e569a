import assert from "node:assert/strict";
import { test } from "node:test";
import type { AheadPage, AwayPlan, HelperLine, Settings } from "../src/api.ts";
import type { Entry } from "../src/queue/entry.ts";
import { becoming, busiestOf, itemsOf, longest, outline, partedAt, scaleFor } from "../src/places/ahead/profile.ts";
import { blocksOf, columnsOf, daysOf, nameOf } from "../src/places/away/lanes.ts";
import { stepsOf } from "../src/places/away/steps.ts";
import { overSettings, swapped, toggled } from "../src/places/settings/over.ts";

const window = (from: string, to: string) => ({ from, to, kinds: ["turn" as const] });
const lane = (place: string, ...windows: ReturnType<typeof window>[]): AwayPlan["lanes"][number] => ({ place, cave: 1, windows });

test("places that want the same days are one lane, named by its ends", () => {
  const columns = columnsOf([lane("A1", window("2026-12-04", "2026-12-06")), lane("A2", window("2026-12-04", "2026-12-06")), lane("A3", window("2026-12-04", "2026-12-06")), lane("B1", window("2026-12-07", "2026-12-09")), lane("B2")]);
  assert.deepEqual(columns.map((c) => [c.name, c.places.length]), [["A1–A3", 3], ["B1", 1]]);
  assert.equal(nameOf(["Upper cellar, north"]), "Upper cell…");
});

test("five lanes with the names of a small house stand in one drawing", () => {
  const names = ["Box 1", "Box 2", "A1", "B1", "Counter"];
  assert.equal(blocksOf(columnsOf(names.map((name, i) => lane(name, window("2026-12-04", `2026-12-${String(5 + i).padStart(2, "0")}`))))).length, 1);
});

test("however many lanes: each stands in one drawing, none is wider than the column, none is nearly empty", () => {
  for (let count = 1; count <= 25; count += 1) {
    const columns = columnsOf(Array.from({ length: count }, (_, i) => lane(`Shelf ${i}`, window("2026-12-04", `2026-12-${String(5 + i).padStart(2, "0")}`))));
    const blocks = blocksOf(columns);
    assert.equal(blocks.flat().length, count);
    for (const block of blocks) assert.ok(block.reduce((sum, c) => sum + c.width, 0) <= 250.001);
    const sizes = blocks.map((b) => b.length);
    assert.ok(Math.max(...sizes) - Math.min(...sizes) <= 2, sizes.join());
  }
});

test("the drawing has each day from the first away to the return", () => {
  assert.equal(daysOf("2026-12-30", "2027-01-02").length, 4);
});

const line = (place: string, rind: HelperLine["rind"], more: Partial<HelperLine> = {}): HelperLine => ({ place, cave_name: "Cellar", box: false, rind, age_group: 0, kinds: ["turn"], count: 9, ...more });
const absence = (visits: AwayPlan["visits"]): AwayPlan => ({ from: "2026-12-03", back: "2026-12-13", visits, lanes: [], without: [], no_visit: [], before: [], normal: [], marked: [] }) as unknown as AwayPlan;

test("the helper's steps stand once each, hands first, white before pressed before washed, and say which visit they are for", () => {
  const steps = stepsOf(absence([
    { day: "2026-12-06", minutes: 8, lines: [line("Box 2", "washed", { cave_name: "Box 2", box: true, count: 2 }), line("Box 1", "fresh and white", { cave_name: "Box 1", box: true, count: 6 })] },
    { day: "2026-12-10", minutes: 12, lines: [line("Box 1", "fresh and white", { cave_name: "Box 1", box: true, count: 6 }), line("A2", "natural and pressed", { count: 1 })] },
  ]), ["Fridge"]);
  const said = steps.map((s) => ("change" in s ? "change" : `${s.lead} ${s.text} ${s.days.length}`));
  assert.equal(said.length, 7);
  assert.match(said[0]!, /^Wash hands.*Five clean cloths lie beside them\./, "two changes, and each box its own");
  assert.match(said[1]!, /^Box 1, white cheese\. Lid off\..*Turn all 6 upside down\. Lid on, a finger open\. 2$/);
  assert.equal(said[2], "change");
  assert.match(said[3]!, /^Cellar, A2\. Turn it upside down\. 1$/);
  assert.match(said[5]!, /Turn both upside down/);
  assert.match(said[6]!, /Fridge/);
});

const week = (minutes: number[], more: Partial<AheadPage["weeks"][number]> = {}): AheadPage["weeks"][number] => ({ monday: "2026-11-23", minutes, ready: [], eat_by: [], ...more });

test("the edge of the leaf: the longest day reaches as far as there is room, short days are not blown up, the past is bare", () => {
  const weeks = [week([-1, 12, 9, 15, 9, 200, 23])];
  assert.equal(longest(weeks), 200);
  assert.equal(scaleFor(200, 38) * 200, 38);
  assert.equal(scaleFor(4, 38), 1.35);
  assert.equal(outline([-1, 10], 92, 1), "M92 0H92.0V50.00H82.0V100.00H92");
  assert.deepEqual(busiestOf(weeks[0]!.minutes), { index: 5, minutes: 200 });
  assert.equal(busiestOf([-1, 0, 0]), undefined);
});

test("what becomes ready is counted once, whatever roads it may take, and not if it is ready now", () => {
  const ready = (wheels: number[], from: string, young = false) => ({ wheels, lot: "303", family: "Lactic", from, young });
  const weeks = [week([], { ready: [ready([9], "2026-11-20"), ready([1, 2], "2026-11-26", true)] }), week([], { monday: "2026-11-30", ready: [ready([1, 2], "2026-12-06"), ready([9, 3], "2026-12-04")] })];
  assert.equal(becoming(weeks, "2026-11-25"), 3);
  assert.equal(becoming(weeks, "2026-11-26"), 1);
});

test("what a week brings stands by day, and a wanted day parts it", () => {
  const one = week([1, 1, 1, 1, 1, 1, 1], {
    ready: [{ wheels: [1, 2], lot: "208", family: "Tomme", from: "2026-11-28", young: false }, { wheels: [3], lot: "220", family: "Pressed", from: "2026-11-24", young: true }],
    eat_by: [{ wheels: [4], lot: "218", family: "Bloomy", by: "2026-11-26" }],
  });
  assert.deepEqual(itemsOf(one).map((i) => [i.kind, i.lot]), [["young", "220"], ["eat", "218"], ["ready", "208"]]);
  const parted = partedAt(one, "2026-11-26")!;
  assert.deepEqual([parted.days, parted.before.map((i) => i.lot), parted.after.map((i) => i.lot)], [4, ["220", "218"], ["208"]]);
  assert.equal(partedAt(one, "2026-11-30"), undefined);
});

const settings = { keepers: ["IH"], by_room: false, away: [], caves: [{ id: 1, name: "Fridge", care_days: [], shelves: [] }, { id: 5, name: "Cellar", care_days: [6], shelves: ["A1", "A2"] }] } as unknown as Settings;
const waiting = (act: object): Entry => ({ seq: 1, act: { id: "a", tapped_at: 0, ...act } as Entry["act"], state: "waiting", tries: 0 });

test("settings show what this phone has tapped before the house has answered", () => {
  const shown = overSettings(settings, 0, [waiting({ kind: "keeper", name: "TR" }), waiting({ kind: "calendar", cave: 1, care_days: [2] }), waiting({ kind: "order", caves: [5, 1], by_room: true }), waiting({ kind: "order", cave: 5, shelves: ["A2", "A1"] })]);
  assert.deepEqual([shown.keepers, shown.by_room, shown.caves.map((c) => c.id), shown.caves[0]!.shelves, shown.caves[1]!.care_days], [["IH", "TR"], true, [5, 1], ["A2", "A1"], [2]]);
  assert.deepEqual(overSettings(settings, 0, [waiting({ kind: "keeper", name: "IH", leaves: true })]).keepers, []);
  assert.deepEqual(overSettings(settings, 0, [{ ...waiting({ kind: "keeper", name: "TR" }), state: "refused" }]).keepers, ["IH"]);
  assert.deepEqual(swapped([1, 2, 3], 1), [1, 3, 2]);
  assert.deepEqual(toggled(toggled([2], 5), 2), [5]);
});

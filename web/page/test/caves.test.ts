import assert from "node:assert/strict";
import { test } from "node:test";
import type { Alarm, Cave, CaveStateWord, Channel } from "../src/api.ts";
import { alarmsOf, cutOff, doubtWords, gapWords, heldWords, lidWord, lookWord, nested, reaches, standing, targets, wants } from "../src/places/caves/standing.ts";
import { besideStrips } from "../src/places/caves/sentence.ts";
import { setClock } from "../src/clock.ts";
import { setZone } from "../src/days.ts";

const channel = (state: CaveStateWord, more: Partial<Channel> = {}): Channel => ({ state, watched: state !== "not watched", borrowed: false, judged: true, side: 0, ...more });
const cave = (name: string, state: CaveStateWord, temperature: Channel, humidity: Channel, more: Partial<Cave> = {}): Cave => ({
  id: name.length, kind: "fridge", name, state, temperature, humidity, boards: [], gaps: [], does_not_suit: [],
  ribbon: { from: 0, to: 100, temperature: [], humidity: [], bands: [], marks: [] }, ...more,
});
const lent = (state: CaveStateWord, side: -1 | 0 | 1 = 0) => channel(state, { borrowed: true, side });

test("a cave in its band shows the bands of what is measured there", () => {
  const kept = cave("Cellar", "in band", channel("in band", { band: { low: 10, high: 13.5 } }), channel("in band", { band: { low: 82, high: 92 } }));
  assert.deepEqual(standing(kept, undefined), { state: "in band", side: 0, word: "in band", more: "10\u00a0to\u00a013.5, 82\u00a0to\u00a092" });
});

test("air that is back in its band, while its alarm waits for it to stay, is told as back", () => {
  const fridge = cave("Fridge", "in band", channel("in band"), channel("in band"));
  const warm = { id: "a", kind: "too warm", cave: fridge.id, inside: true } as Alarm;
  assert.equal(standing(fridge, [warm]).word, "back in band");
  assert.equal(standing(fridge, [{ ...warm, kind: "battery low" }]).word, "in band");
  assert.equal(standing(fridge, [{ ...warm, cave: 99 }]).word, "in band");
  assert.equal(standing(fridge, [{ ...warm, inside: undefined, ends_at: 13.5 } as Alarm]).word, "back in band");
  assert.equal(standing(fridge, [{ id: "a", kind: "too warm", cave: fridge.id } as Alarm]).word, "in band", "air that never left it is not back");
});

test("the channel that stands worst gives the word and the side", () => {
  const damp = cave("Box 1", "drifting", lent("in band"), channel("drifting", { side: 1, band: { low: 90, high: 96 } }));
  assert.equal(standing(damp, undefined).word, "drifting damp");
  const by = new Date(2026, 10, 26, 10, 0).getTime();
  const leaving = cave("Box 1", "drifting", lent("in band"), channel("drifting", { side: 1, band: { low: 90, high: 96 }, out_by: by }), { kind: "box" });
  assert.match(standing(leaving, undefined).more, /^out by .*10:00$/);
  assert.match(lidWord(leaving), /^Keep 90.to.96: open the lid a finger\.$/);
  const dry = cave("Box 1", "out of band", lent("in band"), channel("out of band", { side: -1 }));
  assert.equal(standing(dry, undefined).word, "out of band, dry");
});

test("what another place's alarm reaches is dated by its own leaving of its own band, not by that alarm", () => {
  setZone("Europe/Vienna");
  const minute = 60_000, to = new Date("2026-11-28T00:54:00+01:00").getTime(), from = to - 24 * 60 * minute;
  setClock(to, 1);
  const trace = (mean: (at: number) => number): [number, number][] => Array.from({ length: 288 }, (_, n): [number, number] => [from + n * 5 * minute, mean(from + n * 5 * minute)]);
  const box = (points: [number, number][], steps: { from: number; temperature: { low: number; high: number } }[]) => cave("Box 1", "out of band", lent("out of band", 1), channel("not watched"), {
    inside: 6, ribbon: { from, to, temperature: points, humidity: [], bands: steps, marks: [] },
  });
  const warm = { id: "a", kind: "too warm", cave: 6, since: to - 10 * 60 * minute } as Alarm;
  const band = [{ from, temperature: { low: 9, high: 13.5 } }];
  // It left at 23:00, but for a moment of a door at 20:00; the alarm of the fridge around it began at 14:54.
  const left = to - 114 * minute; // the ribbon has a point each five minutes;
  const own = box(trace((at) => (at >= left || Math.abs(at - (to - 294 * minute)) < 6 * minute ? 14 : 12)), band);
  assert.match(standing(own, [warm]).more, /^since .*23:04/);
  assert.match(standing({ ...own, id: 6 }, [warm]).more, /14:54/, "its own alarm is dated as it says");
  assert.match(standing(box(trace(() => 14), band), [warm]).more, /^for more than a day/);
  const hung = box(trace(() => 14).slice(-36), band); // its probe has hung there for three hours
  assert.match(standing(hung, [warm]).more, /^since .*21:54/);
  const moved = box(trace(() => 14), [{ from, temperature: { low: 9, high: 15 } }, { from: to - 120 * minute, temperature: { low: 9, high: 13.5 } }]);
  assert.match(standing(moved, [warm]).more, /22:54/, "not before its band began");
  const back = box(trace((at) => (at >= to - 10 * minute ? 13 : at >= left ? 14 : 12)), band);
  assert.match(standing(back, [warm]).more, /23:04/, "the mean lags behind air that is just back");
  setClock(Date.now(), 1);
});

test("a box that grows damp, or is, says what to do at its lid; nothing else does", () => {
  const box = (state: CaveStateWord, side: -1 | 1, more: Partial<Cave> = {}) => cave("Box 1", state, lent("in band"), channel(state, { side }), { kind: "box", ...more });
  assert.equal(lidWord(box("drifting", 1)), "Open the lid a finger.");
  assert.equal(lidWord(box("out of band", 1)), "Open the lid a finger.");
  assert.equal(lidWord(box("drifting", -1)), "Lid shut, a wet cloth in it.");
  for (const other of [box("in band", 1), box("unknown", 1), box("drifting", 1, { kind: "fridge" })]) assert.equal(lidWord(other), "");
  assert.equal(lidWord(cave("Box 1", "out of band", lent("out of band", 1), channel("in band", { side: 1 }), { kind: "box" })), "", "too warm");
});

test("a box without a probe of its own is never shown as well: its humidity is not watched", () => {
  assert.equal(standing(cave("Box 2", "in band", lent("in band"), channel("not watched")), undefined).word, "humidity not watched");
  assert.equal(standing(cave("Box 2", "out of band", lent("out of band", 1), channel("not watched")), undefined).word, "out of band, warm");
  assert.equal(standing(cave("Box 1", "not watched", { ...channel("not watched"), watched: true }, channel("not watched")), undefined).word, "measured, not judged");
  assert.equal(standing(cave("Counter", "not watched", channel("not watched"), channel("not watched")), undefined).word, "not watched");
});

test("humidity that is measured and not judged says so beside the word of the warmth", () => {
  const unjudged = channel("not watched", { watched: true, judged: false, mean: 46 });
  const fridge = cave("Fridge", "in band", channel("in band", { band: { low: 10.5, high: 14.5 } }), unjudged);
  assert.deepEqual([standing(fridge).word, standing(fridge).more], ["in band", "10.5\u00a0to\u00a014.5, humidity not judged"]);
  assert.equal(standing(cave("Fridge", "not watched", channel("not watched", { watched: true, judged: false }), unjudged)).word, "measured, not judged");
});

test("unknown says since when a probe is silent, and differs from not watched", () => {
  setZone("UTC");
  const silent = cave("Cellar", "unknown", channel("unknown", { silent_since: Date.parse("2026-11-26T01:40:00Z") }), channel("in band"));
  setClock(Date.parse("2026-11-26T07:14:00Z"), 1);
  assert.equal(standing(silent, undefined).word, "probe silent since 01:40");
  setClock(Date.parse("2026-11-27T07:14:00Z"), 1);
  assert.equal(standing(silent, undefined).word, "probe silent since Thu\u00a001:40", "of another day its day");
});

test("an alarm says since when only beside the channel that it is about", () => {
  const alarm = (kind: Alarm["kind"]): Alarm => ({ id: "1", kind, severity: "act", cave: 6, cave_name: "Cellar", since: Date.parse("2026-11-26T04:20:00Z"), raised: 0, wheels: [], concerns: [], first: [], found_later: false });
  const damp = cave("Cellar", "out of band", channel("in band"), channel("out of band", { side: 1, band: { low: 82, high: 92 } }));
  setZone("UTC");
  assert.equal(standing(damp, [alarm("too warm")]).more, "82\u00a0to\u00a092");
  setClock(Date.parse("2026-11-26T07:14:00Z"), 1);
  assert.equal(standing(damp, [alarm("probe silent"), alarm("too damp")]).more, "since 04:20");
  assert.equal(standing(damp, [alarm("too damp")]).word, "too damp");
  assert.equal(standing(damp, [alarm("too dry")]).word, "out of band, damp", "the other side is no alarm's word");
  assert.equal(standing(damp, []).word, "out of band, damp", "too damp is a word of alarms");
  const box = { ...cave("Box 2", "out of band", lent("out of band", 1), channel("not watched")), inside: 6 };
  assert.equal(standing(box, alarmsOf([alarm("too warm"), alarm("too damp")], box)).word, "too warm", "the fridge's alarm is its own");
  const probed = { ...cave("Box 1", "out of band", channel("out of band", { side: 1 }), channel("in band")), inside: 6 };
  assert.equal(standing(probed, alarmsOf([alarm("too warm")], probed)).word, "too warm", "also where a probe of its own says so: one event is one alarm");
  assert.deepEqual(alarmsOf([alarm("too damp"), { ...alarm("too warm"), over: 5 }], box), [], "humidity is never borrowed");
});

test("a box whose humidity nobody measures says so while it is too warm", () => {
  assert.equal(standing(cave("Box 2", "out of band", lent("out of band", 1), channel("not watched"), { kind: "box" })).more, "humidity not watched");
  assert.equal(standing(cave("Fridge", "out of band", channel("out of band", { side: 1 }), channel("not watched"))).more, "");
});

test("a cave whose probes contradict each other is unknown and says between what", () => {
  const odd = cave("Fridge", "unknown", channel("unknown", { odds: { low: 12.3, high: 16.1 } }), channel("in band"));
  assert.deepEqual(standing(odd), { state: "unknown", side: 0, word: "its probes contradict each other", more: "12.3\u00a0to\u00a016.1" });
  const damp = cave("Cellar", "unknown", channel("in band"), channel("unknown", { odds: { low: 77.6, high: 91 } }));
  assert.equal(standing(damp).more, "78\u00a0to\u00a091");
});

test("what is unknown for another reason than silence says since when and by which probe, while the house is there", () => {
  const stuck = cave("Cellar", "unknown", channel("unknown", { unknown_why: "since 01:40: probe Shelf stuck" }), channel("in band"));
  assert.deepEqual(standing(stuck), { state: "unknown", side: 0, word: "unknown", more: "since 01:40: probe Shelf stuck" });
  assert.equal(standing(cutOff(stuck)).more, "");
});

test("cut off from the house what is watched is unknown, with no word of a silent probe, and the rest stays not watched", () => {
  const kept = cave("Cellar", "in band", channel("in band"), channel("unknown", { silent_since: 50 }));
  const blind = cutOff(kept);
  assert.deepEqual([blind.state, blind.temperature.state, blind.humidity.state, blind.humidity.silent_since], ["unknown", "unknown", "unknown", undefined]);
  assert.deepEqual(standing(blind), { state: "unknown", side: 0, word: "unknown", more: "" });
  const calm = cave("Counter", "not watched", channel("not watched"), channel("not watched"));
  assert.equal(cutOff(calm), calm);
  const lending = cutOff(cave("Box 2", "out of band", { ...lent("out of band", 1), watched: false }, channel("not watched"), { kind: "box" }));
  assert.deepEqual([lending.temperature.state, standing(lending).word], ["unknown", "humidity not watched"]);
  assert.equal(cutOff(cave("Box 2", "not watched", { ...lent("in band"), watched: false }, channel("not watched"))).temperature.state, "unknown");
});

test("a target that the band in force does not hold is told with whose it is, not as that of all", () => {
  const narrow = cave("Cellar", "in band", channel("in band", { band: { low: 10, high: 14 }, target: { low: 12, high: 13 } }), channel("in band", { band: { low: 85, high: 90 } }),
    { wants: [{ channel: "humidity", target: { low: 90, high: 96 }, wheels: [{ count: 6, family: "Bloomy, white mould" }] }, { channel: "humidity", target: { low: 92, high: 92 }, wheels: [{ count: 1, family: "Blue" }] }] });
  assert.equal(targets(narrow), "12\u00a0to\u00a013\u00a0°C");
  assert.deepEqual(wants(narrow), ["6 bloomies want 90\u00a0to\u00a096\u00a0%, which this band does not hold.", "1 blue wants 92\u00a0%, which this band does not hold."]);
  assert.deepEqual(wants(cave("Fridge", "in band", channel("in band"), channel("in band"))), []);
  const more = { ...narrow, wants: [...narrow.wants!, { channel: "humidity" as const, target: { low: 70, high: 75 }, wheels: [{ count: 3, family: "Alpine" }] }] };
  assert.deepEqual(wants(more), ["Many plans lie here: no one humidity is what all of them want."]);
});

test("boxes stand behind the fridge that they are in, whatever the order of the house", () => {
  const plain = channel("not watched");
  const list = [cave("Box", "not watched", plain, plain, { id: 1, inside: 2 }), cave("Fridge", "not watched", plain, plain, { id: 2 }), cave("Lost", "not watched", plain, plain, { id: 3, inside: 9 })];
  assert.deepEqual(nested(list).map((n) => [n.cave.name, n.inside, n.last]), [["Fridge", false, false], ["Box", true, true], ["Lost", false, true]]);
});

test("a box that nobody watches asks for a look at its lid only where a wheel lies in it", () => {
  const box = (boards: unknown[], kind = "box", watched = false) => ({ kind, humidity: { watched }, boards }) as unknown as Cave;
  assert.equal(lookWord(box([{}])), "Look at the lid: drops? dry?");
  assert.equal(lookWord(box([])), "empty");
  assert.equal(lookWord(box([], "room")), "");
  assert.equal(lookWord(box([{}], "box", true)), "");
});

test("what a stuck or wet probe left unknown is said once with its times when it is over, for both its channels", () => {
  setZone("Europe/Vienna");
  const at = (h: number, m = 0) => Date.UTC(2026, 10, 26, h - 1, m);
  const ribbon = { to: at(18) } as Cave["ribbon"];
  const doubt = (channel: "temperature" | "humidity", to: number, kind: "probe stuck" | "probe wet" = "probe stuck") => ({ from: at(10, 20), to, channel, kind, probe: "Fridge air" });
  assert.deepEqual(doubtWords({ ribbon, doubts: [doubt("temperature", at(14, 5)), doubt("humidity", at(14, 5))] }, at(18)), ["Fridge air stuck 10:20 to 14:05: that stays unknown."]);
  assert.deepEqual(doubtWords({ ribbon, doubts: [doubt("humidity", at(14), "probe wet")] }, at(18)), ["Fridge air wet 10:20 to 14:00: its humidity then stays unknown."]);
  assert.deepEqual(doubtWords({ ribbon, doubts: [doubt("temperature", at(18))] }, at(18)), [], "what lasts says the state");
  assert.deepEqual(doubtWords({ ribbon }, at(18)), []);
});

test("of many times without a reading the newest three stand in lines, and how many came before", () => {
  setZone("UTC");
  const at = (h: number) => Date.UTC(2026, 2, 12, h);
  const gaps = [1, 4, 7, 10, 13].map((h) => ({ from: at(h), to: at(h + 1) }));
  const newest = ["No reading 07:00 to 08:00.", "No reading 10:00 to 11:00.", "No reading 13:00 to 14:00."];
  assert.deepEqual(gapWords({ gaps }, at(18)), ["Before that 2 more times without a reading.", ...newest]);
  assert.deepEqual(gapWords({ gaps: gaps.slice(1) }, at(18)), ["Before that one more time without a reading.", ...newest]);
  assert.deepEqual(gapWords({ gaps: gaps.slice(2) }, at(18)), newest);
  assert.deepEqual(gapWords({ gaps: [] }, at(18)), []);
  assert.deepEqual(heldWords({ held: [{ from: at(9), to: at(10) }] }, at(18)), ["Readings of 09:00 to 10:00: kept, not judged."]);
  assert.deepEqual(heldWords({}, at(18)), []);
});

test("the caves' sentence does not say again what the strips above it say; of gas alone, that it comes first", () => {
  const strip = (kind: Alarm["kind"], cave_name = "Vault") => ({ id: kind, kind, severity: "urgent", cave: 1, cave_name, since: 0, concerns: [] }) as unknown as Alarm;
  const gas = strip("carbon dioxide"), both = [{ text: "Vault carbon dioxide high since 09:54.", alarm: "carbon dioxide" }, { text: "Vault ammonia high since 09:54.", alarm: "ammonia" }];
  const warm = { text: "Fridge too warm since 04:20.", alarm: "too warm" };
  assert.equal(besideStrips(both, [gas, strip("ammonia")]), "Gas first.");
  assert.equal(besideStrips(both, [gas]), "Vault ammonia high since 09:54.", "what is folded away has no strip");
  assert.equal(besideStrips([warm, { text: "Cellar keeps its band." }], [strip("too warm", "Fridge")]), "Cellar keeps its band.");
  assert.equal(besideStrips([warm], [strip("too warm", "Fridge")]), "The alarm first.", "each is told once");
  assert.equal(besideStrips([warm], [{ ...strip("too warm", "Fridge"), over: 1 }]), "What is over first.");
  assert.equal(besideStrips([{ text: "Box 1 drifts damp." }], []), "Box 1 drifts damp.");
  const frost = strip("too cold", "Fridge"), past = { ...strip("too warm", "Fridge"), over: 1 };
  assert.equal(besideStrips([warm], [frost], [frost, past]), "The alarm first.", "what is over says nothing above what stands");
});

test("an alarm of the fridge is the matter of a box in it whose wheels it touches", () => {
  const fridge = { id: "a", kind: "plant weak", cave: 1, concerns: [{ count: 2, family: "bloomy", cave_name: "Box 1", state: "ripening" }], wheels: [] } as unknown as Alarm;
  const of = (name: string, inside?: number) => reaches(fridge, { name, ...(inside === undefined ? {} : { inside }) });
  assert.deepEqual([of("Box 1", 1), of("Box 2", 1), of("Box 1"), of("Box 1", 5)], [true, false, false, false]);
});

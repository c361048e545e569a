// An invented house for looking at the page without a daemon: keepers IH and TR, a fridge with two boxes, a counter, a
// cellar with four boards. Its clock stands at Thursday 26 November 2026, 07:14, and goes on from there.
import type {
  Alarm, Arriving, BoardWheel, Cave, Caves, Channel, Day, Head, JournalLine, Plans, Ribbon, Round, RoundLine, RoundQuestion,
  Faults, RoundSection, Settings, Wheel, WheelPage, WheelStateWord,
} from "../../../web/page/src/api.ts";

export const kZone = "Europe/Zurich";
export const kStart = Date.parse("2026-11-26T06:14:00Z");
const kHour = 3_600_000;
const kToday: Day = "2026-11-26";

import { ahead, flood } from "./alarm_scene.ts";

export type SceneName = "round" | "shared" | "week" | "alarm" | "questions" | "calm" | "empty" | "trial" | "flood";

const at = (hour: number, minute: number) => kStart + ((hour - 7) * 60 + (minute - 14)) * 60_000;
const day = (back: number): Day => new Date(Date.parse(`${kToday}T00:00:00Z`) - back * 86_400_000).toISOString().slice(0, 10);

/** What the house says on top of its caves. */
export function cavesSentences(scene: SceneName): Caves["sentences"] {
  if (scene === "flood") return [{ text: "Cellar carbon dioxide high since 05:14.", alarm: "carbon-dioxide-5-1" }, { text: "Cellar probe silent since 05:14.", alarm: "probe-silent-9-5" }];
  return scene === "alarm" ? [{ text: "Cellar keeps its band." }] : [{ text: "Box 1 drifts damp." }, { text: "Fridge and Cellar keep their band." }];
}

export function head(scene: SceneName, now: number, alarms: Alarm[]): Head {
  return {
    now, speed: scene === "trial" ? 60 : 1, trial: scene === "trial", open: scene === "trial", zone: kZone, day: kToday, event: "1-1",
    empty: scene === "empty", sentence: "Five left. Box 1 drifts damp.", alarms, troubles: [],
  };
}

interface LineParts extends Partial<RoundLine> { key: string; cave: number; cave_name: string; family: string; kinds: RoundLine["kinds"]; count: number; state: RoundLine["state"] }

const kSections: RoundSection[] = [
  { rind: "fresh and white", marked: false, change: [], minutes: 0 },
  { rind: "natural and pressed", marked: false, change: ["gloves", "cloth"], minutes: 1 },
  { rind: "washed", marked: false, change: ["gloves", "cloth", "wash"], minutes: 1 },
  { rind: "natural and pressed", marked: true, change: ["gloves", "brush", "mask"], minutes: 1 },
];

function line({ count, ...parts }: LineParts): RoundLine {
  const first = parts.cave * 100;
  const rind = parts.rind ?? "natural and pressed";
  return {
    section: parts.marked ? 3 : kSections.findIndex((s) => s.rind === rind), minutes: 2, numbers: Array.from({ length: count }, (_, i) => i + 1), two_people: false, look_first: [], held: false, cut: 0, rind, place: parts.place ?? parts.cave_name, wheels: Array.from({ length: count }, (_, i) => first + i), lot: "", lot_here: count, day: 6, age: 6,
    stage: "", wheel_state: "rind forming", done_kinds: [], skipped_kinds: [], due: kToday, away: false, evening: false, note: "", past_plan: false,
    ...parts,
  };
}

export function lines(scene: SceneName): RoundLine[] {
  if (scene === "empty") return [];
  const box1 = { cave: 2, cave_name: "Box 1", rind: "fresh and white" as const };
  const done = { state: "done" as const, keeper: "IH" };
  const settled = [
    line({ ...box1, ...done, key: "box1 221", family: "bloomy", lot: "221", day: 8, kinds: ["turn", "pat"], done_kinds: ["turn", "pat"], count: 6, settled_at: at(6, 51), settled_by: "a".repeat(32) }),
    line({ ...box1, ...done, key: "box1 218", family: "bloomy", lot: "218", day: 12, kinds: ["wrap"], done_kinds: ["wrap"], count: 4, minutes: 2, settled_at: at(7, 9), settled_by: "b".repeat(32), wheel_state: "ripening" }),
  ];
  if (scene === "calm") return [];
  const open: RoundLine[] = [
    line({ key: "counter 222", cave: 4, cave_name: "Counter", family: "tomme", lot: "222", day: 1, kinds: ["turn"], count: 1, state: "due", wheel_state: "drying", minutes: 0.1 }),
    line({ key: "a1 220", cave: 5, cave_name: "Cellar", place: "A1", family: "pressed", lot: "220", day: 6, kinds: ["wash", "turn"], done_kinds: ["turn"], count: 9, minutes: 5, state: "due", settled_at: at(6, 58), keeper: "IH", settled_by: "c".repeat(32) }),
    line({ key: "a2 214", cave: 6, cave_name: "Cellar", place: "A2", family: "tomme", lot: "214", day: 26, kinds: ["turn"], count: 14, state: "due", wheel_state: "ripening" }),
    line({ key: "b1 208", cave: 7, cave_name: "Cellar", place: "B1", family: "tomme", lot: "208", day: 61, kinds: ["brush", "turn"], count: 9, state: "late", late_since: "2026-11-23", look_first: ["dusty"], cut: 1, wheel_state: "ready", minutes: 6 }),
    line({ key: "box2 217", cave: 3, cave_name: "Box 2", rind: "washed", family: "washed rind", lot: "217", day: 17, kinds: ["wash", "turn"], count: 2, state: "due", wheel_state: "ripening", minutes: 1, new_cadence: "from Saturday twice a week" }),
  ];
  // After a week without a line none was written today either.
  if (scene === "week") return open.map(({ settled_at: _a, settled_by: _b, keeper: _k, ...due }) => ({ ...due, done_kinds: [] }));
  return [...settled, ...open];
}

export function questions(scene: SceneName): RoundQuestion[] {
  if (scene !== "questions") return [];
  return [
    { key: "q counter", section: 1, usual: { low: 2, high: 3 }, cave: 4, place: "Counter", wheels: [400], lot: "222", family: "tomme", day: 2, wheel_state: "drying", kind: "start", start: "dry", text: "Dry to the touch?" },
    { key: "q move", section: 1, cave: 4, place: "Counter", wheels: [401], lot: "223", family: "pressed", day: 3, wheel_state: "drying", kind: "start", start: "entered box", text: "Into the box?", where: [{ cave: 2, cave_name: "Box 1" }, { cave: 3, cave_name: "Box 2" }] },
    { key: "q a1", section: 1, ready: { from: kToday, to: "2026-12-31" }, cave: 5, place: "A1", wheels: [500, 501], lot: "220", family: "pressed", day: 21, wheel_state: "rind forming", kind: "branch", text: "Eat young, keep on?", options: ["eat young", "keep on to 60 days"] },
  ];
}

const kBring: Round["bring"] = {
  washes: [15.6, 15.6].map((salt_grams, i) => ({ salt_grams, water_ml: 500, total_grams: 515, percent: 3, additions: [], wheels: i ? 2 : 9, places: [i ? "Box 2" : "A1"], note: "" })),
  cloths: 3, tools: ["soft brush"], two_people: false, mask: true,
};
const kNoBring: Round["bring"] = { washes: [], cloths: 0, tools: [], two_people: false, mask: false };

const kComing: Round["coming"] = [
  { day: "2026-11-27", minutes: 6, lines: [{ place: "A1", kinds: ["wash", "turn"], count: 9, lot: "220", minutes: 5 }, { place: "Box 1", kinds: ["turn", "pat"], count: 6, lot: "221", minutes: 1 }] },
  { day: "2026-11-28", minutes: 2, lines: [{ place: "A2", kinds: ["turn"], count: 14, lot: "214", minutes: 2 }] },
];

export function round(scene: SceneName, now: number, alarms: Alarm[], kept: RoundLine[], asked: RoundQuestion[]): Round {
  const calm = scene === "calm" || scene === "empty";
  return {
    head: head(scene, now, alarms), besides: "Box 1 drifts damp.", day: kToday, expected: false, lines: kept, questions: asked, sections: kSections, minutes: 16, bring: calm ? kNoBring : kBring,
    coming: scene === "empty" ? [] : kComing, shares: scene === "shared" ? [{ keeper: "TR", caves: [3], lines: ["b1 208"] }] : [],
    next: { day: "2026-11-27", lines: [{ place: "A1", kinds: ["wash", "turn"], count: 9 }, { place: "Box 1", kinds: ["turn", "pat"], count: 6 }] },
    open: scene === "empty" ? [] : [{ place: "B3", kinds: ["turn"], due: "2026-11-28", cave: 5, wheels: [801, 802], lot: "205", family: "tomme" }],
    ...(scene === "week" ? { quiet_since: "2026-11-19" } : {}),
  };
}

/** Half of the round, what the rind would miss most, for so many minutes. */
export function short(whole: Round, minutes: number): Round["short"] {
  const open = whole.lines.filter((l) => l.state === "due" || l.state === "late");
  const keys: string[] = [];
  let used = 0;
  for (const line of open) {
    if (used + line.minutes > minutes) continue;
    used += line.minutes;
    keys.push(line.key);
  }
  const moved = open.filter((l) => !keys.includes(l.key)).map((l) => ({ key: l.key, to: "2026-11-27", window_end: "2026-11-28", leaves_window: false }));
  return { minutes, used: Math.round(used), all: whole.minutes, keys, moved, bring: { ...kBring, washes: kBring.washes.slice(0, 1), cloths: 1 } };
}

export function settings(scene: SceneName, now: number): Settings {
  const two = scene === "shared";
  return {
    head: head(scene, now, []), keepers: two ? ["IH", "TR"] : [], by_room: false, away: [],
    caves: caves(scene, now).map(({ id, name, boards }) => ({ id, name, care_days: [], shelves: boards.map((b) => b.place) })),
  };
}

export function faults(scene: SceneName, now: number): Faults {
  const rinds: Faults["faults"][number]["rinds"] = (["fresh and white", "natural and pressed", "washed", "blue"] as const).map((rind) => ({
    rind, ages: { from: 0 }, mask: true, sisters: true, neighbours: true, known: "Dry rinds past two months, dust on the boards.", caution: "No dry sweeping.",
    now: [{ order: "Take these outside.", more: "Not past the young wheels." }, { order: "Brush, then oil them." }, { order: "Wash and dry the board." }],
    then: [{ in_days: 9, kinds: ["brush", "oil"], instead_of: ["brush"], words: "brush outside, oil" }], look_again_days: 3, apart: true, hold: false,
  }));
  return { head: head(scene, now, []), faults: [{ what: "mite dust", rinds }] };
}

/** A fixed generator: the same pictures each time. */
function dice(seed: number): () => number {
  let state = seed;
  return () => ((state = (state * 1664525 + 1013904223) % 4294967296) / 4294967296);
}

function walk(seed: number, now: number, base: number, swing: number, noise: number, end?: { hours: number; rise: number; tau: number }): [number, number][] {
  const roll = dice(seed);
  let x = 0;
  return Array.from({ length: 289 }, (_, i) => {
    const hours = -24 + i / 12;
    x = 0.86 * x + (roll() - 0.5) * noise;
    const rise = end && hours > end.hours ? end.rise * (1 - Math.exp(-(hours - end.hours) / end.tau)) : 0;
    return [now + hours * kHour, base + swing * Math.sin(((hours + 3) / 24) * 2 * Math.PI) + x + rise];
  });
}

const unwatched: Channel = { state: "not watched", watched: false, borrowed: false, judged: false, side: 0 };

function channel(trace: [number, number][], band: Channel["band"], target: Channel["target"], more: Partial<Channel> = {}): Channel {
  const last = trace[trace.length - 1]!;
  return { state: "in band", watched: true, borrowed: false, judged: true, mean: last[1], latest: last[1], latest_at: last[0], side: 0, ...(band ? { band } : {}), ...(target ? { target } : {}), ...more };
}

const wheelsOn = (first: number, count: number, state: WheelStateWord): BoardWheel[] => Array.from({ length: count }, (_, i) => ({ id: first + i, state, number: i + 1, lot: 1, marked: false, held: false, cut: false }));
const emptyRibbon = (now: number): Ribbon => ({ from: now - 24 * kHour, to: now, temperature: [], humidity: [], bands: [], marks: [] });

export function caves(scene: SceneName, now: number): Cave[] {
  if (scene === "empty") return [];
  const hot = scene === "alarm";
  const from = now - 24 * kHour;
  const fridgeT = hot ? walk(21, now, 12.5, 0.3, 0.3, { hours: -3.2, rise: 4.1, tau: 1.6 }) : walk(3, now, 12.4, 0.6, 0.2);
  const fridgeH = walk(5, now, 79, 2, 0.8);
  const boxH = walk(9, now, 91.6, 0.3, 0.2, { hours: -9, rise: 3.9, tau: 4.5 });
  const gap = { from: at(1, 40), to: at(3, 20) };
  const open = (p: [number, number]) => p[0] < gap.from || p[0] > gap.to;
  const cellarT = walk(11, now, 11.6, 0.7, 0.2).filter(open);
  const cellarH = walk(12, now, 87, 2.2, 0.8).filter(open);
  const fridgeBand = { low: 11, high: 14 };
  const borrowed = channel(fridgeT, undefined, undefined, { borrowed: true, watched: false });
  return [
    { id: 1, kind: "fridge", name: "Fridge", state: hot ? "out of band" : "in band", temperature: channel(fridgeT, fridgeBand, { low: 12, high: 13 }, hot ? { state: "out of band", side: 1 } : {}),
      humidity: channel(fridgeH, undefined, undefined, { judged: false }), boards: [], gaps: [], does_not_suit: [],
      ribbon: { from, to: now, temperature: fridgeT, humidity: fridgeH, bands: [{ from, temperature: fridgeBand }], marks: [{ at: at(4, 5), kind: "door" }, { at: at(6, 51), kind: "round" }, { at: at(22, 10) - 24 * kHour, until: at(22, 28) - 24 * kHour, kind: "defrost" }, { at: at(17, 20) - 24 * kHour, until: at(18, 30) - 24 * kHour, kind: "delivery" }],
        ...(hot ? { ahead: ahead(now, fridgeT[fridgeT.length - 1]![1]) } : {}) } },
    { id: 2, kind: "box", name: "Box 1", inside: 1, state: "drifting", temperature: borrowed, humidity: channel(boxH, { low: 90, high: 96 }, { low: 92, high: 95 }, { state: "drifting", side: 1, out_by: at(10, 0) }),
      boards: [{ place: "Box 1", wheels: [...wheelsOn(200, 6, "rind forming"), ...wheelsOn(210, 4, "ripening")] }], gaps: [], does_not_suit: [],
      ribbon: { ...emptyRibbon(now), humidity: boxH, bands: [{ from, humidity: { low: 90, high: 96 } }] } },
    { id: 3, kind: "box", name: "Box 2", inside: 1, state: "not watched", temperature: borrowed, humidity: unwatched, boards: [{ place: "Box 2", wheels: wheelsOn(300, 2, "ripening") }], gaps: [], does_not_suit: [], ribbon: emptyRibbon(now) },
    { id: 4, kind: "counter", name: "Counter", state: "not watched", temperature: unwatched, humidity: unwatched, boards: [{ place: "Counter", wheels: wheelsOn(400, 1, "drying") }], gaps: [], does_not_suit: [], ribbon: emptyRibbon(now) },
    { id: 5, kind: "room", name: "Cellar", state: "in band", temperature: channel(cellarT, { low: 10, high: 13.5 }, { low: 11, high: 12 }), humidity: channel(cellarH, { low: 82, high: 92 }, { low: 85, high: 88 }),
      boards: [{ place: "A1", wheels: wheelsOn(500, 9, "rind forming") }, { place: "A2", wheels: wheelsOn(600, 14, "ripening") }, { place: "B1", wheels: wheelsOn(700, 9, "ready") }, { place: "B3", wheels: wheelsOn(800, 18, "ready") }],
      gaps: [gap], does_not_suit: [],
      ...(scene === "flood" ? { gas: [{ kind: "carbon dioxide" as const, latest: 16_200, latest_at: now - 60_000, speaks: true, grade: "urgent" as const, bars: true as const, watch: 2500, act: 5000, urgent: 15_000 }, { kind: "ammonia" as const, latest: 6, latest_at: now - 60_000, speaks: true, grade: "low" as const, watch: 15, act: 25 }], here_until: now + 40 * 60_000, quiet_until: now + 40 * 60_000 } : {}),
      ribbon: { from, to: now, temperature: cellarT, humidity: cellarH, bands: [{ from, temperature: { low: 10, high: 13 }, humidity: { low: 82, high: 95 } }, { from: at(4, 0), temperature: { low: 10, high: 13.5 }, humidity: { low: 82, high: 92 } }], marks: [{ at: at(7, 0) - 14 * kHour, kind: "door" }] } },
  ];
}

export function alarms(scene: SceneName): Alarm[] {
  if (scene === "flood") return flood(kStart);
  if (scene !== "alarm") return [];
  return [{
    id: "f".repeat(32), kind: "too warm", severity: "act", cave: 1, cave_name: "Fridge", since: at(4, 20), raised: at(4, 50), value: 16.2, extreme: 16.2, dose: 5, band: { low: 11, high: 14 },
    wheels: [{ count: 6, family: "bloomies", cave_name: "Box 1", state: "rind forming" }, { count: 4, family: "wrapped", cave_name: "Box 1", state: "ripening" }, { count: 2, family: "washed", cave_name: "Box 2", state: "ripening" }],
    why: "band",
    concerns: [{ count: 6, family: "bloomies", cave_name: "Box 1", state: "rind forming", grams: 250, own: 13.62, soonest: kHour, latest: 2 * kHour },
      { count: 4, family: "wrapped", cave_name: "Box 1", state: "ripening", grams: 250, soonest: 2 * kHour, latest: 4 * kHour },
      { count: 2, family: "washed", cave_name: "Box 2", state: "ripening", grams: 1500, soonest: 5.8 * kHour, latest: 10.8 * kHour }],
    first: ["Shut the door.", "Listen: does the plant run? Do not open it.", "Still warm at 08:00: carry Box 1 to the cellar."], found_later: false,
  }];
}

export function wheels(scene: SceneName): Wheel[] {
  if (scene === "empty") return [];
  const wheel = (id: number, name: string, more: Partial<Wheel>): Wheel => ({
    id, name, lot: "", lot_id: 0, number: 1, marks: [], left: 1, family: "tomme", plan: { id: "pressed", version: 1 }, rind: "natural and pressed", place: "A2", age: 26, made: day(26), counts_from: { start: "made", day: day(26), reckoned: false },
    day: 26, stage: "ripening", state: "ripening", past_plan: false, ...more,
  });
  const many = (first: number, count: number, name: string, more: Partial<Wheel>) => Array.from({ length: count }, (_, i) => wheel(first + i, `${name} ${i + 1}`, { number: i + 1, ...more }));
  return [
    ...many(200, 6, "Bloomy", { lot: "221", family: "bloomy", rind: "fresh and white", cave: 2, place: "Box 1", age: 8, made: day(8), day: 7, counts_from: { start: "dry", day: day(7), reckoned: false }, stage: "growing", state: "rind forming", next: { kinds: ["turn", "pat"], due: "2026-11-27" } }),
    ...many(400, 1, "Tomme", { lot: "222", cave: 4, place: "Counter", age: 1, made: day(1), day: 1, counts_from: { start: "made", day: day(1), reckoned: false }, stage: "drying", state: "drying", next: { kinds: ["turn"], due: kToday } }),
    ...many(600, 14, "Tomme", { lot: "214", cave: 5, next: { kinds: ["turn"], due: kToday }, ready: { from: "2026-12-30", to: "2027-03-30" }, grams: 2310, counts_from: { start: "entered cave", day: day(22), reckoned: true }, day: 22 }),
    ...many(700, 9, "Tomme", { lot: "208", cave: 5, place: "B1", age: 61, made: day(61), counts_from: { start: "made", day: day(61), reckoned: false }, day: 61, stage: "ready", state: "ready", next: { kinds: ["brush", "turn"], due: "2026-11-23", late_since: "2026-11-23" } }),
  ];
}

export function wheelPage(scene: SceneName, now: number, wheel: Wheel, on: Alarm[]): WheelPage {
  const roll = dice(4);
  const turned = [22, 21, 20, 19, 18, 17, 16, 14, 12, 10, 8, 6, 4, 2].filter((back) => back <= wheel.age);
  const back = (days: number) => day(wheel.age - days);
  return {
    head: head(scene, now, on), wheel, weighings: [],
    stages: [
      { name: "drying", state: "drying", from: back(0), to: back(3), cares: ["turn twice a day"] },
      { name: "rind forming", state: "rind forming", from: back(4), to: back(20), target_temperature: { low: 11, high: 12 }, target_humidity: { low: 85, high: 88 }, temperature: { low: 10, high: 13 }, cares: ["turn every day"] },
      { name: "ripening", state: "ripening", from: back(21), to: back(59), temperature: { low: 10, high: 13 }, target_temperature: { low: 10, high: 13 }, target_humidity: { low: 88, high: 95 }, cares: ["turn every 2 days", "brush every 14"] },
      { name: "ready", state: "ready", from: back(60), to: back(150), cares: ["turn twice a week"] },
    ],
    cares: turned.map((days, i) => ({ at: now - days * 86_400_000, day: day(days), kinds: i === 2 || i === 9 ? ["rub" as const, "turn" as const] : ["turn" as const], skipped: [], keeper: i % 3 ? "IH" : "TR", id: String(days).padStart(32, "0"), undone: i === 4, before_watch: days > 20, not_written: false })),
    next: [{ kinds: ["turn"], due: "2026-11-28", window_end: "2026-11-29" }, { kinds: ["brush", "turn"], due: "2026-11-29", window_end: "2026-12-01" }],
    not_done: wheel.age > 20 ? [{ kinds: ["brush"], due: day(9) }] : [],
    climate: Array.from({ length: 22 }, (_, i) => i).filter((i) => i !== 14).map((i) => ({ day: day(22 - i), low: 10.7 + roll() * 0.6, high: 12 + roll() * (i === 10 ? 4 : 0.8) })),
    bands: [{ from: now - wheel.age * 86_400_000, temperature: { low: 10, high: 13 } }],
    unknown: [{ from: now - 8.5 * 86_400_000, to: now - 7.5 * 86_400_000 }],
    excursions: wheel.age > 20 ? [{ kind: "too warm", from: now - 12 * 86_400_000, to: now - 12 * 86_400_000 + 3 * kHour, extreme: 16.1, what: "plant" }] : [],
    cautions: ["In band is not safe to eat: hygiene, testing and the law decide.", "Mite dust: wear a mask when you brush."],
    entered: now - 20 * 86_400_000,
  };
}

export function journal(scene: SceneName): JournalLine[] {
  if (scene === "empty") return [];
  let position = 100;
  const entry = (when: number, kind: JournalLine["kind"], more: Partial<JournalLine>): JournalLine => ({ position: ++position, id: String(position).padStart(32, "0"), at: when, received_at: when, kind, late_entry: false, undone: false, count: 0, ...more });
  const before = (hour: number, minute: number) => at(hour, minute) - 86_400_000;
  const silent = { id: "1", kind: "probe silent" as const, severity: "watch" as const, since: at(1, 40), extreme: 0, dose: 0, value: 0, found_later: false };
  const warm = { id: "2", kind: "too warm" as const, severity: "act" as const, since: at(4, 20), extreme: 16.2, dose: 9, value: 16.2, found_later: false };
  return [
    entry(before(14, 20), "gone", { keeper: "TR", count: 12, family: "tomme", lot: "201", what: "sold" }),
    entry(before(20, 30), "care", { keeper: "IH", count: 14, place: "A2", done: ["turn"], late_entry: true, received_at: at(6, 40) }),
    entry(before(22, 10), "note", { keeper: "IH", text: "Fridge defrosts more often than last week." }),
    entry(at(1, 40), "alarm", { cave: 5, cave_name: "Cellar", alarm: { ...silent, change: "raised" } }),
    entry(at(3, 20), "alarm", { cave: 5, cave_name: "Cellar", alarm: { ...silent, change: "over" } }),
    entry(at(4, 20), "alarm", { cave: 1, cave_name: "Fridge", count: 12, alarm: { ...warm, change: "raised" } }),
    entry(at(6, 51), "care", { keeper: "IH", count: 6, place: "Box 1", done: ["turn", "pat"] }),
    entry(at(6, 58), "care", { keeper: "IH", count: 9, place: "A1", done: ["turn"], skipped: ["wash"], reason: "rind wet", undone: true }),
    entry(at(7, 2), "undo", { keeper: "IH", of: { kind: "care", at: at(6, 58), done: ["turn"] } }),
    entry(at(7, 8), "take", { keeper: "IH", cave: 1, cave_name: "Fridge", alarm: { ...warm, change: "raised" } }),
    entry(at(7, 9), "called", { keeper: "IH", cave: 1, cave_name: "Fridge", what: "door" }),
    entry(at(7, 12), "alarm", { cave: 1, cave_name: "Fridge", alarm: { ...warm, change: "over" } }),
  ];
}

export function plans(scene: SceneName, now: number, on: Alarm[]): Plans {
  return {
    head: head(scene, now, on),
    caves: caves(scene, now).map(({ id, kind, name, inside }) => ({ id, kind, name, ...(inside === undefined ? {} : { inside }) })),
    plans: [
      { id: "bloomy", version: 1, family: "bloomy", rind: "fresh and white", rind_words: "white and furry", cares: ["turn", "pat", "wrap"], cautions: [],
        parts: [{ start: "dry", question: "Dry to the touch?", usual_low: 1, usual_high: 2, cares: ["turn", "pat"] }] },
      { id: "pressed", version: 1, family: "pressed, brine-washed", rind: "natural and pressed", rind_words: "pale, pressed, bare", cares: ["turn", "wash", "brush"], cautions: [],
        parts: [{ start: "salted", question: "Out of the brine?", usual_low: 1, usual_high: 1, cares: ["turn"] }, { start: "entered box", question: "Dry? Into the box?", usual_low: 2, usual_high: 3, cares: ["turn", "wash"] }] },
    ],
  };
}

export function arriving(scene: SceneName, now: number, on: Alarm[]): Arriving {
  return {
    head: head(scene, now, on), connected: true, broker: "127.0.0.1:1883",
    topics: [
      { topic: "cellar/fridge/air", sample: "{\"t\":12.41,\"rh\":79,\"bat\":2.91}", at: now - 4_000, count: 311, routed: { probe: "fridge", cave_name: "Fridge" }, values: [] },
      { topic: "cellar/box1/humidity", sample: "93.4", at: now - 12_000, count: 52, values: [{ pointer: "", value: 93.4, guess: "humidity" }] },
      { topic: "cellar/b2/state", sample: "{\"temperature\":12.6,\"humidity\":0.88,\"battery\":97,\"at\":1795673640}", at: now - 2_000, count: 118,
        values: [{ pointer: "/temperature", value: 12.6, guess: "temperature" }, { pointer: "/humidity", value: 0.88, guess: "humidity" }, { pointer: "/battery", value: 97, guess: "battery" }, { pointer: "/at", value: 1795673640, guess: "time" }] },
      { topic: "cellar/bell", sample: "ring", at: now - 600_000, count: 2, values: [] },
    ],
  };
}

// What the invented house answers of plans, absences, what is ahead, and the days that count. Invented, like the rest.
import type {
  AheadPage, AwayPlan, Day, Fit, Head, PlanEdit, PlanPage, PlanPreview, PlanText, PreviewDay, Qualifying, Returned, Settings, Wheel, WheelPage,
} from "../../../web/page/src/api.ts";

const kDay = 86_400_000;
const plus = (day: Day, n: number): Day => new Date(Date.parse(`${day}T00:00:00Z`) + n * kDay).toISOString().slice(0, 10);
const practice = "common practice";

/** A tomme's plan, for looks. */
const tomme: PlanText = {
  id: "pressed", version: 3, family: "Tomme", rind: "natural and pressed", text: 'format = 1\nid = "pressed"\nversion = 3\n',
  ready: { low: 60, high: 150, source: practice, counted_from: "made" },
  cautions: ["In band is about quality. It does not show that the cheese is safe to eat.", "Brush away from other wheels, with a mask: mite dust can harm the lungs."],
  parts: [
    { start: "made", question: "", stages: [
      { name: "drying", state: "drying", first_day: 1, last_day: 3, counts: false, source: practice, cares: [{ kinds: ["turn"], brings: [], morning_and_evening: true, note: "Both faces dry evenly.", source: practice, cautions: [] }] }] },
    { start: "entered cave", question: "Dry to the touch?", usual_days: { low: 2, high: 4, source: practice }, stages: [
      { name: "rind forming", state: "rind forming", first_day: 1, last_day: 20, counts: true, source: practice, temperature_band: { low: 10, high: 13, source: practice }, temperature_target: { low: 11, high: 12, source: practice },
        humidity_band: { low: 90, high: 96, source: practice }, cares: [
          { kinds: ["turn"], brings: [], every_days: 1, note: "", source: "farm notes, 2022", cautions: [] },
          { kinds: ["wash"], brings: ["turn"], on_day: 7, note: "A damp cloth.", source: practice, cautions: ["Fresh for each round; young before old, never the other way round."],
            wash: { salt: { low: 3, high: 5, source: practice }, additions: [{ name: "annatto", ml_per_litre: 2, source: practice }], note: "" } }] },
      { name: "ripening", state: "ripening", first_day: 21, last_day: 60, counts: true, source: practice, temperature_band: { low: 10, high: 13, source: practice }, humidity_band: { low: 88, high: 95, source: "one farm’s notes have 95 to 96" }, cares: [
        { kinds: ["turn"], brings: [], every_days: 2, note: "", source: "farm notes, 2022; every second day", cautions: [] },
        { kinds: ["brush"], brings: ["turn"], every_days: 14, note: "Dusty? Mask.", source: practice, cautions: [] }] }],
      branch: { question: "Sell young, keep on?", asked_from: 60, default_option: "keep on", options: [{ name: "sell young", stages: [] }, { name: "keep on", stages: [
        { name: "ageing", state: "ready", first_day: 61, last_day: 150, counts: true, source: practice, temperature_band: { low: 9, high: 13, source: practice }, humidity_band: { low: 85, high: 92, source: practice }, cares: [
          { kinds: ["turn"], brings: [], times_a_week: 2, note: "", source: practice, cautions: [] }] }] }] } },
  ],
};

const planPage = (head: Head): PlanPage => ({
  head, plan: tomme, wheels: Array.from({ length: 14 }, (_, i) => 600 + i),
  versions: [{ version: 1, wheels: 0 }, { version: 2, at: head.now - 90 * kDay, keeper: "TR", wheels: 9 }, { version: 3, at: head.now - 20 * kDay, keeper: "IH", wheels: 14 }],
});

function month(today: Day, brush: number, first: number): PreviewDay[] {
  const days: PreviewDay[] = [];
  let turned = -1;
  for (let n = 1; n <= 30; n += 1) {
    const brushes = n >= first && (n - first) % brush === 0;
    if (brushes || n - turned >= 2) {
      days.push({ day: plus(today, n), kinds: brushes ? ["brush", "turn"] : ["turn"] });
      turned = n;
    }
  }
  return days;
}

export function preview(head: Head, asked: { edits?: PlanEdit[]; text?: string }): PlanPreview {
  const every = asked.edits?.find((e) => e.set?.every_days !== undefined)?.set?.every_days ?? 14;
  const faulty = asked.text?.includes("low = 14, high = 10") ?? false;
  return {
    head, text: tomme.text, faults: faulty ? [{ line: 12, field: "temperature_band", what: "low is 14, above high, which is 10" }] : [],
    before: month(head.day, 14, 3), after: month(head.day, every, 3), minutes_before: 46, minutes_after: every < 14 ? 66 : 46, changed: every === 14 ? [] : [`brush, turn: every ${every} days, was 14`], same: false,
  };
}

function away(head: Head, from: Day, back: Day): AwayPlan {
  const d = (n: number) => plus(from, n);
  const visits: AwayPlan["visits"] = [
    { day: d(3), minutes: 8, lines: [
      { place: "Box 1", cave_name: "Box 1", box: true, rind: "fresh and white", age_group: 0, kinds: ["turn"], count: 6 },
      { place: "A1", cave_name: "Cellar", box: false, rind: "natural and pressed", age_group: 0, kinds: ["turn"], count: 9 },
      { place: "Box 2", cave_name: "Box 2", box: true, rind: "washed", age_group: 0, kinds: ["turn"], count: 2 }] },
    { day: d(6), minutes: 12, lines: [
      { place: "Box 1", cave_name: "Box 1", box: true, rind: "fresh and white", age_group: 0, kinds: ["turn"], count: 6 },
      { place: "A1", cave_name: "Cellar", box: false, rind: "natural and pressed", age_group: 0, kinds: ["turn"], count: 9 },
      { place: "A2", cave_name: "Cellar", box: false, rind: "natural and pressed", age_group: 0, kinds: ["turn"], count: 14 },
      { place: "Box 2", cave_name: "Box 2", box: true, rind: "washed", age_group: 0, kinds: ["turn"], count: 2 }] },
  ];
  const window = (a: number, b: number, kinds: AwayPlan["lanes"][number]["windows"][number]["kinds"]) => {
    const visit = visits.find((v) => v.day >= d(a) && v.day <= d(b))?.day;
    return { from: d(a), to: d(b), kinds, ...(visit ? { visit } : {}) };
  };
  return {
    head, from, back,
    visits,
    lanes: [
      { place: "Box 1", cave: 2, windows: [window(2, 4, ["turn"]), window(5, 6, ["turn"])] },
      { place: "Box 2", cave: 3, windows: [window(2, 4, ["turn"]), window(5, 7, ["turn"])] },
      { place: "A1", cave: 5, windows: [window(2, 5, ["turn"]), window(6, 7, ["turn"])] },
      { place: "A2", cave: 5, windows: [window(5, 7, ["turn"])] },
      { place: "B1", cave: 5, windows: [window(5, 7, ["brush", "turn"])] },
      { place: "B3", cave: 5, windows: [window(5, 7, ["brush", "turn"])] },
      { place: "Counter", cave: 4, windows: [window(1, 3, ["turn"])] },
    ],
    without: [{ place: "A2", until: d(7) }, { place: "B1", until: d(7) }, { place: "B3", until: d(8) }],
    no_visit: [{ place: "Box 1", what: "stays wet, slime likely", harm: "slime" }, { place: "A1, Box 2", what: "miss two turns", harm: "sticks" }],
    before: [
      { place: "A2, B1, B3", cave: 5, kinds: ["turn"], wheels: [600, 601, 700], count: 37, minutes: 5 },
      { place: "A1", cave: 5, kinds: ["wash", "turn"], wheels: [500], count: 9, minutes: 5 },
      { place: "Box 1, Box 2", cave: 2, kinds: [], wheels: [], count: 8, minutes: 1, lid: true },
    ],
    normal: ["sheet.normal.white", "sheet.normal.grey", "sheet.normal.orange", "sheet.normal.drops"], marked: [{ act: "9".repeat(32), from: plus(head.day, -9), back: plus(head.day, -4), caves: [] }],
  };
}

const returned = (head: Head, from: Day, back: Day): Returned => ({
  head, from, back,
  done: [{ at: head.now - 6 * kDay, keeper: "helper", kinds: ["turn"], place: "Box 1", count: 6 }, { at: head.now - 6 * kDay + 600_000, keeper: "helper", kinds: ["turn"], place: "A1", count: 9 }],
  not_visited: [{ place: "A2", kinds: ["turn"], count: 14, due: plus(from, 3) }, { place: "B1", kinds: ["brush", "turn"], count: 9, due: plus(from, 4) }],
  caves: [{ cave: 1, name: "Fridge", low: 11.2, high: 14.9, unknown_hours: 0 }, { cave: 5, name: "Cellar", low: 10.6, high: 12.4, unknown_hours: 5.5 }, { cave: 4, name: "Counter", unknown_hours: 0 }],
  alarms: [{ kind: "too warm", cave_name: "Fridge", from: head.now - 5 * kDay, to: head.now - 5 * kDay + 3 * 3_600_000, extreme: 16.1, what: "door" }],
  questions: 1,
});

function ahead(head: Head, weeks: number, wanted: Day | undefined): AheadPage {
  const monday = plus(head.day, -3);
  const some: Record<number, [AheadPage["weeks"][number]["ready"], AheadPage["weeks"][number]["eat_by"]]> = {
    0: [[{ wheels: ids(800, 14), lot: "205", family: "Tomme", from: plus(head.day, -30), to: plus(head.day, 75), young: false }, { wheels: ids(700, 9), lot: "208", family: "Tomme", from: plus(head.day, -1), to: plus(head.day, 89), young: false }], []],
    1: [[{ wheels: ids(210, 4), lot: "218", family: "Bloomy", from: plus(head.day, 9), to: plus(head.day, 23), young: false }], []],
    2: [[{ wheels: ids(300, 2), lot: "217", family: "Washed rind", from: plus(head.day, 11), to: plus(head.day, 43), young: false }, { wheels: ids(200, 6), lot: "221", family: "Bloomy", from: plus(head.day, 13), to: plus(head.day, 27), young: false },
      { wheels: ids(500, 9), lot: "220", family: "Pressed semi-hard, brine-washed", from: plus(head.day, 15), young: true }], []],
    3: [[], [{ wheels: ids(210, 4), lot: "218", family: "Bloomy", by: plus(head.day, 23) }]],
    4: [[], [{ wheels: ids(200, 6), lot: "221", family: "Bloomy", by: plus(head.day, 27) }]],
    5: [[{ wheels: ids(600, 14), lot: "214", family: "Tomme", from: plus(head.day, 34), to: plus(head.day, 124), young: false }], []],
  };
  const minutes = [[-1, -1, -1, 15, 9, 31, 23], [0, 12, 6, 12, 9, 21, 12], [6, 9, 11, 10, 4, 24, 12], [5, 9, 8, 6, 10, 22, 8], [5, 8, 5, 4, 9, 20, 8], [5, 8, 6, 4, 9, 19, 7], [4, 7, 5, 4, 8, 17, 6]];
  return {
    head,
    weeks: Array.from({ length: weeks }, (_, i) => ({ monday: plus(monday, 7 * i), minutes: minutes[Math.min(i, 6)]!, ready: some[i]?.[0] ?? [], eat_by: some[i]?.[1] ?? [] })),
    busiest: { day: plus(head.day, 2), minutes: 31 },
    ...(wanted ? { wanted: { day: wanted, ready: 25, past: 10, make: [
      { plan: "pressed", family: "Tomme", from: plus(wanted, -150), to: plus(wanted, -60), young: false, possible: false }, { plan: "washed", family: "Washed rind", from: plus(wanted, -60), to: plus(wanted, -28), young: false, possible: true },
      { plan: "bloomy", family: "Bloomy", from: plus(wanted, -35), to: plus(wanted, -21), young: false, possible: true }] } } : {}),
  };
}

const ids = (first: number, count: number): number[] => Array.from({ length: count }, (_, i) => first + i);

const settings = (head: Head): Settings => ({
  head, keepers: ["IH", "TR"], by_room: false, feed: "/calendar/2f7c0de1a9b34466/round.ics",
  caves: [{ id: 1, name: "Fridge", care_days: [], shelves: [] }, { id: 2, name: "Box 1", care_days: [2, 5], shelves: [] }, { id: 5, name: "Cellar", care_days: [6], shelves: ["A1", "A2", "B1", "B3"] }],
  away: [{ act: "9".repeat(32), from: plus(head.day, 7), back: plus(head.day, 17), caves: [] }],
});

const fit = (head: Head): Fit => ({
  head, shared: { temperature: { low: 11, high: 13 } }, advice: ["A box of its own with the lid a finger open."], lawful_after_ready: true,
  costs: [{ family: "Tomme", count: 14, where: ["Cellar"], channel: "humidity", by: 4, newcomer: false, what: "4 points too damp for them" }],
  later: [],
});

export function answers(url: URL, head: Head): unknown {
  const [, , place, id] = url.pathname.split("/");
  const from = url.searchParams.get("from") ?? plus(head.day, 1);
  const back = url.searchParams.get("back") ?? plus(head.day, 8);
  switch (place) {
    case "plans": return id ? planPage(head) : undefined;
    case "away": return away(head, from, back);
    case "returned": return returned(head, from, back);
    case "ahead": return ahead(head, Number(url.searchParams.get("weeks") ?? 9), url.searchParams.get("wanted") ?? undefined);
    case "settings": return settings(head);
    case "fit": return fit(head);
    default: return undefined;
  }
}

/** The days of lot 208: most proven, three vouched for, two too cold, four without a reading. */
function qualifying(made: Day, now: number): Qualifying {
  const days = Array.from({ length: 61 }, (_, n): Qualifying["days"][number] => {
    const day = plus(made, n);
    if (n >= 17 && n < 20) return { day, is: "vouched" };
    if (n === 30 || n === 31) return { day, is: "missing", low: n === 30 ? 0.9 : 1.2 };
    if (n >= 40 && n < 44) return { day, is: "unproven" };
    return { day, is: "proven", low: 10.6 };
  });
  return {
    rule: { name: "60 days at 1.7 °C or more", start: "made", min_celsius: 1.7, min_days: 60, not_counting: [], vouching: true, typed_by: "IH", typed_at: now - 55 * kDay },
    proven: 52, vouched: 3, missing: 2, unproven: 4, not_counting: 0, counted: 55, of: 60, earliest: plus(made, 66), reached: false, lawful_after_ready: false, days,
    vouches: [{ act: "8".repeat(32), from: plus(made, 17), to: plus(made, 19), name: "TR", reason: "door shut, no frost" }],
  };
}

/** A wheel with all that a keeper may have said of it. */
export function whole(wheel: Wheel, now: number): Wheel {
  const lot_id = Number(wheel.lot) || wheel.id;
  const number = (wheel.id % 100) + 1;
  const shared: Wheel = { ...wheel, lot_id, number, marks: [], left: 1, plan: { id: "pressed", version: 3 } };
  if (wheel.id === 603) return { ...shared, left: 0.5, cut_at: now - 2 * kDay, held: { at: now - kDay, why: "waits for its test" }, own_band: { temperature: { low: 9, high: 12 } },
    marks: [{ what: "mite dust", at: now - 3 * kDay, look_again: plus("2026-11-26", 2), act: "7".repeat(32) }], branch: { option: "keep on", options: ["sell young", "keep on"], default: true } };
  if (wheel.lot === "208") return { ...shared, qualifying: qualifying(wheel.made, now) };
  return shared;
}

export const weighings = (wheel: Wheel, now: number): WheelPage["weighings"] =>
  wheel.lot === "214" ? [{ at: now - 26 * kDay, day: plus("2026-11-26", -26), grams: 2310 }, { at: now - 4 * kDay, day: plus("2026-11-26", -4), grams: 2170 }] : [];

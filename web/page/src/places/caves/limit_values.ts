// Limits as figures with their units, and what this phone has changed of them. Pure but for words.
import type { Alarm, AlarmWord, Instant, LimitsPage, Span, TriedLimits } from "../../api";
import { lastingExactly } from "../../figures";
import { alarmWord, clockWord, toldSince, ppm } from "../../parts/alarm_words";
import type { Entry } from "../../queue/entry";
import { t, unbroken, type WordKey } from "../../words";

export type Row = LimitsPage["rows"][number];

/** All that is typed for a cave. */
export interface Typed {
  temperature?: Span;
  humidity?: Span;
  settings: Record<string, number>;   // only what differs from the usual
  off: AlarmWord[];
  ready_cheese: boolean;
}

const plain = (value: number) => String(Math.round(value * 1000) / 1000).replace("-", "−");

/** "1 h", "1.5°", "22:00", "78 %", "4 days". */
export function limitWord({ unit }: Pick<Row, "unit">, value: number): string {
  switch (unit) {
    case "min": return lastingExactly(value);
    case "K": return t("unit.kelvin", { value: plain(value) });
    case "K h": return t("unit.degree-hours", { value: plain(value) });
    case "points": return t("unit.points", { value: plain(value) });
    case "times": return t("unit.times", { value: plain(value) });
    case "share": return unbroken(`${Math.round(value * 100)} %`);
    case "days": return `${plain(value)}\u00a0${t(value === 1 ? "unit.days.one" : "unit.days.other")}`;
    case "ppm": return t("figure.ppm", { value: ppm(value) });
    case "o'clock": return `${String(Math.floor(value)).padStart(2, "0")}:${String(Math.round((value % 1) * 60)).padStart(2, "0")}`;
    default: return `${plain(value)}\u00a0${unit}`;
  }
}

/** By how much one tap changes it. */
export function limitStep(row: Pick<Row, "unit" | "usual">, value = row.usual): number {
  switch (row.unit) {
    case "min": return value < 15 ? 1 : value < 60 ? 5 : value < 240 ? 15 : 60;
    case "K": return row.usual <= 1 ? 0.1 : 0.5;
    case "share": return 0.02;
    case "times": return 0.1;
    case "g": return 50;
    case "points": return row.usual < 2 ? 0.5 : 1;
    case "ppm": return row.usual > 100 ? 100 : 1;
    case "o'clock": case "°C": return 0.5;
    case "%": return row.usual > 90 ? 0.5 : 1;
    default: return 1;
  }
}

export const groupOf = (row: Pick<Row, "id">) => row.id.slice(0, row.id.indexOf(":"));

/** Rows under the heads that they share, in their order. */
export function grouped(rows: Row[]): { group: string; rows: Row[] }[] {
  const groups: { group: string; rows: Row[] }[] = [];
  for (const row of rows) {
    const last = groups[groups.length - 1];
    if (last?.group === groupOf(row)) last.rows.push(row);
    else groups.push({ group: groupOf(row), rows: [row] });
  }
  return groups;
}

/** The kind of alarm that a group of limits belongs to, where leaving it out here is the keeper's to say. */
export const kKindOf: Partial<Record<string, AlarmWord>> = {
  "too warm": "too warm", "too cold": "too cold", "too dry": "too dry", "too damp": "too damp", condensation: "condensation", silent: "probe silent", stuck: "probe stuck",
  wet: "probe wet", disagree: "probes disagree", battery: "battery low", plant: "plant weak", door: "door open", power: "power gone", humidifier: "humidifier dry", drain: "drain blocked",
};

/** The rule of a group as text with its rows where their figures stand: {watch after} is the row "too warm: watch after". */
export function toldIn(group: string, rows: Row[]): (string | Row)[] {
  return t(`limits.said.${group}` as WordKey).split(/\{([^}]+)\}/).map((piece, at) => (at % 2 === 0 ? piece : rows.find((row) => row.id === `${group}: ${piece}`) ?? ""));
}

/** Where the figures of a group come from, each source once. */
export const sourcesOf = (rows: Row[]): string[] => [...new Set(rows.map((row) => row.source))];

/** What rings or stands of a kind in a cave now, and would end with it. */
export const standsOf = ({ head, cave }: Pick<LimitsPage, "head" | "cave">, kind: AlarmWord): Alarm | undefined =>
  head.alarms.find((alarm) => alarm.kind === kind && alarm.cave === cave.id && alarm.over === undefined);

/** Said before it is done: that it stands, and will end as no longer judged. */
export const endsWord = (alarm: Alarm, now: Instant): string =>
  t("limits.out.stands", { alarm: t("alarm.title", { cave: alarm.cave_name, what: alarmWord(alarm) }), time: clockWord(toldSince(alarm), now) });

const bare = ({ low, high }: Span): Span => ({ low, high });

export function typedOf(page: LimitsPage): Typed {
  const { temperature, humidity } = page.typed;
  return {
    ...(temperature ? { temperature: bare(temperature) } : {}), ...(humidity ? { humidity: bare(humidity) } : {}),
    settings: Object.fromEntries(page.rows.filter((row) => row.value !== row.usual).map((row) => [row.id, row.value])),
    off: page.out_of_service, ready_cheese: page.ready_cheese,
  };
}

/** The page as it will be once what was tapped is known to the house. */
export function overLimits(page: LimitsPage, entries: Entry[]): LimitsPage {
  return entries.reduce((shown, { act }): LimitsPage => {
    if (act.kind === "limits" && act.cave === page.cave.id) {
      return { ...shown, typed: { ...(act.temperature ? { temperature: act.temperature } : {}), ...(act.humidity ? { humidity: act.humidity } : {}) } };
    }
    if (act.kind !== "watching" || act.cave !== page.cave.id) return shown;
    return { ...shown, ready_cheese: act.ready_cheese, out_of_service: act.off, rows: shown.rows.map((row) => ({ ...row, value: act.settings[row.id] ?? row.usual })) };
  }, page);
}

/** The same limits, with one of them changed; the usual value is no change. */
export function withSetting(typed: Typed, row: Pick<Row, "id" | "usual">, value: number): Typed {
  const { [row.id]: _, ...others } = typed.settings;
  return { ...typed, settings: value === row.usual ? others : { ...others, [row.id]: value } };
}

const spans = (l: Typed) => JSON.stringify([l.temperature, l.humidity]);
const watching = (l: Typed) => JSON.stringify([Object.entries(l.settings).sort(([a], [b]) => (a < b ? -1 : 1)), [...l.off].sort(), l.ready_cheese]);

/** What of it has to be written: the spans, the rest, or neither. */
export const changes = (draft: Typed, written: Typed) => ({ spans: spans(draft) !== spans(written), watching: watching(draft) !== watching(written) });

/** What a trial is told: only what is to differ from what was in force. Undefined: nothing is. */
export function tried(draft: Typed, written: Typed, rows: Row[]): TriedLimits | undefined {
  const settings = Object.fromEntries(rows.filter((row) => (draft.settings[row.id] ?? row.usual) !== row.value).map((row) => [row.id, draft.settings[row.id] ?? row.usual]));
  const off = draft.off.filter((kind) => !written.off.includes(kind)), judged = written.off.filter((kind) => !draft.off.includes(kind));
  const channels = ["temperature", "humidity"] as const;
  const typed = channels.filter((of) => draft[of] !== undefined && JSON.stringify(draft[of]) !== JSON.stringify(written[of]));
  const of_wheels = channels.filter((of) => draft[of] === undefined && written[of] !== undefined);
  const limits: TriedLimits = {
    ...Object.fromEntries(typed.map((of) => [of, draft[of]!])),
    ...(of_wheels.length > 0 ? { of_wheels } : {}), ...(Object.keys(settings).length > 0 ? { settings } : {}),
    ...(off.length > 0 ? { off } : {}), ...(judged.length > 0 ? { judged } : {}),
    ...(draft.ready_cheese !== written.ready_cheese ? { ready_cheese: draft.ready_cheese } : {}),
  };
  return Object.keys(limits).length > 0 ? limits : undefined;
}

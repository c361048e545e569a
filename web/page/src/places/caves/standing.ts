// How a cave stands, in words: state, side, band and target; and what the page may still claim when it is cut off.
import type { Alarm, Cave, CaveStateWord, Channel } from "../../api";
import { now } from "../../clock";
import { points, span } from "../../figures";
import { many, t } from "../../words";
import { wheelsOf } from "../../parts/names";
import { clockWord } from "../../parts/alarm_words";
import { isHumid, isOfAir } from "../../parts/kinds";

export interface Standing {
  state: CaveStateWord;
  side: -1 | 0 | 1;
  word: string;
  more: string;   // the band, or since when
}

function worst(cave: Cave): { channel: Channel; which: "temperature" | "humidity" } {
  const order: CaveStateWord[] = ["out of band", "unknown", "drifting", "in band", "not watched"];
  const rank = (c: Channel) => order.indexOf(c.state);
  // Of two that stand alike, a borrowed temperature is the fridge's matter.
  const humidityFirst = rank(cave.humidity) < rank(cave.temperature) || (cave.temperature.borrowed && rank(cave.humidity) === rank(cave.temperature));
  return humidityFirst ? { channel: cave.humidity, which: "humidity" } : { channel: cave.temperature, which: "temperature" };
}

function sideWord(which: "temperature" | "humidity", side: number, too: boolean): string {
  if (which === "temperature") return side < 0 ? t(too ? "side.too cold" : "side.cold") : t(too ? "side.too warm" : "side.warm");
  return side < 0 ? t(too ? "side.too dry" : "side.dry") : t(too ? "side.too damp" : "side.damp");
}

/** "11 to 14, 74 to 84": the bands of the channels that are judged and measured here. */
export function bands(cave: Cave): string {
  const temperature = cave.temperature.band && own(cave.temperature) ? [span(cave.temperature.band)] : [];
  const humidity = cave.humidity.band && cave.humidity.judged && own(cave.humidity) ? [span(cave.humidity.band, 0)] : [];
  return [...temperature, ...humidity].join(", ");
}

/** "12 to 13 °C, 85 %" */
export function targets(cave: Cave): string {
  const temperature = cave.temperature.target ? [`${span(cave.temperature.target)}\u00a0°C`] : [];
  const humidity = cave.humidity.target && cave.humidity.judged ? [`${span(cave.humidity.target, 0)}\u00a0%`] : [];
  return [...temperature, ...humidity].join(", ");
}

const kMostWants = 2; // targets that are told with whose they are; more are many plans, which no air suits best

/** "6 bloomies want 90 to 96 %, which this band does not hold.": of what is judged here. */
export const wants = (cave: Cave): string[] =>
  (["temperature", "humidity"] as const).filter((channel) => cave[channel].judged).flatMap((channel) => {
    const those = (cave.wants ?? []).filter((want) => want.channel === channel);
    if (those.length > kMostWants) return [t(`caves.wants many.${channel}`)];
    return those.map(({ target, wheels }) => {
      const count = wheels.reduce((sum, w) => sum + w.count, 0);
      const figure = channel === "temperature" ? `${span(target)}\u00a0°C` : `${span(target, 0)}\u00a0%`;
      return many("caves.wants", count, { wheels: wheels.map((w) => wheelsOf([w])).join(", "), target: figure });
    });
  });

/** By a probe of its own; a box that borrows a temperature is watched only through its fridge. */
const own = (channel: Channel) => channel.watched && !channel.borrowed;

/** Whether an alarm is about this channel. What is not of the air is about neither. */
const isAbout = (alarm: Alarm, which: "temperature" | "humidity") => isOfAir(alarm.kind) && isHumid(alarm.kind) === (which === "humidity");

function notWatched(cave: Cave): string {
  if (own(cave.temperature) || own(cave.humidity)) return t("state.only measured"); // no wheel there asks for a band
  if ((cave.temperature.watched || cave.temperature.borrowed) && !cave.humidity.watched) return t("state.humidity not watched");
  if (cave.humidity.watched && !cave.temperature.watched) return t("state.temperature not watched");
  return t("state.not watched");
}

/** A box without a probe of its own that keeps its borrowed temperature: nobody knows how damp it is. */
const onlyBorrows = (cave: Cave) => cave.state === "in band" && !own(cave.temperature) && !own(cave.humidity);

/** A box whose humidity nobody measures says so also while its air is too warm; and where it is measured and no wheel asks
    for any, the word of the warmth beside it must not be read for both. */
function unseen(cave: Cave): string {
  if (cave.humidity.watched && !cave.humidity.judged) return t("state.humidity not judged");
  return cave.kind === "box" && !cave.humidity.watched ? t("state.humidity not watched") : "";
}

const joined = (...parts: string[]) => parts.filter(Boolean).join(", ");

/** What a keeper does where no probe looks; where nothing lies there is nothing to look at. */
export function lookWord(cave: Pick<Cave, "kind" | "humidity" | "boards">): string {
  if (cave.kind !== "box" || cave.humidity.watched) return "";
  return t(cave.boards.length === 0 ? "caves.empty" : "caves.look");
}

/** What a keeper does where a box grows damp or dry, as the list of the morning says it. */
export function lidWord(cave: Cave): string {
  const { channel, which } = worst(cave);
  const ill = which === "humidity" && (cave.state === "drifting" || cave.state === "out of band");
  if (cave.kind !== "box" || !ill || channel.side === 0) return "";
  const what = t(channel.side > 0 ? "morning.open lid" : "morning.shut lid");
  return channel.band && channel.out_by ? t("caves.keep lid", { band: span(channel.band, 0), what: what[0]!.toLowerCase() + what.slice(1) }) : `${what}.`;
}

/** "Fridge air stuck 10:20 to 14:05: that stays unknown.": once for both channels of a probe. What lasts says the state. */
export function doubtWords({ doubts = [], ribbon }: Pick<Cave, "doubts" | "ribbon">, at: number): string[] {
  const over = doubts.filter((d) => d.to < ribbon.to);
  return [...new Set(over.map((d) => t(`caves.doubt.${d.kind}`, { probe: d.probe, from: clockWord(d.from, at), to: clockWord(d.to, d.from) })))];
}

/** "Readings of 09:31 to 09:37: kept, not judged.": the clock was not believed yet. */
export function heldWords({ held = [] }: Pick<Cave, "held">, at: number): string[] {
  return held.map((h) => t("caves.gap held", { from: clockWord(h.from, at), to: clockWord(h.to, h.from) }));
}

const kGapsTold = 3;

/** "No reading 10:20 to 14:05.": the newest, and how many came before them; all of them the ribbon shows. */
export function gapWords({ gaps }: Pick<Cave, "gaps">, at: number): string[] {
  const told = gaps.slice(-kGapsTold).map((g) => t("caves.gap", { from: clockWord(g.from, at), to: clockWord(g.to, g.from) }));
  const before = gaps.length - told.length;
  return before > 0 ? [many("caves.gap more", before), ...told] : told;
}

/** Those that stand of a cave and, of warmth and cold, which reach into it, of what it stands in. */
export const alarmsOf = (alarms: Alarm[], cave: Cave): Alarm[] =>
  alarms.filter((a) => a.over === undefined && (a.cave === cave.id || (a.cave === cave.inside && (a.kind === "too warm" || a.kind === "too cold"))));

/** Whether an alarm of what it stands in touches its wheels, or comes to them. */
export const reaches = (alarm: Alarm, { inside, name }: Pick<Cave, "inside" | "name">): boolean =>
  inside !== undefined && alarm.cave === inside && [...alarm.concerns, ...alarm.wheels].some((w) => w.cave_name === name);

const kWindow = 30 * 60_000; // what is judged is the mean of this time, and lags behind the air

/** Since when the air is out of the band of this place, by the day that is shown; undefined: it was not seen out.
    `whole`: all that day. */
function outSince({ ribbon }: Cave, which: "temperature" | "humidity", side: -1 | 0 | 1): { at: number; whole: boolean } | undefined {
  const step = [...ribbon.bands].reverse().find((b) => b[which]);
  const band = step?.[which];
  const points = ribbon[which];
  if (!band || points.length === 0) return undefined;
  let since: number | undefined;
  for (const [at, mean] of [...points].reverse()) {
    if (at < step!.from) break;
    if (side < 0 ? mean < band.low : mean > band.high) since = at;
    // A door or a defrost is no return, and air that is just back has not changed the mean yet.
    else if ((since ?? ribbon.to) - at >= kWindow) break;
  }
  if (since === undefined) return undefined;
  return { at: Math.max(since, step!.from), whole: since <= points[0]![0] && points[0]![0] - ribbon.from <= kWindow && step!.from <= ribbon.from };
}

/** "since 23:00": of an alarm of this place since that says, else, where one from around it reaches in, since its own air
    left its own band. */
function sinceWord(cave: Cave, which: "temperature" | "humidity", side: -1 | 0 | 1, alarm: Alarm): string {
  if (alarm.cave === cave.id) return t("since", { time: clockWord(alarm.since, now()) });
  const own = outSince(cave, which, side);
  if (!own) return bands(cave);
  return own.whole ? t("caves.out for a day") : t("since", { time: clockWord(own.at, now()) });
}

/** How a cave stands in words; `alarms` are those that stand of it. "Too" is a word of alarms: without one it is out of band. */
export function standing(cave: Cave, alarms: Alarm[] = []): Standing {
  if (onlyBorrows(cave)) return { state: "not watched", side: 0, word: notWatched(cave), more: "" };
  const { channel, which } = worst(cave);
  const { state } = cave;
  const shown = channel.side || side0(alarms.find((a) => isAbout(a, which)));
  const alarm = alarms.find((a) => isAbout(a, which) && side0(a) === shown);
  switch (state) {
    case "not watched":
      return { state, side: 0, word: notWatched(cave), more: "" };
    case "unknown":
      if (channel.odds) return { state, side: 0, word: t("state.odds"), more: joined(span(channel.odds, which === "humidity" ? 0 : undefined), unseen(cave)) };
      return { state, side: 0, word: channel.silent_since ? t("state.silent", { time: clockWord(channel.silent_since, now()) }) : t("state.unknown"), more: joined(channel.silent_since ? "" : channel.unknown_why ?? "", unseen(cave)) };
    case "out of band":
      return { state, side: shown, word: alarm ? sideWord(which, shown, true) : `${t("state.out of band")}, ${sideWord(which, shown, false)}`, more: joined(alarm ? sinceWord(cave, which, shown, alarm) : bands(cave), unseen(cave)) };
    case "drifting":
      return { state, side: shown, word: `${t("state.drifting")} ${sideWord(which, shown, false)}`, more: joined(channel.out_by ? t("morning.out by", { time: clockWord(channel.out_by, now()) }) : "", channel.out_by && lidWord(cave) ? "" : bands(cave), unseen(cave)) };
    case "in band":
      return { state, side: 0, word: t(alarms.some((a) => a.cave === cave.id && isOfAir(a.kind) && (a.inside === true || a.ends_at !== undefined)) ? "state.back in band" : "state.in band"), more: joined(bands(cave), unseen(cave)) };
  }
}

function side0(alarm: Alarm | undefined): -1 | 1 {
  return alarm?.kind === "too cold" || alarm?.kind === "too dry" ? -1 : 1;
}

/** Without a word from the house nothing that is watched is known now, and of no probe that it is silent. Where no
    probe hangs it stays not watched: what it borrows is unknown too. */
export function cutOff(cave: Cave): Cave {
  const seen = (c: Channel) => c.watched || c.borrowed;
  if (!seen(cave.temperature) && !seen(cave.humidity)) return cave;
  const blind = (c: Channel): Channel => {
    if (!seen(c)) return c;
    const { silent_since: _since, unknown_why: _why, ...rest } = c;
    return { ...rest, state: "unknown" };
  };
  const state = cave.state !== "not watched" && (own(cave.temperature) || own(cave.humidity)) ? "unknown" : "not watched";
  return { ...cave, state, temperature: blind(cave.temperature), humidity: blind(cave.humidity) };
}

/** Boxes stand inside their fridge: each cave with those inside it, in the order of the house. */
export function nested(caves: Cave[]): { cave: Cave; inside: boolean; last: boolean }[] {
  const ids = new Set(caves.map((c) => c.id));
  const roots = caves.filter((c) => c.inside === undefined || !ids.has(c.inside));
  return roots.flatMap((root) => {
    const within = caves.filter((c) => c.inside === root.id && c.id !== root.id);
    return [{ cave: root, inside: false, last: within.length === 0 },
            ...within.map((cave, i) => ({ cave, inside: true, last: i === within.length - 1 }))];
  });
}

export const humidityWord = (channel: Channel) => (channel.mean === undefined ? "–" : points(channel.mean));

// An alarm in the keeper's words: how it stands, when it comes to whom, what figure it is about. Pure but for words.
import type { Alarm, AlarmWord, Instant, Span } from "../api";
import type { ShownAlarm } from "../house/overlay";
import { dateOf, hour, keeperDay, shortDate, weekdayShort, daysBetween, addDays } from "../days";
import { celsius, lasting, points, span, spoken } from "../figures";
import { many, t, unbroken } from "../words";
import { isGas, isHumid, isOfAir, isUnjudged } from "./kinds";

const kHour = 3_600_000;
const kMinute = 60_000;
const kNotWithin = 48 * kHour; // as far as anything is foreseen
const kNear = 5 * kHour; // farther than this an hour on the wall says more than a count

/** "04:20"; of another day "Mon 04:20", of another week "12 Nov 04:20". */
export function clockWord(at: Instant, now: Instant): string {
  const away = Math.abs(daysBetween(dateOf(at), dateOf(now)));
  if (away === 0) return hour(at);
  return unbroken(`${away < 7 ? weekdayShort(dateOf(at)) : shortDate(dateOf(at))} ${hour(at)}`);
}

/** Until when: "14:00", "tomorrow 07:00". Tomorrow is the calendar's, as yesterday is; its hours before the round are the
    night to come, and have the day's name. */
export function untilWord(at: Instant, now: Instant): string {
  const tomorrow = addDays(dateOf(now), 1);
  return dateOf(at) === tomorrow && keeperDay(at) === tomorrow ? t("alarm.tomorrow", { time: hour(at) }) : clockWord(at, now);
}

/** An hour on the wall that nobody knows to the minute. */
const aboutWord = (at: Instant, now: Instant) => clockWord(Math.round(at / (kHour / 2)) * (kHour / 2), now);

/** A forecast is no railway's: quarters of an hour, from six hours on whole ones, and the span never narrower than it is. */
function about(ms: number, round: (steps: number) => number): number {
  const step = ms < 6 * kHour ? kHour / 4 : kHour;
  return round(ms / step) * step;
}

/** "45 min to 27 h": by such an end nobody goes, and the beginning is what counts. */
const saysNothing = (soonest: number, latest: number) => latest > 6 * kHour && latest > 4 * soonest;

/** How long until it matters, always a span, as the mail says it: "in 1 to 2 h", "in 45 min to 1 h 30 min", and far off by
    the wall: "13:00 to 18:00"; perhaps never. `from`: the instant that it is counted from, as the answer has it, so that
    the next answer says the same. */
export function matterWord(matter: { soonest?: number; latest?: number; past?: Span }, now: Instant, from = now): string {
  if (matter.past) return t("matter.past", { band: span(matter.past) });
  if (matter.soonest === undefined) return "";
  if (matter.soonest >= kNotWithin) return t("matter.far");
  const left = (span: number) => Math.max(0, span - (now - from));
  const soonest = left(matter.soonest);
  const latest = matter.latest === undefined || saysNothing(soonest, left(matter.latest)) ? undefined : left(matter.latest);
  const low = about(soonest, Math.floor);
  if (latest === 0) return t("matter.now");
  if (latest === undefined) return low === 0 ? t("matter.soon or never") : t("matter.never", { time: lasting(low) });
  if (latest > kNear) return t("span", { low: aboutWord(now + soonest, now), high: aboutWord(now + latest, now) });
  const high = about(latest, Math.ceil);
  return low === 0 ? t("matter.within", { time: lasting(high) }) : t("matter.in", { time: range(low, high) });
}

const kTooWide = 12 * kHour;
const kQuarter = kHour / 4;

/** The same of a place of which nothing is heard: by the hours of the wall, which stay the same from look to look, since
    nothing new is known. */
export function darkMatterWord(matter: { soonest?: number; latest?: number; past?: Span }, now: Instant, from = now): string {
  if (matter.past || matter.soonest === undefined || matter.soonest >= kNotWithin) return matterWord(matter, now, from);
  const soonest = from + matter.soonest;
  const latest = matter.latest === undefined || matter.latest - matter.soonest > kTooWide ? undefined : from + matter.latest;
  if (latest !== undefined && latest <= now) return t("matter.now");
  const high = latest === undefined ? "" : clockWord(Math.ceil(latest / kQuarter) * kQuarter, now);
  if (soonest - now < kMinute) return high ? t("matter.dark.by", { time: high }) : t("matter.dark.perhaps");
  const low = clockWord(Math.floor(soonest / kQuarter) * kQuarter, now);
  return high ? t("matter.dark.between", { low, high }) : t("matter.dark.from", { time: low });
}

/** By its kind. */
export const whenWord = (alarm: Pick<Alarm, "kind" | "as_of">, matter: Alarm["concerns"][number], now: Instant): string =>
  (alarm.kind === "power gone" ? darkMatterWord : matterWord)(matter, now, alarm.as_of);

/** The same for each of its wheels: beside those that a time stands for nobody must take the others for well. Of air that
    falls nothing is foreseen for any. */
export function whensOf(alarm: Pick<Alarm, "kind" | "as_of" | "concerns" | "eases" | "inside">, now: Instant): (one: Alarm["concerns"][number]) => string {
  const whenOf = (one: Alarm["concerns"][number]) => whenWord(alarm, one, now);
  const timed = !alarm.eases && !alarm.inside && alarm.concerns.some((one) => whenOf(one));
  return (one) => whenOf(one) || (timed ? t("matter.not now") : "");
}

/** Whether it comes to them within the time for which anything is foreseen. */
export const isForeseen = ({ soonest }: { soonest?: number }): boolean => soonest !== undefined && soonest < kNotWithin;

/** The unit once where both have the same: "1 to 2 h", "15 to 45 min". */
function range(low: number, high: number): string {
  if (low === high) return lasting(low);
  if (high < kHour) return t("minutes", { minutes: t("span", { low: low / kMinute, high: high / kMinute }) });
  const whole = low % kHour === 0 && high % kHour === 0;
  return whole ? t("hours", { hours: t("span", { low: low / kHour, high: high / kHour }) }) : t("span", { low: lasting(low), high: lasting(high) });
}

/** What makes it one, with its figure; nothing where the band alone does, which the head tells. */
export function whyWord({ kind, why, value: now = 0, extreme = now, over, before = now }: Pick<Alarm, "kind" | "why" | "value" | "extreme" | "over" | "before">): string {
  const value = over === undefined ? now : extreme;
  if (kind === "condensation") return over === undefined ? t(value < 0 ? "why.dew.below" : "why.dew.above", { value: Math.abs(value).toFixed(1) }) : "";
  if (why === "unheard" && over !== undefined) return t("why.unheard.over");
  if (why === "warmed meanwhile" && now < before) return t("why.cooled meanwhile");
  return why === undefined || why === "band" ? "" : t(`why.${why}`, { share: Math.round(value * 100), up: value.toFixed(1) });
}

/** A time that nobody watched is past when it is told, whether its air was heard since or not: "from 09:40 to 12:40". */
export const gapOf = ({ kind, since, back_since, over }: Pick<Alarm, "kind" | "since" | "back_since" | "over">): { from: Instant; to: Instant } | undefined => {
  const to = back_since ?? over;
  return kind === "unwatched" && to !== undefined && to > since ? { from: since, to } : undefined;
};

/** Since when it is told to last: of a silence since somebody watched. */
export const toldSince = ({ since, told_since }: Pick<Alarm, "since" | "told_since">): Instant => told_since ?? since;

/** When nobody watched a silent probe: when its next word was due, and the last time that it was silent already. */
export function unwatchedWords({ since, unwatched_first: first, unwatched }: Pick<Alarm, "since" | "unwatched_first" | "unwatched">, at: Instant): string[] {
  const words: string[] = [];
  if (first) {
    const last = clockWord(since, at), from = clockWord(first.from, at), to = clockWord(first.to, at);
    words.push(last === from ? t("alarm.unwatched begun", { from, to }) : t("alarm.unwatched begun apart", { last, from, to }));
  }
  if (unwatched) words.push(t("alarm.unwatched within", { from: clockWord(unwatched.from, at), to: clockWord(unwatched.to, at) }));
  return words;
}

/** From both edges of a time in which nothing spoke: how the air was, how it came to be, what a wheel can have become. */
export function edgeWords({ kind, over, why, before, value, extreme, warmest }: Pick<Alarm, "kind" | "over" | "why" | "before" | "value" | "extreme" | "warmest">): string[] {
  if (before === undefined || (kind !== "unwatched" && kind !== "power gone" && kind !== "probe silent")) return [];
  if (over === undefined) return kind === "probe silent" ? [] : [t("alarm.edge", { before: celsius(before) })];
  const known = warmest !== undefined || why === "only the watch" || why === "warmed meanwhile";
  // Of a time in which nothing spoke the air of its end is the furthest of it.
  const after = kind === "unwatched" ? value : extreme;
  if (!known || after === undefined) return [];
  return [t("alarm.edges", { before: celsius(before), after: celsius(after) }), ...(warmest === undefined ? [] : [t("alarm.warmest", { value: celsius(warmest) })])];
}

/** The same in the one line that a strip has for it. */
export function gapFigure(alarm: Pick<Alarm, "kind" | "over" | "why" | "before" | "value" | "extreme" | "warmest">): string {
  if (alarm.warmest !== undefined) return t("alarm.gap.warmest", { value: celsius(alarm.warmest) });
  if (alarm.why === "unheard") return t(alarm.over === undefined ? "alarm.gap.unheard" : "alarm.gap.unheard over");
  return alarm.before === undefined || alarm.value === undefined ? "" : t("alarm.gap.edges", { before: celsius(alarm.before), after: celsius(alarm.value) });
}

/** The figure of an alarm in its own unit; nothing where there is none. */
export function alarmFigure(alarm: Pick<Alarm, "kind">, value: number | undefined): string {
  if (value === undefined) return "";
  switch (alarm.kind) {
    case "too warm": case "too cold": return celsius(value);
    case "too dry": case "too damp": return points(value);
    case "carbon dioxide": case "ammonia": return t("figure.ppm", { value: ppm(value) });
    case "battery low": return unbroken(`${Math.round(value)} %`);
    default: return "";
  }
}

/** "15.9 °C": how far its air came, also of a door that a contact told of where wheels lie; nothing of what keeps none. */
export function farthest(alarm: Pick<Alarm, "kind" | "extreme" | "concerns">): string {
  const door = alarm.kind === "door open" && alarm.concerns.some((one) => one.own !== undefined);
  if (alarm.extreme === undefined || !(door || isOfAir(alarm.kind))) return "";
  return door ? celsius(alarm.extreme) : alarmFigure(alarm, alarm.extreme);
}

/** "1800", as the warnings and the mail write it. */
export const ppm = (value: number) => String(Math.round(value));

export function bandWord({ band, band_for, kind }: Alarm): string {
  if (!band || !isOfAir(kind)) return "";
  const figure = isHumid(kind) ? span(band, 0) : span(band);
  return t("alarm.keep", { band: band_for ? t("morning.band for", { band: figure, wheels: band_for }) : figure });
}

/** "5.2 degree-hours", "1 degree-hour" */
export function doseOf(kind: AlarmWord, dose: number): string {
  const tenths = Math.round(dose * 10) / 10;
  return many(isHumid(kind) ? "journal.dose.points" : "journal.dose.degrees", tenths, { dose: tenths });
}

/** The dose of an alarm; nothing where none was counted. */
export function doseWord(alarm: Alarm): string {
  if (!alarm.dose || !isOfAir(alarm.kind)) return "";
  return doseOf(alarm.kind, alarm.dose);
}

/** How far the wheels came themselves, as the letter says it, and whether that was beyond their own band; nothing where it
    is not known. */
export function ownWord(alarm: Pick<Alarm, "kind" | "over">, { own, keep, as_before }: Pick<Alarm["concerns"][number], "own" | "keep" | "as_before">): string {
  if (own === undefined) return "";
  const said = t(alarm.kind === "too cold" ? "alarm.own coldest" : "alarm.own warmest", { value: celsius(own) });
  if (alarm.over === undefined) return t("alarm.own so far", { own: said });
  if (!keep) return said;
  if (as_before) return t("alarm.own as before", { own: said, band: span(keep) });
  const shown = Math.round(own * 10) / 10;
  return t(shown < keep.low || shown > keep.high ? "alarm.own beyond" : "alarm.own within", { own: said, band: span(keep) });
}

/** "holding", where others of its family lie there too and stand otherwise: what holds is kept cooler than what ripens. */
export function apartWord({ concerns }: Pick<Alarm, "concerns">, one: Alarm["concerns"][number]): string {
  const apart = concerns.some((other) => other.family === one.family && other.cave_name === one.cave_name && other.state !== one.state);
  return apart ? t(`wheel.${one.state}`) : "";
}

/** "Shelf 12.4 °C, Door 16.1 °C" */
export const saidBy = (said: NonNullable<Alarm["said"]>): string =>
  said.map(({ probe, kind, value }) => `${probe} ${kind === "humidity" ? points(value) : celsius(value)}`.trim()).join(", ");

/** Of probes that contradict each other: "Shelf 12.4 °C, Door 16.1 °C."; of one that is stuck or wet what it says, to the digit. */
export function saidWord({ kind: of, over }: Pick<Alarm, "kind" | "over">, said: NonNullable<Alarm["said"]>): string {
  const wet = over === undefined ? "alarm.said.wet" : "alarm.said.wet over";
  if (of === "probe stuck" || of === "probe wet") return t(of === "probe wet" ? wet : "alarm.said.stuck", { said: said.map(({ kind, value }) => t(`stuck.${kind}`, { value: value.toFixed(1) })).join(", ") });
  return t("alarm.said", { said: saidBy(said) });
}

type Called = { kind: AlarmWord; why?: string | undefined; band?: Span | undefined; extreme?: number | undefined };

/** It was told because the air does not turn, before that had reached the edge of its band. */
function neverLeft({ kind, why, band, extreme }: Called): boolean {
  if ((why !== "not turning" && why !== "not turning yet") || !band || extreme === undefined) return false;
  return kind === "too warm" ? extreme <= band.high : kind === "too cold" && extreme >= band.low;
}

function nameOf(alarm: Called) {
  const { kind } = alarm;
  if (alarm.why === "plan step" && (kind === "too warm" || kind === "too cold" || kind === "too dry" || kind === "too damp")) return `step.${kind}` as const;
  if (alarm.kind === "plant weak" && alarm.why === "day mean up") return "kept warmer";
  if (alarm.kind === "door open" && alarm.why === "after round") return "perhaps ajar";
  return !neverLeft(alarm) ? alarm.kind : alarm.kind === "too cold" ? "getting colder" : "getting warmer";
}

/** How it is called behind a cave's name: "too warm"; of a door that was only asked after "door perhaps ajar"; of air
    that never left its band "getting warmer". */
export const alarmWord = (alarm: Called): string => t(alarm.kind === "power gone" ? "alarm.brief.power gone" : `alarm.${nameOf(alarm)}`);
/** The same as a head of its own. */
export const alarmCry = (alarm: Called): string => t(`alarm.cry.${nameOf(alarm)}`);

/** A battery that will be empty some day, or a band that moved: neither leads while anything else of weight stands. */
export const canWait = (alarm: Pick<Alarm, "kind" | "why">): boolean => alarm.kind === "battery low" || alarm.why === "plan step";

/** Whether it asks, quietly: the air does not turn back after a round. */
export const asks = (alarm: Alarm) => alarm.kind === "door open" && alarm.why === "after round" && alarm.over === undefined;

/** Gas is for people: it is taken, and never put off. What is taken has no bell to put off. */
export const mayAside = (alarm: Alarm) => alarm.over === undefined && alarm.taken === undefined && !isGas(alarm.kind) && !alarm.darkens_gas && !asks(alarm);

/** What another alarm tells is taken and named there, and asks nothing itself. */
export const isTold = (alarm: Pick<Alarm, "told_by">): boolean => alarm.told_by !== undefined;

/** Whether a keeper has still to take it or, when it is over, to see it. */
export const isUntaken = (alarm: Pick<Alarm, "taken" | "told_by">): boolean => alarm.taken === undefined && !isTold(alarm);

/** The alarm that tells of it: "Fridge too warm"; nothing where the book does not find it any more. */
export const tellerWord = ({ teller }: Pick<Alarm, "teller">): string => (teller ? t("alarm.title", { cave: teller.cave_name, what: alarmWord(teller) }) : "");

export const tellerPath = (alarm: Pick<Alarm, "told_by" | "teller">): string => alarmPath({ id: alarm.teller?.id ?? alarm.told_by ?? "" });

/** Tapped here, and the house does not know it yet. */
export const isUntold = ({ mine }: Pick<ShownAlarm, "mine">): boolean => mine !== undefined && !mine.told;

function mineWord(alarm: ShownAlarm, now: Instant): string {
  if (alarm.over !== undefined) return t("alarm.mine.seen", { time: clockWord(lastedUntil(alarm) ?? alarm.over, now) });
  const time = alarm.taken === undefined ? "" : clockWord(alarm.taken, now);
  return t(isUntold(alarm) ? "alarm.mine.untold" : "alarm.mine.told", { time });
}

/** How it stands: "set aside until 14:00", "over 08:10, not yet seen", "taken 07:08 IH", "taken by you 07:08, not yet told". Nothing
    while it rings. */
export function standWord(alarm: ShownAlarm, now: Instant): string {
  if (alarm.mine && (alarm.over === undefined || isUntold(alarm))) return mineWord(alarm, now);
  if (alarm.over !== undefined && alarm.unseen) return t(alarm.told_by ? "alarm.goes on" : "alarm.unseen", { time: clockWord(alarm.over, now) });
  if (alarm.over !== undefined && isUnjudged(alarm)) return t(alarm.ending === "asked otherwise" ? "alarm.asked otherwise" : "alarm.unjudged", { time: clockWord(alarm.over, now) });
  if (alarm.over !== undefined) return t(isUntaken(alarm) ? "alarm.over unseen" : "alarm.over", { time: clockWord(lastedUntil(alarm) ?? alarm.over, now) });
  if (alarm.taken !== undefined) return t("alarm.taken", { time: clockWord(alarm.taken, now) }) + (alarm.taken_by ? ` ${alarm.taken_by}` : "");
  if (alarm.aside_until !== undefined) return t("alarm.aside", { time: untilWord(alarm.aside_until, now) });
  return alarm.quiet ? t("alarm.quiet") : "";
}

/** Where several took it: the first who was told to the house goes, and every phone says the same of it. `me`: whose
    phone this is. Nothing where one took it. */
export function goesWord({ taken, taken_by, over, also_took = [] }: Alarm, me: string, now: Instant): string {
  if (!taken_by || taken === undefined || over !== undefined || also_took.length === 0) return "";
  if (also_took.some((one) => one.keeper === me)) return t("alarm.goes.not you", { name: taken_by, time: clockWord(taken, now) });
  const names = spoken(also_took.map((one) => one.keeper));
  if (taken_by === me) return t("alarm.goes.you", { others: names, time: clockWord(taken, now) });
  return t("alarm.goes", { name: taken_by, others: names, time: clockWord(taken, now) });
}

/** Of one whose air is back while it lasts: what is still waited for. */
export function insideWord(alarm: Pick<Alarm, "kind" | "still_out" | "ends_at" | "inside_since">, now: Instant): string {
  const high = alarm.kind === "too warm" || alarm.kind === "too damp";
  const since = alarm.inside_since === undefined ? "" : ` ${t("since", { time: clockWord(alarm.inside_since, now) })}`;
  if (alarm.ends_at !== undefined) return t(high ? "alarm.ends below" : "alarm.ends above", { since, value: alarmFigure(alarm, alarm.ends_at) });
  return alarm.still_out ? t("alarm.inside but", { since, where: spoken(alarm.still_out) }) : t("alarm.inside", { since });
}

/** What stands over the wheels of an alarm: those that it comes to, those that it touched, and where it is no air that
    reaches them those that lie there. */
export const concernsHead = ({ kind, over }: Pick<Alarm, "kind" | "over">): string =>
  t(over === undefined ? (kind === "power gone" ? "alarm.it matters dark" : "alarm.it matters") : isOfAir(kind) || kind === "condensation" ? "alarm.it touched" : "alarm.wheels there");

/** Until when it lasted: the wait for it to stay back is none of it. */
export const lastedUntil = (alarm: Pick<Alarm, "over" | "back_since">): Instant | undefined => alarm.back_since ?? alarm.over;

/** Ends for "set aside": an hour, four, and the next morning, each as the time that it ends at. */
export function asideEnds(now: Instant, morning: Instant): Instant[] {
  const quarter = 15 * kMinute;
  const ends = [now + kHour, now + 4 * kHour].map((at) => Math.ceil(at / quarter) * quarter);
  return morning - now > 5 * kHour && morning - now < 24 * kHour ? [...ends, morning] : [...ends, Math.ceil((now + 12 * kHour) / quarter) * quarter];
}

export const alarmPath = (alarm: { id: string }) => `/alarms/${encodeURIComponent(alarm.id)}`;

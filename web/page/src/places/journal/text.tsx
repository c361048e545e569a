// A line of the journal in the words of the book. Hand ink: what a keeper did; print ink: what the book knows.
import type { ComponentChildren } from "preact";
import type { Instant, JournalLine } from "../../api";
import { dateOf, hour, keeperDay, longDate, shortDate } from "../../days";
import { between, celsius, points } from "../../figures";
import { alarmFigure, alarmWord, clockWord, doseOf, edgeWords, toldSince, untilWord } from "../../parts/alarm_words";
import { whatWord } from "../../parts/alarms";
import { caredWords, careWords, joined, lotWord, wheelsOf } from "../../parts/names";
import { many, opening, t } from "../../words";
import { besideCare, decided } from "./decided";
import { limitsText } from "./limits";
import { isGas, isHumid, isOfAir, isUnjudged } from "../../parts/kinds";

interface Text {
  hand?: string;
  print?: ComponentChildren;
  red?: boolean;
  note?: string;
}

const place = (l: JournalLine) => l.place || l.cave_name || "";
const wheels = (l: JournalLine) => (l.family ? wheelsOf([{ count: l.count, family: l.family }]) : many("wheels.many", l.count));
const end = (text: string) => (text.endsWith(".") ? text : `${text}.`);

function care(l: JournalLine): Text {
  const skipped = l.skipped ?? [];
  const brackets = skipped.length === 0 ? undefined
    : l.reason ? t("journal.skipped", { kinds: careWords(skipped), reason: l.reason }) : t("journal.skipped.plain", { kinds: careWords(skipped) });
  const done = l.done ?? [];
  if (done.length === 0) return { hand: end(joined(opening(brackets ?? t("act.care.skipped", { kinds: "" })), place(l))) };
  const values = { cared: opening(caredWords(done)), count: l.count, place: place(l) };
  const note = joined(brackets, besideCare(l));
  return { hand: place(l) ? t("journal.care", values) : t("journal.care.short", values), ...(note ? { note } : {}) };
}

/** The air it is about has been beyond the band; else it rang by another sign, and is not back in what it never left. */
const wasOut = ({ band, extreme }: NonNullable<JournalLine["alarm"]>) => !band || extreme < band.low || extreme > band.high;

/** " since 21:49": the line stands at the hour at which it was over, and the air was back before, while that had to last. */
const backSince = ({ back_since }: NonNullable<JournalLine["alarm"]>, over: Instant) =>
  back_since === undefined || clockWord(back_since, over) === clockWord(over, over) ? "" : ` ${t("since", { time: clockWord(back_since, over) })}`;

/** How it ended, by what it rang for. */
function turned(why: string | undefined) {
  if (why === "not turning") return "journal.alarm.turned";
  return why === "wheel" || why === "dose" ? "journal.alarm.wheels back" : "journal.alarm.ended at";
}

function alarm(l: JournalLine): Text {
  const a = l.alarm;
  if (!a) return { print: l.text };
  const cave = l.cave_name ?? "";
  const since = toldSince(a);
  // Of what people breathe each line has its figure.
  const gas = isGas(a.kind);
  const what = alarmWord(a), figured = gas ? joined(what, alarmFigure(a, a.value)) : what;
  const humid = isHumid(a.kind);
  const value = (v: number) => (humid ? points(v) : celsius(v));
  const dose = doseOf(a.kind, a.dose);
  const lasted = between(since, a.back_since ?? l.at);
  const found = a.found_later ? { note: t("journal.alarm.found") } : {};
  switch (a.change) {
    case "raised":
      if (a.kind === "unwatched" && a.back_since !== undefined) return { print: <><b>{t("alarm.title gap", { cave, from: clockWord(since, l.at), to: clockWord(a.back_since, l.at) })}</b>{l.count > 0 && `, ${many("wheels.many", l.count)}`}.</> };
      if (a.kind === "probe silent") return { print: t("journal.alarm.silent", { cave, time: clockWord(since, l.at) }), ...found };
      return { print: <><b>{t("journal.alarm.raised", { cave, what: figured })}</b>{l.count > 0 && `, ${many("wheels.many", l.count)}`}.</>, red: a.severity !== "hint", ...found };
    case "back":
      return { print: t("journal.alarm.back", { cave, what }) };
    case "stays":
      return { print: t("journal.alarm.stays", { cave, what }) };
    case "quieted":
      return { print: t("journal.alarm.quieted", { cave, what }) };
    default: // it became graver
      if (a.kind === "unwatched") return { print: t(a.before !== undefined && a.value < a.before ? "journal.alarm.cooled" : "journal.alarm.warmed", { cave, after: celsius(a.value) }) };
      return { print: t(`journal.alarm.graver.${a.severity}`, { cave, what: figured }) };
    case "over":
      if (a.unseen) return { print: t(a.told_by ? "journal.alarm.goes on" : "journal.alarm.unseen", { cave, what, long: between(since, l.at) }) };
      if (isUnjudged(a)) return { print: t(a.ending === "asked otherwise" ? "journal.alarm.asked otherwise" : "journal.alarm.unjudged", { cave, what, long: between(since, l.at) }) };
      if (a.kind === "probe silent") return { print: t("journal.alarm.spoke", { cave, from: clockWord(since, l.at), to: hour(l.at) }) };
      if (a.kind === "unwatched") return { print: [t("journal.alarm.heard", { cave }), ...edgeWords({ ...a, over: l.at })].join(" ") };
      if (gas) return { print: t("journal.alarm.ended at", { cave, what, long: lasted, value: alarmFigure(a, a.extreme) }) };
      if (a.ending === "not asked" && isOfAir(a.kind)) return { print: t("journal.alarm.not asked", { cave, what, long: lasted, value: value(a.extreme) }) };
      if (!isOfAir(a.kind)) return { print: [t("journal.alarm.ended", { cave, what, long: lasted }), ...edgeWords({ ...a, over: l.at })].join(" ") };
      if (!wasOut(a)) return { print: t(turned(a.why), { cave, what, long: lasted, since: backSince(a, l.at), value: value(a.extreme) }) };
      return { print: t(a.dose < 0.05 ? "journal.alarm.over little" : "journal.alarm.over", { cave, since: backSince(a, l.at), long: lasted, value: value(a.extreme), dose }) };
  }
}

const alarmOf = (l: JournalLine) => (l.alarm ? opening(`${l.cave_name ?? ""} ${alarmWord(l.alarm)}`.trim()) : "");

const kUntold = 60_000; // ms from the tap to its arrival; longer, another may have taken it meanwhile

/** Taken while it lasted, or seen when it was over. */
function taken(l: JournalLine): string {
  if (l.goes_on) return l.alarm ? t("journal.take.goes on", { alarm: alarmOf(l) }) : t("journal.take.goes on plain");
  if (!l.alarm) return t("journal.take.plain");
  const over = l.alarm.over !== undefined && l.alarm.over <= l.at;
  return over ? t("journal.seen", { alarm: alarmOf(l) }) : t("journal.take", { alarm: `${l.cave_name ?? ""} ${alarmWord(l.alarm)}`.trim() });
}

/** What an alarm was and what was done: the record of what was put right. */
function called(l: JournalLine): Text {
  const what = whatWord(l.what ?? "");
  return { hand: l.alarm ? t("journal.called of", { what, alarm: alarmOf(l) }) : t("journal.called", { what }), ...(l.text ? { note: end(l.text) } : {}) };
}

const kUnwatched = 2 * 60_000; // ms; shorter, no reading is missing: the watch was only begun anew
const kDay = 24 * 3_600_000;

function began({ unwatched: gap, ahead_until: until, at }: JournalLine): string {
  if (until !== undefined) return t("journal.started.ahead", { until: clockWord(until, at) });
  if (!gap || gap.to - gap.from < kUnwatched) return t("journal.started");
  if (gap.to - gap.from > kDay) return t("journal.started.days", { long: between(gap.from, gap.to), from: clockWord(gap.from, gap.to) });
  return t("journal.started.gap", { from: hour(gap.from), to: hour(gap.to) });
}

/** A clock that went on by far more than time did. */
function leapt({ unwatched: gap, at }: JournalLine): string {
  return gap ? t("journal.leapt", { from: clockWord(gap.from, at), to: hour(gap.to) }) : "";
}

const kMostNamed = 4; // of more the first and the last: they stand one below the other

/** Which acts bear a time that never was, and what to do with them. */
function misdated(acts: NonNullable<JournalLine["misdated"]>, at: number): string {
  const one = (act: (typeof acts)[number]) => joined(clockWord(act.at, at), act.keeper);
  const which = acts.length <= kMostNamed ? acts.map(one).join("; ") : t("span", { low: one(acts[0]!), high: one(acts.at(-1)!) });
  return many("journal.misdated", acts.length, { which });
}

const kUndone = ["enter", "answer", "later", "move", "gone", "fault", "hold", "cut", "split", "band", "plan", "away", "past", "vouch", "release", "rule", "share", "order", "calendar"] as const;
type Undone = (typeof kUndone)[number];

const undoneKind = (kind: string) => (kUndone.includes(kind as Undone) ? t(`journal.undo.${kind as Undone}`) : "");

function undone(l: JournalLine): Text {
  const of = l.of;
  if (!of) return { hand: opening(t("act.undo")) };
  const what = of.done && of.done.length > 0 ? caredWords(of.done) : undoneKind(of.kind);
  const said = joined(what, of.place);
  return { hand: said ? t("journal.undo", { time: hour(of.at), what: said }) : t("journal.undo.plain", { time: hour(of.at) }) };
}

export function textOf(l: JournalLine): Text {
  switch (l.kind) {
    case "care": return care(l);
    case "alarm": return alarm(l);
    case "undo": return undone(l);
    case "enter": return { hand: t("journal.enter", { count: wheels(l), place: place(l) }), ...(l.lot ? { note: lotWord(l.lot) } : {}) };
    case "answer": {
      const values = { count: wheels(l), place: place(l) };
      const since = l.day && l.day !== keeperDay(l.at) ? { note: t("journal.answer.day", { day: shortDate(l.day) }) } : {};
      if (l.option) return { hand: t("journal.option", { option: l.option, ...values }) };
      return { hand: t("journal.answer", { start: opening(l.start ? t(`start.${l.start}`) : ""), ...values }), ...since };
    }
    case "later": return { hand: t("journal.later", { question: l.text ?? "", count: wheels(l), place: place(l) }) };
    case "take": return { hand: taken(l), ...(l.received_at - l.at > kUntold ? { note: t("journal.take.told", { time: clockWord(l.received_at, l.at) }) } : {}) };
    case "called": return called(l);
    case "probe": return { hand: t("journal.probe", { topic: l.topic ?? "", place: place(l) }) };
    case "unhang": return { hand: t("journal.probe.down", { topic: l.topic ?? "" }) };
    case "note": return { hand: l.text ?? "" };
    case "move": return { hand: t("journal.move", { count: wheels(l), place: place(l) }), ...(l.lot ? { note: lotWord(l.lot) } : {}) };
    case "limits": return { hand: limitsText(l) ?? t("journal.limits", { place: place(l) }) };
    case "watching": return { hand: limitsText(l) ?? t("journal.watching", { place: place(l) }) };
    case "service": return { hand: t(l.what === "out" ? "journal.service.out" : "journal.service.back", { name: l.text ?? "" }), ...(l.reason ? { note: l.reason } : {}) };
    case "started": return { print: began(l), ...(l.misdated ? { note: misdated(l.misdated, l.at) } : {}) };
    case "leapt": return { print: leapt(l) };
    case "stopped": return { print: t("journal.stopped") };
    case "cave": return { hand: t("journal.cave", { place: l.cave_name ?? l.text ?? "" }) };
    case "aside": return { hand: l.until === undefined || !l.alarm ? t("journal.aside") : t("journal.aside until", { alarm: alarmOf(l), time: untilWord(l.until, l.at) }) };
    case "here": return { hand: t("journal.here", { place: l.cave_name ?? "" }) };
    case "out": return { hand: t("journal.out", { place: l.cave_name ?? "" }) };
    default: return decided(l) ?? { print: l.text ?? "" }; // a newer house writes lines that this page does not know
  }
}

/** What stands behind a line: its note, and when it was written if that was later. `today`: the date on the wall. */
export function besideText(l: JournalLine, today: string): string {
  const { note } = textOf(l);
  if (!l.late_entry) return note ?? "";
  return [note && end(note), lateText(l, today)].filter(Boolean).join(" ");
}

/** "Late entry, written today 06:40." */
function lateText(l: JournalLine, today: string): string {
  const day = dateOf(l.received_at);
  const when = day === today ? `${t("day.today")} ${hour(l.received_at)}` : `${longDate(day)} ${hour(l.received_at)}`;
  return t("journal.late", { time: when });
}

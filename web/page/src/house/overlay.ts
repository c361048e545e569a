// What the keeper has tapped but the answer at hand does not know yet, laid over that answer.
import type { Alarm, FaultWord, Instant, RoundLine, RoundQuestion } from "../api";
import { instantOfStamp, now } from "../clock";
import type { Entry } from "../queue/entry";

export interface ShownLine extends RoundLine {
  waiting: boolean;     // settled by a tap that the house has not answered
  entry?: Entry;        // the tap itself, if this phone still knows it
  noted?: FaultWord;    // a fault said of some of its wheels, not answered yet
}
export interface ShownQuestion extends RoundQuestion {
  answered?: Answered;
}
export interface Answered { word: string; later: boolean; entry: Entry; waiting: boolean }

/** Those that an answer asked for at `asked_at` cannot hold; what was refused changes nothing. */
export function unknownTo(asked_at: number, entries: Entry[]): Entry[] {
  return entries.filter((e) => e.state === "waiting" || (e.state === "acked" && (e.acked_at ?? 0) > asked_at));
}

/** The same line with some of its wheels alone. */
export function withWheels(line: ShownLine, keep: (wheel: number) => boolean): ShownLine {
  const kept = line.wheels.map((wheel, i) => ({ wheel, number: line.numbers[i] ?? i + 1 })).filter(({ wheel }) => keep(wheel));
  if (kept.length === line.wheels.length) return line;
  const minutes = (line.minutes * kept.length) / Math.max(1, line.wheels.length);
  return { ...line, wheels: kept.map((k) => k.wheel), numbers: kept.map((k) => k.number), minutes };
}

function settle(line: ShownLine, entry: Entry): ShownLine {
  const act = entry.act;
  if (act.kind !== "care") return line;
  const all = [...new Set([...line.done_kinds, ...act.done])];
  const left = line.kinds.filter((k) => !all.includes(k) && !act.skipped.includes(k));
  const at = instantOfStamp(act.said_at ?? act.tapped_at);
  const shared = {
    ...line, entry, done_kinds: all, skipped_kinds: act.skipped, waiting: entry.state === "waiting",
    settled_at: at, settled_by: act.id, ...(act.reason ? { reason: act.reason } : {}), ...(act.keeper ? { keeper: act.keeper } : {}),
  };
  if (left.length > 0) return { ...shared, state: line.state };
  return { ...shared, state: act.done.length > 0 || line.done_kinds.length > 0 ? "done" : "skipped" };
}

/** Those that the act names, settled, and those that were left out, still due. The first wheel keeps the line's key. */
function settleSome(line: ShownLine, entry: Entry): ShownLine[] {
  const act = entry.act;
  if (act.kind !== "care") return [line];
  const signed = new Set(act.wheels);
  const done = withWheels(line, (wheel) => signed.has(wheel));
  const rest = withWheels(line, (wheel) => !signed.has(wheel));
  if (done.wheels.length === 0) return [line];
  if (rest.wheels.length === 0) return [settle(line, entry)];
  const first = signed.has(line.wheels[0]!);
  return [{ ...settle(done, entry), key: first ? line.key : `${line.key} done` }, { ...rest, key: first ? `${line.key} left` : line.key }];
}

function reopen(line: ShownLine): ShownLine {
  const { settled_at: _at, settled_by: _by, keeper: _keeper, reason: _reason, entry: _entry, ...rest } = line;
  return { ...rest, state: line.late_since ? "late" : "due", done_kinds: [], skipped_kinds: [], waiting: false };
}

const takenBack = (entries: Entry[]) => new Set(entries.flatMap((e) => (e.act.kind === "undo" ? [e.act.of] : [])));

/** Acts that no later tap took back. */
export function standing(entries: Entry[]): Entry[] {
  const undone = takenBack(entries);
  return entries.filter((e) => !undone.has(e.act.id));
}

const meets = (line: ShownLine, wheels: number[]) => line.wheels.some((w) => wheels.includes(w));

/** The lot on its shelf is the smaller for them. */
function without(line: ShownLine, wheels: number[]): ShownLine {
  const left = withWheels(line, (wheel) => !wheels.includes(wheel));
  return { ...left, lot_here: line.lot_here - (line.wheels.length - left.wheels.length) };
}

/** Wheels that are gone lie on no line; a fault that was said stands beside the line until the house knows it. */
function laid(lines: ShownLine[], entry: Entry): ShownLine[] {
  const act = entry.act;
  if (act.kind === "gone") return lines.map((line) => without(line, act.wheels)).filter((line) => line.wheels.length > 0);
  if (act.kind === "fault") return lines.map((line) => (meets(line, act.wheels) ? { ...line, noted: act.what } : line));
  return lines;
}

function shownLine(line: RoundLine, entries: Entry[], known: Entry[]): ShownLine[] {
  const own = known.find((e) => e.act.id === line.settled_by);
  const given: ShownLine = { ...line, waiting: false, ...(own ? { entry: own } : {}) };
  const undone = takenBack(entries);
  const base = line.settled_by !== undefined && undone.has(line.settled_by) ? reopen(given) : given;
  const signed = entries.filter((e) => e.act.kind === "care" && e.act.id !== line.settled_by && !undone.has(e.act.id));
  return signed.reduce((parts, entry) => parts.flatMap((part) => (entry.about === part.key ? settleSome(part, entry) : [part])), [base]);
}

/** The lines as the keeper sees them. Entries name a line by its key, undos by the act that they undo. */
export function overLines(lines: RoundLine[], entries: Entry[], known: Entry[] = entries): ShownLine[] {
  const parts = lines.flatMap((line) => shownLine(line, entries, known));
  return standing(entries).reduce(laid, parts);
}

/** What an act says to a question; undefined: nothing. */
export function answeredBy(entry: Entry): Answered | undefined {
  const { act } = entry;
  if (act.kind !== "answer" && act.kind !== "later") return undefined;
  const word = act.kind === "later" ? "" : "option" in act ? act.option : act.start;
  return { word, later: act.kind === "later", entry, waiting: entry.state === "waiting" };
}

export function overQuestions(questions: RoundQuestion[], entries: Entry[]): ShownQuestion[] {
  return questions.map((question) => {
    let shown: ShownQuestion = question;
    for (const entry of entries) {
      const act = entry.act;
      if (act.kind === "undo" && act.of === shown.answered?.entry.act.id) shown = question;
      const answered = answeredBy(entry);
      if (answered && entry.about === question.key) shown = { ...question, answered };
    }
    return shown;
  });
}

/** Days without a line that a tap has settled already: the tap. */
export const overQuiet = (entries: Entry[]): Entry | undefined => standing(entries).find((e) => e.act.kind === "past");

/** An alarm as this phone shows it. */
export interface ShownAlarm extends Alarm {
  mine?: { told: boolean };   // taken by a tap on this phone that the answer at hand does not know; told: the house has it
}

/** Whoever was told to the house first goes: what was tapped here and is not in its answer comes after that. */
function comesAfter(alarm: Alarm, taker: string | undefined, at: Instant): ShownAlarm {
  const also = alarm.also_took ?? [];
  if (!taker || !alarm.taken_by || taker === alarm.taken_by || alarm.over !== undefined || also.some((one) => one.keeper === taker)) return alarm;
  return { ...alarm, also_took: [...also, { keeper: taker, at }] };
}

/** The first to take it counts, and ends that it was set aside. */
function takenBy(alarm: ShownAlarm, { act, state }: Entry): ShownAlarm {
  const at = instantOfStamp(act.tapped_at);
  if (alarm.taken !== undefined) return comesAfter(alarm, act.keeper, at);
  const { aside_until: _, ...rest } = alarm;
  return { ...rest, taken: at, mine: { told: state === "acked" }, ...(act.keeper ? { taken_by: act.keeper } : {}) };
}

export function overAlarms(alarms: Alarm[], entries: Entry[]): ShownAlarm[] {
  return alarms.map((alarm) => {
    let shown: ShownAlarm = alarm;
    for (const entry of entries) {
      const { act } = entry;
      if (act.kind === "take" && act.alarm === alarm.id) shown = takenBy(shown, entry);
      if (act.kind === "called" && act.alarm === alarm.id) shown = { ...shown, what: act.what, ...(act.remark ? { remark: act.remark } : {}) };
      if (act.kind === "aside" && act.alarm === alarm.id && act.until > now() && shown.taken === undefined) shown = { ...shown, aside_until: act.until };
    }
    return shown;
  });
}

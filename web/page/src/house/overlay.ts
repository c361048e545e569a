// What the keeper has tapped but the answer at hand does not know yet, laid over that answer.
import type { Alarm, RoundLine, RoundQuestion } from "../api";
import { instantOfStamp, now } from "../clock";
import type { Entry } from "../queue/entry";

export interface ShownLine extends RoundLine {
  waiting: boolean;     // settled by a tap that the house has not answered
  entry?: Entry;        // the tap itself, if this phone still knows it
}
export interface ShownQuestion extends RoundQuestion {
  answered?: { word: string; entry: Entry; waiting: boolean };
}

/** Those that an answer asked for at `asked_at` cannot hold; what was refused changes nothing. */
export function unknownTo(asked_at: number, entries: Entry[]): Entry[] {
  return entries.filter((e) => e.state === "waiting" || (e.state === "acked" && (e.acked_at ?? 0) > asked_at));
}

function settle(line: ShownLine, entry: Entry): ShownLine {
  const act = entry.act;
  if (act.kind !== "care") return line;
  const all = [...new Set([...line.done_kinds, ...act.done])];
  const left = line.kinds.filter((k) => !all.includes(k) && !act.skipped.includes(k));
  const at = instantOfStamp(act.said_at ?? act.tapped_at);
  const shared = {
    ...line, entry, done_kinds: all, skipped_kinds: act.skipped, waiting: entry.state === "waiting",
    settled_at: at, settled_by: act.id, ...(act.reason ? { reason: act.reason } : {}),
  };
  if (left.length > 0) return { ...shared, state: line.state };
  return { ...shared, state: act.done.length > 0 || line.done_kinds.length > 0 ? "done" : "skipped" };
}

function reopen(line: ShownLine): ShownLine {
  const { settled_at: _at, settled_by: _by, keeper: _keeper, reason: _reason, entry: _entry, ...rest } = line;
  return { ...rest, state: line.late_since ? "late" : "due", done_kinds: [], skipped_kinds: [], waiting: false };
}

/** The lines as the keeper sees them. Entries name a line by its key, undos by the act that they undo. */
export function overLines(lines: RoundLine[], entries: Entry[], known: Entry[] = entries): ShownLine[] {
  return lines.map((line) => {
    let shown: ShownLine = { ...line, waiting: false };
    const own = known.find((e) => e.act.id === line.settled_by);
    if (own) shown.entry = own;
    for (const entry of entries) {
      if (entry.act.kind === "undo" && entry.act.of === shown.settled_by) shown = reopen(shown);
      else if (entry.act.kind === "care" && entry.about === line.key && line.settled_by !== entry.act.id) shown = settle(shown, entry);
    }
    return shown;
  });
}

export function overQuestions(questions: RoundQuestion[], entries: Entry[]): ShownQuestion[] {
  return questions.map((question) => {
    let shown: ShownQuestion = question;
    for (const entry of entries) {
      const act = entry.act;
      if (act.kind === "undo" && act.of === shown.answered?.entry.act.id) shown = question;
      if (act.kind !== "answer" || entry.about !== question.key) continue;
      const word = "option" in act ? act.option : act.start;
      shown = { ...question, answered: { word, entry, waiting: entry.state === "waiting" } };
    }
    return shown;
  });
}

export function overAlarms(alarms: Alarm[], entries: Entry[]): Alarm[] {
  return alarms.map((alarm) => {
    let shown = alarm;
    for (const { act } of entries) {
      if (act.kind === "take" && act.alarm === alarm.id) shown = { ...shown, taken: shown.taken ?? now() };
      if (act.kind === "called" && act.alarm === alarm.id) shown = { ...shown, what: act.what };
    }
    return shown;
  });
}

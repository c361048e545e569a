// A paper round typed back: "1 3-7, 07:40, IH". One entry a line or between semicolons; its parts stand between commas:
// numbers of lines, an hour, initials. "4 not 2 6: sticks" leaves wheels out, "5 not done: no time" skips a line,
// "3 turn only: rind wet" is done in part, "2 dry" or "2 not yet" answers a question. Hour and initials hold on until
// others are written. Pure.
import type { CareKind, Day, Instant } from "../../api";
import { addDays, instantOf } from "../../days";
import { many, t } from "../../words";
import type { Numbered } from "./numbered";

export interface Said {
  row: Numbered;
  at: Instant;
  keeper: string;          // initials, or ""
  done: CareKind[];        // of a line
  skipped: CareKind[];
  left: number[];          // wheels left out, by their id
  reason: string;
  answer: string;          // of a question: "yes", "not yet", an option, or the name of a place
}
export interface Trouble { piece: string; what: string }
export interface Parsed { said: Said[]; troubles: Trouble[] }

export interface Sheet {
  rows: Numbered[];
  day: Day;                // whose round it is
  now: Instant;
  keepers: string[];
  me: string;
}

/** A piece that cannot be read, in words for the keeper. */
class Unread extends Error {}

interface Piece { numbers: number[]; tail: string }

const kHour = /^(\d{1,2})[:.h](\d{2})$/i;
const kInitials = /^\p{L}{1,4}$/u;
const kNumbers = /^\d+(?:\s*[-–]\s*\d+)?(?:\s+\d+(?:\s*[-–]\s*\d+)?)*$/;
const kWithTail = /^(\d+(?:\s*[-–]\s*\d+)?(?:\s+\d+(?:\s*[-–]\s*\d+)?)*)\s+(\D.*)$/;
const kMost = 500; // a range beyond it is a slip of the pen

/** "1 3-7" */
export function numbersIn(text: string): number[] {
  return [...text.matchAll(/(\d+)(?:\s*[-–]\s*(\d+))?/g)].flatMap(([, low, high]) => {
    const first = Number(low);
    const last = high === undefined ? first : Number(high);
    if (last < first || last - first > kMost) throw new Unread(t("paper.range"));
    return Array.from({ length: last - first + 1 }, (_, i) => first + i);
  });
}

/** The keeper's day runs on after midnight: half past one belongs to the evening before. */
function instantIn(day: Day, text: string, now: Instant): Instant {
  const [, hours, minutes] = kHour.exec(text)!;
  const hour = Number(hours);
  if (hour > 23 || Number(minutes) > 59) throw new Unread(t("paper.no hour"));
  const at = instantOf(hour < 4 ? addDays(day, 1) : day, hour, Number(minutes));
  if (at > now) throw new Unread(t("paper.ahead"));
  return at;
}

function initialsIn(text: string, keepers: string[]): string {
  const known = keepers.find((k) => k.toLowerCase() === text.toLowerCase());
  if (!known && keepers.length > 0) throw new Unread(t("paper.no keeper", { keepers: keepers.join(", ") }));
  return known ?? text.toUpperCase();
}

/** An entry in its parts; hour and initials may also stand without a comma before them. */
function partsOf(entry: string): string[] {
  return entry.replace(/\s+(\d{1,2}[:.h]\d{2})(?=[\s,]|$)/gi, ", $1").replace(/((?:^|,)\s*\d{1,2}[:.h]\d{2})\s+(?=\p{L})/giu, "$1, ")
    .split(",").map((part) => part.trim()).filter(Boolean);
}

function rowOf(rows: Numbered[], number: number): Numbered {
  const row = rows.find((r) => r.number === number);
  if (!row) throw new Unread(many("paper.no number", rows.length, { asked: number }));
  return row;
}

type What = Pick<Said, "done" | "skipped" | "left" | "reason" | "answer">;
const kNothing: What = { done: [], skipped: [], left: [], reason: "", answer: "" };

function leftOut(line: Extract<Numbered, { kind: "line" }>["line"], text: string): number[] {
  return numbersIn(text).map((number) => {
    const at = line.numbers.indexOf(number);
    if (at < 0) throw new Unread(t("paper.no wheel", { number }));
    return line.wheels[at]!;
  });
}

/** What is written behind the number of a line. */
function ofLine({ line }: Extract<Numbered, { kind: "line" }>, tail: string): What {
  const todo = line.kinds.filter((k) => !line.done_kinds.includes(k));
  if (tail === "") return { ...kNothing, done: todo };
  const skipped = /^(?:not done|skipped)(?:\s*:\s*(.+))?$/i.exec(tail);
  if (skipped) {
    if (!skipped[1]) throw new Unread(t("paper.no reason"));
    return { ...kNothing, skipped: todo, reason: skipped[1] };
  }
  const left = /^(?:not|without)\s+([\d\s–-]+)(?:\s*:\s*(.+))?$/i.exec(tail);
  if (left) return { ...kNothing, done: todo, left: leftOut(line, left[1]!), reason: left[2] ?? "" };
  const only = /^(\p{L}+) only(?:\s*:\s*(.+))?$/iu.exec(tail);
  const kind = only && todo.find((k) => t(`care.${k}`).toLowerCase() === only[1]!.toLowerCase());
  if (kind && kind !== todo[0]) return { ...kNothing, done: [kind], skipped: only[2] ? todo.filter((k) => k !== kind) : [], reason: only[2] ?? "" };
  throw new Unread(t("paper.not read"));
}

/** What can be answered, as it is printed. */
export function answersOf({ question }: Extract<Numbered, { kind: "question" }>): string[] {
  const yes = question.kind === "branch" ? question.options ?? []
    : question.where && question.where.length > 0 ? question.where.map((w) => w.cave_name)
    : [question.start === "dry" ? t("answer.dry") : t("answer.yes")];
  return [...yes, question.kind === "branch" ? t("answer.later") : t("answer.not yet")];
}

function ofQuestion(row: Extract<Numbered, { kind: "question" }>, tail: string): What {
  const answers = answersOf(row);
  const plain = row.question.kind === "start" && answers.length === 2 && /^(?:yes|dry)$/i.test(tail);
  const answer = plain ? answers[0] : answers.find((a) => a.toLowerCase() === tail.toLowerCase());
  if (!answer) throw new Unread(t("paper.answer", { answers: answers.join(" / ") }));
  return { ...kNothing, answer };
}

interface Held { at?: Instant; keeper?: string }

/** One entry: what it says of which numbers, and the hour and initials that hold from it on. */
function readEntry(entry: string, sheet: Sheet, held: Held): { pieces: Piece[]; held: Held } {
  const pieces: Piece[] = [];
  let next = held;
  for (const part of partsOf(entry)) {
    const tailed = kWithTail.exec(part);
    if (kHour.test(part)) next = { ...next, at: instantIn(sheet.day, part, sheet.now) };
    else if (kNumbers.test(part)) pieces.push({ numbers: numbersIn(part), tail: "" });
    else if (tailed) pieces.push({ numbers: numbersIn(tailed[1]!), tail: tailed[2]!.trim() });
    else if (kInitials.test(part)) next = { ...next, keeper: initialsIn(part, sheet.keepers) };
    else throw new Unread(t("paper.not read"));
  }
  return { pieces, held: next };
}

function saidIn(entry: string, sheet: Sheet, held: Held): { said: Said[]; held: Held } {
  const read = readEntry(entry, sheet, held);
  const { at } = read.held;
  const keeper = read.held.keeper ?? sheet.me;
  const said = read.pieces.flatMap(({ numbers, tail }) => numbers.map((number): Said => {
    const row = rowOf(sheet.rows, number);
    if (at === undefined) throw new Unread(t("paper.which hour"));
    if (keeper === "" && sheet.keepers.length > 1) throw new Unread(t("paper.whose"));
    return { row, at, keeper, ...(row.kind === "line" ? ofLine(row, tail) : ofQuestion(row, tail)) };
  }));
  return { said, held: read.held };
}

export function parsePaper(text: string, sheet: Sheet): Parsed {
  const said: Said[] = [];
  const troubles: Trouble[] = [];
  let held: Held = {};
  for (const entry of text.split(/[\n;]/).map((e) => e.trim()).filter(Boolean)) {
    try {
      const read = saidIn(entry, sheet, held);
      held = read.held;
      for (const one of read.said) {
        if (said.some((s) => s.row.number === one.row.number)) throw new Unread(t("paper.twice", { number: one.row.number }));
        said.push(one);
      }
    } catch (error) {
      if (!(error instanceof Unread)) throw error;
      troubles.push({ piece: entry, what: error.message });
    }
  }
  return { said: said.sort((a, b) => a.row.number - b.row.number), troubles };
}

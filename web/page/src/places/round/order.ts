// Which line is at hand, what stands above "now", where the questions stand and where gloves are changed. Pure.
import type { RoundSection } from "../../api";
import type { ShownLine, ShownQuestion } from "../../house/overlay";
import { isSettled } from "./sum";

export { isSettled } from "./sum";

export type Row =
  | { kind: "section"; section: RoundSection; key: string }
  | { kind: "line"; line: ShownLine }
  | { kind: "question"; question: ShownQuestion };

export interface Laid {
  before: Row[];       // above "now": what is settled, first
  after: Row[];        // from the first that is open on: a question or the line at hand
  waits: ShownLine[];  // put off for today
  at_hand?: string;    // key
  questions: number;   // not answered
}

export interface How {
  held?: string | undefined;                     // key of what was just signed or answered: it stays where it was until it is let go
  theirs?: (line: ShownLine) => boolean;         // another keeper took it
  waits?: (line: ShownLine) => boolean;          // put off for today
}

type Item = { section: number; line: ShownLine } | { section: number; question: ShownQuestion };

const ofItsWheels = (question: ShownQuestion) => (line: ShownLine) => line.wheels.some((w) => question.wheels.includes(w));

/** A question keeps its place in the working order, whatever is signed: it stands before the first line of its wheels,
    else before the line that the house names or one of its place, else at the end of its section; never outside it, since
    rinds are walked one kind after another, whatever lies in one box. */
function placeOf(question: ShownQuestion, lines: ShownLine[]): ShownLine | undefined {
  return lines.find(ofItsWheels(question)) ?? lines.find((l) => l.key === question.before)
    ?? lines.find((l) => l.section === question.section && l.place === question.place) ?? lines.find((l) => l.section > question.section);
}

function inOrder(lines: ShownLine[], questions: ShownQuestion[]): Item[] {
  const asked = new Map<ShownLine | undefined, ShownQuestion[]>();
  for (const question of questions) {
    const line = placeOf(question, lines);
    asked.set(line, [...(asked.get(line) ?? []), question]);
  }
  const items = (of: ShownQuestion[] | undefined): Item[] => (of ?? []).map((question) => ({ section: question.section, question }));
  return [...lines.flatMap((line): Item[] => [...items(asked.get(line)), { section: line.section, line }]), ...items(asked.get(undefined))];
}

/** Each run of one section under its name. */
function headed(items: Item[], sections: RoundSection[], above: number): Row[] {
  let last = above;
  return items.flatMap((item): Row[] => {
    const row: Row = "line" in item ? { kind: "line", line: item.line } : { kind: "question", question: item.question };
    const section = sections[item.section];
    if (item.section === last || !section) return [row];
    last = item.section;
    return [{ kind: "section", section, key: `${item.section}` }, row];
  });
}

export function layRound(all: ShownLine[], questions: ShownQuestion[], sections: RoundSection[], { held, theirs, waits }: How = {}): Laid {
  const isPutOff = (line: ShownLine) => !isSettled(line) && line.key !== held && waits?.(line) === true;
  const lines = all.filter((line) => !isPutOff(line));
  const at_hand = lines.find((l) => l.key === held || (!isSettled(l) && !theirs?.(l)));
  const items = inOrder(lines, questions);
  const line = at_hand ? items.findIndex((item) => "line" in item && item.line === at_hand) : items.length;
  const stands = (question: ShownQuestion) => (!question.answered || question.key === held) && !lines.some((l) => ofItsWheels(question)(l) && theirs?.(l));
  const cut = firstAsked(items, line, stands);
  return {
    before: headed(items.slice(0, cut), sections, -1),
    after: headed(items.slice(cut), sections, items[cut - 1]?.section ?? -1),
    waits: all.filter(isPutOff),
    ...(at_hand ? { at_hand: at_hand.key } : {}),
    questions: questions.filter((q) => !q.answered).length,
  };
}

/** Where "now" stands: before the first question that is open, though lines behind it are signed; else before the line at
    hand and the questions right before it. */
function firstAsked(items: Item[], line: number, stands: (question: ShownQuestion) => boolean): number {
  const open = items.findIndex((item) => "question" in item && stands(item.question));
  let first = open >= 0 ? Math.min(open, line) : line;
  while (first > 0 && "question" in items[first - 1]!) first -= 1;
  return first;
}

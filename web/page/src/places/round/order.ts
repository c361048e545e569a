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
  after: Row[];        // from the line at hand on
  waits: ShownLine[];  // put off for today
  at_hand?: string;    // key
  questions: number;   // not answered
}

export interface How {
  held?: string | undefined;                     // key of the line just signed: it stays where it was until it is let go
  theirs?: (line: ShownLine) => boolean;         // another keeper took it
  waits?: (line: ShownLine) => boolean;          // put off for today
}

type Item = { section: number; line: ShownLine } | { section: number; question: ShownQuestion };

/** A question stands before the first unsettled line of its place, but never outside its section: rinds are walked one
    kind after another, whatever lies in one box. One without a line stands at the end of its section. The
    line just signed counts as open: what stands before it must not leave while the thumb is there. */
function placeOf(question: ShownQuestion, lines: ShownLine[], held: string | undefined): ShownLine | undefined {
  const open = lines.filter((l) => !isSettled(l) || l.key === held);
  return open.find((l) => l.wheels.some((w) => question.wheels.includes(w))) ?? open.find((l) => l.section === question.section && l.place === question.place)
    ?? open.find((l) => l.section > question.section);
}

function inOrder(lines: ShownLine[], questions: ShownQuestion[], held: string | undefined): Item[] {
  const asked = new Map<ShownLine | undefined, ShownQuestion[]>();
  for (const question of questions) {
    const line = placeOf(question, lines, held);
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
  const items = inOrder(lines, questions, held);
  const cut = firstAsked(items, at_hand ? items.findIndex((item) => "line" in item && item.line === at_hand) : items.length);
  return {
    before: headed(items.slice(0, cut), sections, -1),
    after: headed(items.slice(cut), sections, items[cut - 1]?.section ?? -1),
    waits: all.filter(isPutOff),
    ...(at_hand ? { at_hand: at_hand.key } : {}),
    questions: questions.filter((q) => !q.answered).length,
  };
}

/** Questions that stand right before the line at hand stand below "now" with it. */
function firstAsked(items: Item[], line: number): number {
  let first = line;
  while (first > 0 && "question" in items[first - 1]!) first -= 1;
  return first;
}

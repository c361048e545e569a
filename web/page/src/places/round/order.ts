// Which line is at hand, what stands above "now", and where the questions stand. Pure.
import type { RindWord } from "../../api";
import type { ShownLine, ShownQuestion } from "../../house/overlay";

export const isSettled = (line: ShownLine) => !["due", "late"].includes(line.state);

export type Row =
  | { kind: "rind"; rind: RindWord }
  | { kind: "line"; line: ShownLine }
  | { kind: "question"; question: ShownQuestion };

export interface Laid {
  before: Row[];       // above "now": what is settled, first
  after: Row[];        // from the line at hand on
  at_hand?: string;    // key
  left: number;
  questions: number;   // not answered
}

/** A question stands before the first unsettled line of its place; one without a line, below the lines. The line just
    signed counts as open: what stands before it must not leave while the thumb is there. */
function placeOf(question: ShownQuestion, lines: ShownLine[], held: string | undefined): ShownLine | undefined {
  const open = lines.filter((l) => !isSettled(l) || l.key === held);
  return open.find((l) => l.wheels.some((w) => question.wheels.includes(w))) ?? open.find((l) => l.place === question.place);
}

/** `held` is the key of the line just signed: it stays where it was until it is let go. */
export function layRound(lines: ShownLine[], questions: ShownQuestion[], held?: string): Laid {
  const at_hand = lines.find((l) => !isSettled(l) || l.key === held);
  const first = at_hand ? lines.indexOf(at_hand) : lines.length;
  const asked = new Map<ShownLine | undefined, ShownQuestion[]>();
  for (const question of questions) {
    const line = placeOf(question, lines, held);
    asked.set(line, [...(asked.get(line) ?? []), question]);
  }
  let rind: RindWord | undefined;
  const rows = (of: ShownLine[]): Row[] => of.flatMap((line) => {
    const found: Row[] = [];
    if (line.rind !== rind) found.push({ kind: "rind", rind: line.rind });
    rind = line.rind;
    for (const question of asked.get(line) ?? []) found.push({ kind: "question", question });
    return [...found, { kind: "line", line }];
  });
  const before = rows(lines.slice(0, first));
  const loose: Row[] = (asked.get(undefined) ?? []).map((question) => ({ kind: "question", question }));
  return {
    before,
    after: [...rows(lines.slice(first)), ...loose],
    ...(at_hand ? { at_hand: at_hand.key } : {}),
    left: lines.filter((l) => !isSettled(l)).length,
    questions: questions.filter((q) => !q.answered).length,
  };
}

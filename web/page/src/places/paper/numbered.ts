// The lines and questions of a round as they are numbered on paper: what was open when it was printed, in working order.
// The same round gives the same numbers on every phone. Pure.
import type { Round, RoundSection } from "../../api";
import { overLines, type ShownLine, type ShownQuestion } from "../../house/overlay";
import { layRound } from "../round/order";
import { isSettled } from "../round/sum";

export type PaperRow =
  | { kind: "section"; section: RoundSection }
  | { kind: "line"; number: number; line: ShownLine }
  | { kind: "question"; number: number; question: ShownQuestion };
export type Numbered = Exclude<PaperRow, { kind: "section" }>;

export function paperRows(round: Round): PaperRow[] {
  const open = overLines(round.lines, []).filter((line) => !isSettled(line));
  const { before, after } = layRound(open, round.questions, round.sections);
  let number = 0;
  return [...before, ...after].map((row): PaperRow => {
    if (row.kind === "section") return { kind: "section", section: row.section };
    number += 1;
    return row.kind === "line" ? { kind: "line", number, line: row.line } : { kind: "question", number, question: row.question };
  });
}

export const numberedOf = (rows: PaperRow[]): Numbered[] => rows.filter((row): row is Numbered => row.kind !== "section");

// A house that does not say yet what a round costs and how it is walked: what it leaves out counts as nothing.
import type { Round, RoundLine, RoundQuestion } from "../../api";

type Loose<T, K extends keyof T> = Omit<T, K> & Partial<Pick<T, K>>;
type LooseLine = Loose<RoundLine, "section" | "minutes" | "numbers" | "two_people" | "look_first" | "held" | "cut">;
type LooseRound = Omit<Loose<Round, "day" | "expected" | "sections" | "minutes" | "bring" | "coming" | "shares">, "lines" | "questions"> & { lines: LooseLine[]; questions: Loose<RoundQuestion, "section">[] };

/** Rind classes in working order, as sections that change nothing. */
export function complete(given: Round): Round {
  const round = given as unknown as LooseRound;
  if (round.sections && round.lines.every((l) => l.section !== undefined)) return given;
  const rinds = [...new Set(round.lines.map((l) => l.rind))];
  return {
    ...round,
    day: round.day ?? round.head.day,
    expected: round.expected ?? false,
    sections: rinds.map((rind) => ({ rind, marked: false, change: [], minutes: 0 })),
    minutes: round.minutes ?? 0,
    bring: round.bring ?? { washes: [], cloths: 0, tools: [], two_people: false, mask: false },
    coming: round.coming ?? [],
    shares: round.shares ?? [],
    lines: round.lines.map((line) => ({
      section: rinds.indexOf(line.rind), minutes: 0, numbers: line.wheels.map((_, i) => i + 1), two_people: false, look_first: [], held: false, cut: 0, ...line,
    })),
    questions: round.questions.map((question) => ({ section: 0, ...question })),
  };
}

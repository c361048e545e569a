// What stands under the verb of a line: which wheels, and what to know of them before the hand is laid on. Pure.
import type { CareKind, RoundLine } from "../../api";
import { listed } from "../../figures";
import { joined, kin, lotWord, whichDay } from "../../parts/names";
import { opening, t } from "../../words";

const kRow = 3;   // as many in a row are told by their ends

/** "2, 6, 7", "1 to 9, 11" */
export function numbersWords(numbers: number[]): string {
  const rows: number[][] = [];
  for (const number of [...numbers].sort((a, b) => a - b)) {
    const row = rows[rows.length - 1];
    if (row && row[row.length - 1] === number - 1) row.push(number);
    else rows.push([number]);
  }
  return listed(rows.flatMap((row) => (row.length < kRow ? row.map(String) : [t("span", { low: row[0]!, high: row[row.length - 1]! })])));
}

/** A part of a lot on its shelf is told by its numbers from the door; of a whole one the place says enough. */
export const partNumbers = ({ wheels, numbers, lot_here }: Pick<RoundLine, "wheels" | "numbers" | "lot_here">) =>
  (wheels.length < lot_here && numbers.every((number) => number > 0) ? numbersWords(numbers) : "");

/** "3, 7: tomme, lot 214" */
export const ofNumbers = (line: RoundLine, what: string) => {
  const numbers = partNumbers(line);
  return numbers && what ? t("round.marked", { numbers, what }) : what;
};

/** What can have been done of a line and not the rest: the leading care brings the others with it, so that it is never
    without them. Each of the others alone, and all of them. */
export function partsOf([, ...others]: CareKind[]): CareKind[][] {
  return [...others.map((kind) => [kind]), ...(others.length > 1 ? [others] : [])];
}

/** "tomme, lot 214, day 26" */
const plainWhat = (line: RoundLine) =>
  joined(kin(line.family), lotWord(line.lot), whichDay(line), line.wheel_state === "drying" && t("wheel.drying"));

/** After so long: "Look first: slimy? stuck?" */
const lookFirst = (line: RoundLine) => (line.look_first.length > 0 ? t("round.look first", { look: line.look_first.map((word) => t(`look.${word}`)).join(" ") }) : "");

/** Which wheels: "2, 6, 7: mite dust", "tomme, lot 214, day 26", "3, 7: look first: slimy?". Wheels with a fault are known
    by it where they are a part of a shelf. */
function which(line: RoundLine): string {
  const look = line.late_since ? lookFirst(line) : "";
  const plain = look || plainWhat(line);
  if (!line.marked) return ofNumbers(line, plain);
  const fault = t(`fault.${line.marked}`);
  return partNumbers(line) ? ofNumbers(line, fault) : joined(plainWhat(line), fault);
}

/** What was found on other wheels, for which these are looked at: "mite dust, found at A2". */
const foundAt = (line: RoundLine) =>
  (line.found_at ?? []).map(({ what, place }) => t("round.found at", { what: t(`fault.${what}`), place })).join("; ");

/** Sentences, the first of them which wheels; what asks for the eye comes before what is only news. `brief`: without the
    plan's note, which the line at hand shows. */
export function whatWords(line: RoundLine, brief = false): string {
  const look = lookFirst(line);
  const said = [
    line.barred && t(`round.barred.${line.barred}`),
    which(line),
    foundAt(line),
    line.held && t("round.held"),
    line.cut > 0 && t("round.cut", { count: line.cut }),
    look && !line.late_since && look,
    !brief && line.note,
    line.new_cadence && opening(line.new_cadence),
    line.then && t("round.then", { low: line.then.low, high: line.then.high }),
    line.two_people && t("round.two people"),
    line.away ? t("round.away") : line.evening ? t("round.evening") : line.past_plan && t("round.past"),
  ];
  return said.filter((s): s is string => Boolean(s)).map((s) => opening(s).replace(/[.]$/, "")).join(". ").replaceAll("?. ", "? ");
}

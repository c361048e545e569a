// What stands under the verb of a line: which wheels, and what to know of them before the hand is laid on. Pure.
import type { RoundLine } from "../../api";
import { joined, kin, lotWord } from "../../parts/names";
import { opening, t } from "../../words";

/** "2, 6, 7" */
export const numbersWords = (numbers: number[]) => [...numbers].sort((a, b) => a - b).join(", ");

/** "tomme, lot 214, day 26" */
export const plainWhat = (line: RoundLine) =>
  joined(opening(kin(line.family)), lotWord(line.lot), t("day.number", { day: line.day }), line.wheel_state === "drying" && t("wheel.drying"));

/** After so long: "Look first: slimy? stuck?" */
const lookFirst = (line: RoundLine) => (line.look_first.length > 0 ? t("round.look first", { look: line.look_first.map((word) => t(`look.${word}`)).join(" ") }) : "");

/** "2, 6, 7: mite dust" */
const mark = (line: RoundLine) => (line.marked ? t("round.marked", { numbers: numbersWords(line.numbers), what: t(`fault.${line.marked}`) }) : "");

/** Sentences, the first of them which wheels; what asks for the eye comes before what is only news. `brief`: without the
    plan's note, which the line at hand shows. */
export function whatWords(line: RoundLine, brief = false): string {
  const look = lookFirst(line);
  const said = [
    mark(line) || (look && line.late_since ? look : plainWhat(line)),
    line.held && t("round.held"),
    line.cut > 0 && t("round.cut", { count: line.cut }),
    look && !line.late_since && look,
    !brief && line.note,
    line.new_cadence && opening(line.new_cadence),
    line.two_people && t("round.two people"),
    line.away ? t("round.away") : line.evening ? t("round.evening") : line.past_plan && t("round.past"),
  ];
  return said.filter((s): s is string => Boolean(s)).map((s) => opening(s).replace(/[.]$/, "")).join(". ").replaceAll("?. ", "? ");
}

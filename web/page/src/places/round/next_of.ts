// What is asked of some wheels next. Pure.
import type { Day, Wheel } from "../../api";
import { careWords, dayWord, lateWord } from "../../parts/names";
import { opening, t } from "../../words";

/** "Next: wash, turn, Friday." or, of what is due already, "Wash, turn was due Tuesday." */
export function nextOf(wheels: Pick<Wheel, "next">[], today: Day): string {
  const next = wheels.map((w) => w.next).filter((n) => n !== undefined).sort((a, b) => (a.due < b.due ? -1 : 1))[0];
  if (!next) return t("did.none next");
  const since = next.late_since ?? next.due;
  return since < today ? opening(t("did.late", { cares: careWords(next.kinds), day: lateWord(since, today) }))
    : t("did.next", { cares: careWords(next.kinds), day: dayWord(next.due, today) });
}

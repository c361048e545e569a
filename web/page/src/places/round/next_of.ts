// What is asked of some wheels next. Pure.
import type { Day, Wheel } from "../../api";
import { careWords, dayWord, lateWord } from "../../parts/names";
import { opening, t } from "../../words";

/** "Next: wash, turn, Friday." or, of what is due already, "Wash, turn was due Tuesday." */
export function nextOf(wheels: Pick<Wheel, "next">[], today: Day): string {
  const next = firstNext(wheels);
  if (!next) return t("did.none next");
  const since = next.late_since ?? next.due;
  return since < today ? opening(t("did.late", { cares: careWords(next.kinds), day: lateWord(since, today) }))
    : t("did.next", { cares: careWords(next.kinds), day: dayWord(next.due, today) });
}

/** "turn Friday" or, of what is due already, "brush, turn, due since Wednesday". */
export function nextWord(next: NonNullable<Wheel["next"]>, today: Day): string {
  const since = next.late_since ?? (next.due < today ? next.due : undefined);
  return since ? t("wheels.late", { cares: careWords(next.kinds), day: lateWord(since, today) }) : t("wheels.next", { cares: careWords(next.kinds), day: dayWord(next.due, today) });
}

/** Of several wheels the care that is due first. */
export const firstNext = (wheels: Pick<Wheel, "next">[]) => wheels.map((w) => w.next).filter((n) => n !== undefined).sort((a, b) => (a.due < b.due ? -1 : 1))[0];

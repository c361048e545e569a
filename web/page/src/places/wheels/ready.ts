// When a wheel is ready, in words: a window, never a day. Pure.
import type { Day, Wheel, WheelPage } from "../../api";
import { dateWord } from "../../parts/names";
import { t } from "../../words";

/** "Ready 7 to 27 Dec. Eaten young, from 27 Nov." What lies behind is not told as to come. */
export function readyWords(ready: Wheel["ready"], today: Day): string {
  if (!ready) return "";
  const { from, to, young } = ready;
  const own = to < today ? t("wheels.ready past", { day: dateWord(to, today) }) : from <= today ? t("wheels.ready now", { to: dateWord(to, today) }) : t("wheels.ready", { from: dateWord(from, today), to: dateWord(to, today) });
  if (!young || young.to < today) return own;
  return `${own} ${young.from <= today ? t("wheels.ready young now", { to: dateWord(young.to, today) }) : t("wheels.ready young", { from: dateWord(young.from, today), to: dateWord(young.to, today) })}`;
}

/** The day on which the ready days open, where that is within a stage and not with it. */
export function opensIn(ready: Wheel["ready"], s: WheelPage["stages"][number], today: Day): Day | undefined {
  const from = ready?.from;
  return from && from >= today && from > s.from && (!s.to || from <= s.to) ? from : undefined;
}

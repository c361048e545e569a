// What the round says on top: what is left, what comes next. Pure.
import type { Alarm, Round } from "../../api";
import { weekday } from "../../days";
import { isLoud } from "../../parts/alarms";
import { isGas } from "../../parts/kinds";
import { many, t } from "../../words";
import { minutesSaid, type Sum } from "./sum";

/** The next care is asked later on this very day. */
export const laterToday = (round: Pick<Round, "head" | "next">) => round.next?.day === round.head.day;

/** "Five left, 15 minutes.", "All done for today.", or "for now" while the evening still asks for something; nothing while what
    is left is barred. */
export function great(round: Round, { left, minutes }: Pick<Sum, "left" | "minutes">, lines: number): string {
  if (left > 0) return minutes > 0 ? many("round.left minutes", left, { minutes: minutesSaid(minutes) }) : many("round.left", left);
  // What is barred is not done; how many that are the house says besides.
  if (round.lines.some((line) => line.barred)) return "";
  if (laterToday(round)) return t("sentence.now done");
  return lines > 0 ? t("round.done") : t("round.nothing");
}

/** "The alarm first.", above all work, done or not: while one asks for a hand. */
export function alarmFirst(alarms: Alarm[]): string {
  const loud = alarms.filter((a) => isLoud(a) && a.over === undefined);
  if (loud.some((a) => isGas(a.kind))) return t("caves.gas first");
  return loud.length > 0 ? t("caves.alarm first") : "";
}

/** "Next: Friday, A1." or "This evening: Counter."; nothing while something is left. */
export function nextWords(round: Round, left: number): string {
  if (!round.next || left > 0) return "";
  const place = round.next.lines[0]?.place ?? "";
  return laterToday(round) ? t("round.next today", { place }) : t("round.next", { day: weekday(round.next.day), place });
}

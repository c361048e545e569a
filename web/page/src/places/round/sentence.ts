// What the round says on top: what is left, what comes next, and what the house says besides. Pure.
import type { Round } from "../../api";
import { weekday } from "../../days";
import { heard } from "../../parts/said";
import { many, t, type WordKey } from "../../words";
import { minutesSaid, type Sum } from "./sum";

// What the page counts itself, since it knows of taps not sent yet, and the alarms, which stand on top already.
const kElsewhere: WordKey[] = ["sentence.alarm", "sentence.alarm.over", "sentence.alarms more.one", "sentence.alarms more.other", "sentence.now done", "round.left.one", "round.left.other", "round.left minutes.one", "round.left minutes.other",
  "round.done", "round.nothing", "round.next", "round.next today", "round.questions.one", "round.questions.other"];
// It says since when, as the sentence of an alarm does.
const kUnknown: WordKey[] = ["sentence.unknown since", "sentence.unknown since why"];
const isOf = (keys: WordKey[]) => (sentence: string) => keys.some((key) => heard(key, sentence));

/** What the house says besides: which cave is unknown, drifts or has left its band. It stays whatever is done. */
export function besides({ head }: Pick<Round, "head">): string {
  const sentences = head.sentence.split(/\. /).map((s) => (s.endsWith(".") ? s : `${s}.`));
  return sentences.filter((s) => isOf(kUnknown)(s) || !isOf(kElsewhere)(s)).join(" ");
}

/** The next care is asked later on this very day. */
export const laterToday = (round: Pick<Round, "head" | "next">) => round.next?.day === round.head.day;

/** "Five left, 15 minutes.", "All done for today.", or "for now" while the evening still asks for something; nothing while gas
    bars what is left. */
export function great(round: Round, { left, minutes }: Pick<Sum, "left" | "minutes">, lines: number): string {
  if (left > 0) return minutes > 0 ? many("round.left minutes", left, { minutes: minutesSaid(minutes) }) : many("round.left", left);
  // What gas bars is not done; how many that are the house says besides.
  if (round.lines.some((line) => line.barred)) return "";
  if (laterToday(round)) return t("sentence.now done");
  return lines > 0 ? t("round.done") : t("round.nothing");
}

/** "Next: Friday, A1." or "This evening: Counter."; nothing while something is left. */
export function nextWords(round: Round, left: number): string {
  if (!round.next || left > 0) return "";
  const place = round.next.lines[0]?.place ?? "";
  return laterToday(round) ? t("round.next today", { place }) : t("round.next", { day: weekday(round.next.day), place });
}

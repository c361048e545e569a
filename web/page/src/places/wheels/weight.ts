// What a wheel weighs, beside what it began with. Pure.
import type { WheelPage } from "../../api";
import { daysBetween } from "../../days";
import { weight } from "../../figures";
import { dayWord, joined } from "../../parts/names";
import { t } from "../../words";
import { lost } from "./scale";

type Weighed = Pick<WheelPage, "weighings" | "grams_at_entry" | "head"> & { wheel: Pick<WheelPage["wheel"], "grams"> };

/** "2.31 kg, 2.17 kg on Sunday: 6 % lost" */
export function weightWords({ wheel, weighings, grams_at_entry, head }: Weighed): string {
  const last = weighings[weighings.length - 1];
  const first = grams_at_entry ?? (last ? weighings[0]!.grams : wheel.grams);
  const start = first === undefined ? "" : weight(first);
  if (!last) return start;
  const near = Math.abs(daysBetween(last.day, head.day)) <= 1;
  const weighed = t(near ? "wheels.weighed near" : "wheels.weighed", { weight: weight(last.grams), day: dayWord(last.day, head.day) });
  if (grams_at_entry === undefined && weighings.length === 1) return weighed;
  const less = Math.round(lost(first, last.grams) ?? 0);
  return joined(start, less > 0 ? t("wheels.weighed.lost", { weighed, percent: less }) : weighed);
}

// Gas in one line: who may be inside, what it asks of people, the figure. Pure but for words.
import type { Alarm } from "../api";
import { t } from "../words";
import { alarmFigure } from "./alarm_words";
import { isGas } from "./kinds";
import { heard } from "./said";

type Warned = Pick<Alarm, "kind" | "severity" | "value" | "warnings" | "darkens_gas">;

/** "TR said at 09:47 to be there, and not yet to be out." */
export const isOfPeople = (warning: string): boolean => heard("warning.here by", warning) !== undefined || heard("warning.here", warning) !== undefined;

/** "TR may be inside.": who said to be there and not yet to be out; nothing where nobody did. */
export function peopleWord({ warnings = [] }: Pick<Alarm, "warnings">): string {
  for (const warning of warnings) {
    const by = heard("warning.here by", warning);
    if (by) return t("gas.inside by", { name: by["name"]! });
    if (heard("warning.here", warning)) return t("gas.inside");
  }
  return "";
}

const kGrades = ["urgent", "act", "watch", "low"] as const;

/** What it asks of people now: by what the house warns of, else by how grave it is. */
function orderWord({ severity, warnings = [] }: Warned): string {
  const grade = kGrades.find((one) => warnings.some((warning) => heard(`warning.gas.${one}`, warning))) ?? (severity === "hint" ? "low" : severity);
  return t(`gas.order.${grade}`);
}

/** "Nobody in. 16200 ppm"; where nobody knows the gas, that. Nothing of what is about no gas. */
export function gasLine(alarm: Warned): string {
  if (alarm.darkens_gas) return t("gas.order.dark");
  if (!isGas(alarm.kind)) return "";
  const figure = alarmFigure(alarm, alarm.value);
  if (alarm.warnings?.some((warning) => heard("warning.gas unknown", warning))) return t("gas.order.unknown", { value: figure });
  return [orderWord(alarm), figure].filter(Boolean).join(" ");
}

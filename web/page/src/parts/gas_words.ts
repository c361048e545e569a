// Gas in one line: who may be inside, what it asks of people, the figure. Pure but for words.
import type { Alarm } from "../api";
import { spoken } from "../figures";
import { t } from "../words";
import { alarmFigure } from "./alarm_words";
import { isGas } from "./kinds";

/** "TR may be inside.": who said to be there and not yet to be out; nothing where nobody did. */
export function peopleWord({ here_by: names }: Pick<Alarm, "here_by">): string {
  if (!names) return "";
  return names.length > 0 ? t("gas.inside by", { name: spoken(names) }) : t("gas.inside");
}

/** "Nobody in. 16200 ppm"; where nobody knows the gas, that. Nothing of what is about no gas. */
export function gasLine(alarm: Pick<Alarm, "kind" | "grade" | "worse_beside" | "value" | "darkens_gas">): string {
  if (alarm.darkens_gas) return t("gas.order.dark");
  if (!isGas(alarm.kind) || !alarm.grade) return "";
  // No figure stands there of what nobody knows.
  if (alarm.worse_beside) return alarmFigure(alarm, alarm.value); // that one says what to do
  return [t(`gas.order.${alarm.grade}`), alarmFigure(alarm, alarm.value)].filter(Boolean).join(" ");
}

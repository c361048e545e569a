// How the caves stand, in the house's sentence, without what the strips of alarms above it say already. Pure but for words.
import type { Alarm } from "../../api";
import { alarmTitle } from "../../parts/alarms";
import { isGas } from "../../parts/kinds";
import { heard } from "../../parts/said";
import { t } from "../../words";

/** `strips`: the alarms that have a strip of their own. Where nothing else is said, gas is what comes first; else it stays. */
export function besideStrips(sentence: string, strips: Alarm[]): string {
  const titles = strips.map(alarmTitle);
  const isThere = (one: string) => {
    const said = heard("sentence.alarm", one) ?? heard("sentence.alarm undated", one);
    return said !== undefined && titles.includes(`${said["cave"]} ${said["what"]}`);
  };
  const left = sentence.split(/(?<=\.) /).filter((one) => !isThere(one));
  if (left.length > 0) return left.join(" ");
  return strips.some((alarm) => isGas(alarm.kind)) ? t("caves.gas first") : sentence;
}

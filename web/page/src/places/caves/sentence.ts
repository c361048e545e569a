// How the caves stand, in the house's sentences, without what the strips of alarms above them say already. Pure but for words.
import type { Alarm, Caves } from "../../api";
import { isGas } from "../../parts/kinds";
import { t } from "../../words";

/** `strips`: the alarms that have a strip of their own. Where nothing else is said, gas is what comes first; else it stays. */
export function besideStrips(sentences: Caves["sentences"], strips: Pick<Alarm, "id" | "kind">[]): string {
  const left = sentences.filter((one) => !strips.some((alarm) => alarm.id === one.alarm));
  const said = (all: Caves["sentences"]) => all.map((one) => one.text).join(" ");
  if (left.length > 0) return said(left);
  return strips.some((alarm) => isGas(alarm.kind)) ? t("caves.gas first") : said(sentences);
}

// How the caves stand, in the house's sentences, without what the strips of alarms above them say already. Pure but for words.
import type { Alarm, Caves } from "../../api";
import { isGas } from "../../parts/kinds";
import { t, unbroken } from "../../words";

/** `strips`: the alarms that have a strip of their own. Each is told once; where nothing else is said, what comes first is. */
export function besideStrips(sentences: Caves["sentences"], strips: Pick<Alarm, "id" | "kind" | "over">[]): string {
  const left = sentences.filter((one) => !strips.some((alarm) => alarm.id === one.alarm));
  if (left.length > 0) return unbroken(left.map((one) => one.text).join(" "));
  const lasting = strips.filter((alarm) => alarm.over === undefined);
  if (lasting.some((alarm) => isGas(alarm.kind))) return t("caves.gas first");
  return t(lasting.length > 0 ? "caves.alarm first" : "caves.over first");
}

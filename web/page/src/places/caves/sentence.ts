// How the caves stand, in the house's sentences, without what the strips of alarms above them say already. Pure but for words.
import type { Alarm, Caves } from "../../api";
import { isGas } from "../../parts/kinds";
import { t, unbroken } from "../../words";

type Told = Pick<Alarm, "id" | "kind" | "over">;

/** `strips`: the alarms that have a strip of their own. Each is told once; where nothing else is said, what comes first is.
    `all`: those too that have none; what is over says nothing above what stands. */
export function besideStrips(sentences: Caves["sentences"], strips: Told[], all: Told[] = strips): string {
  const lasting = strips.filter((alarm) => alarm.over === undefined);
  const past = lasting.length > 0 ? all.filter((alarm) => alarm.over !== undefined) : [];
  const left = sentences.filter((one) => ![...strips, ...past].some((alarm) => alarm.id === one.alarm));
  if (left.length > 0) return unbroken(left.map((one) => one.text).join(" "));
  if (lasting.some((alarm) => isGas(alarm.kind))) return t("caves.gas first");
  return t(lasting.length > 0 ? "caves.alarm first" : "caves.over first");
}

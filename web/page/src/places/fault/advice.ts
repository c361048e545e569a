// Which of the trade's answers holds for a wheel, and on which days it asks for what. Pure.
import type { Day, FaultText, FaultWord, RindWord } from "../../api";
import { addDays } from "../../days";

export type Advice = FaultText["rinds"][number];

/** By rind and, where it says so, by age in days. */
export function adviceFor(faults: FaultText[], what: FaultWord, rind: RindWord, age: number): Advice | undefined {
  const all = faults.find((f) => f.what === what)?.rinds.filter((r) => r.rind === rind) ?? [];
  return all.find(({ ages }) => ages.from <= age && (ages.to === undefined || age <= ages.to)) ?? all[0];
}

export interface ThenDay { day: Day; what: Advice["then"][number] | "look again" }

/** What changes if the keeper agrees, by day: its cares, and looking again. */
export function thenDays(advice: Advice, today: Day): ThenDay[] {
  const cares = advice.then.map((what): ThenDay => ({ day: addDays(today, what.in_days), what }));
  const look: ThenDay = { day: addDays(today, advice.look_again_days), what: "look again" };
  return [...cares, look].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}

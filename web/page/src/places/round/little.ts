// A short round that was chosen: which lines wait today, kept on this phone until the day turns.
import type { Bring, Day, ShortRound } from "../../api";
import { Cell } from "../../cell";

export interface LittleTime {
  day: Day;
  minutes: number;
  moved: ShortRound["moved"];
  bring: Bring;         // for what was kept, as it stood when the keeper chose
}

const kKey = "little-time";

function kept(): LittleTime | undefined {
  try {
    return (JSON.parse(localStorage.getItem(kKey) ?? "null") as LittleTime | null) ?? undefined;
  } catch {
    return undefined;
  }
}

export const little = new Cell<LittleTime | undefined>(kept());

export function choose(day: Day, short: ShortRound | undefined): void {
  const next = short && { day, minutes: short.minutes, moved: short.moved, bring: short.bring };
  try {
    if (next) localStorage.setItem(kKey, JSON.stringify(next));
    else localStorage.removeItem(kKey);
  } catch {
    // It holds until the page is closed.
  }
  little.set(next);
}

/** What to bring for what was kept that day; undefined: for the whole round. */
export const bringOf = (of: LittleTime | undefined, day: Day): Bring | undefined => (of?.day === day ? of.bring : undefined);

/** What was put off on that day, by the key of its line. */
export function putOff(of: LittleTime | undefined, day: Day): Map<string, ShortRound["moved"][number]> {
  return new Map(of?.day === day ? of.moved.map((one) => [one.key, one]) : []);
}

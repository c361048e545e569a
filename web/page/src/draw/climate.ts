// The air that a wheel had, day by day, against the band that it wanted on that day. Pure, so that it is tested.
import type { AlarmWord, Day, Span } from "../api";
import { addDays, daysBetween, instantOf } from "../days";
import { isOfAir } from "../parts/kinds";
import { bandAt, type BandStep } from "./trace";

export interface ClimateDay { day: Day; low: number; high: number }
/** Days without a hole under one band; `side`: beyond it all day long, cold or warm. The last of them may be the first of
    what follows, on the scale of this one: so that it is joined. */
export interface Body { band: Span | undefined; side: -1 | 0 | 1; days: ClimateDay[] }

/** The band of a keeper's day: the one in force when it ends. */
export const bandOf = (steps: BandStep[], day: Day): Span | undefined => bandAt(steps, instantOf(addDays(day, 1), 4) - 1);

/** The least and the most of a day both beyond the band: it was never inside. */
const beyond = ({ low, high }: ClimateDay, band: Span | undefined): -1 | 0 | 1 => (!band ? 0 : low > band.high ? 1 : high < band.low ? -1 : 0);

const same = (a: Span | undefined, b: Span | undefined) => a?.low === b?.low && a?.high === b?.high;

/** Split at holes, and joined where the band changes or the air leaves it. */
export function bodies(days: ClimateDay[], steps: BandStep[]): Body[] {
  const found: Body[] = [];
  let before: Day | undefined;
  for (const day of days) {
    const band = bandOf(steps, day.day);
    const side = beyond(day, band);
    const last = found[found.length - 1];
    const goesOn = last !== undefined && before !== undefined && daysBetween(before, day.day) === 1;
    if (goesOn) last.days.push(day);
    if (!goesOn || last.side !== side || !same(last.band, band)) found.push({ band, side, days: [day] });
    before = day.day;
  }
  return found;
}

/** Where it left its band, and on which side; what is silent, stuck or broken left none. */
export const combs = <E extends { kind: AlarmWord; from: number }>(excursions: E[]): { from: number; side: -1 | 1 }[] =>
  excursions.filter((e) => isOfAir(e.kind)).map((e) => ({ from: e.from, side: e.kind === "too cold" || e.kind === "too dry" ? -1 : 1 }));

// Whether somebody is at a cave, as this phone knows it. Pure.
import type { Cave, Instant } from "../../api";
import { instantOfStamp, now } from "../../clock";
import type { Entry } from "../../queue/entry";

const kAnHour = 3_600_000;

/** One who is known goes alone; without a name nobody is there any more. */
const stay = (who: string[], keeper?: string): string[] => (keeper ? who.filter((name) => name !== keeper) : []);

/** Who is there by name, the last who said so last; what was tapped here and is not answered yet counts. */
export function whoIsHere(cave: Pick<Cave, "id" | "here_until" | "here_by">, entries: Entry[]): string[] {
  const known = cave.here_until !== undefined && cave.here_until > now() ? cave.here_by ?? [] : [];
  return entries.filter((e) => e.state === "waiting").reduce((who, { act }) => {
    if (act.kind === "here" && act.cave === cave.id) return [...who.filter((name) => name !== act.keeper), ...(act.keeper ? [act.keeper] : [])];
    return act.kind === "out" && act.cave === cave.id ? stay(who, act.keeper) : who;
  }, known);
}

/** Until when; what was tapped and is not answered yet counts. Of who stays when one goes out the house says it exactly. */
export function hereUntil(cave: Pick<Cave, "id" | "here_until" | "here_by">, entries: Entry[]): Instant | undefined {
  const left = whoIsHere(cave, entries).length > 0;
  const known = cave.here_until !== undefined && cave.here_until > now() ? cave.here_until : undefined;
  return entries.filter((e) => e.state === "waiting").reduce((until: Instant | undefined, { act }) => {
    if (act.kind === "here" && act.cave === cave.id) return instantOfStamp(act.tapped_at) + kAnHour;
    return act.kind === "out" && act.cave === cave.id && !left ? undefined : until;
  }, known);
}

/** Where the house says to stay out nobody is asked in. */
export const isBarred = ({ gas = [] }: Pick<Cave, "gas">): boolean => gas.some((one) => one.bars === true);

// Who does which part of a round that two keepers share. Pure.
import type { Day, Round } from "../../api";
import type { ShownLine } from "../../house/overlay";
import { standing } from "../../house/overlay";
import type { Entry } from "../../queue/entry";

export type Share = Round["shares"][number];

/** What a keeper takes is no other's any more; the newest word of each keeper counts whole. */
export function taking(shares: Share[], next: Share): Share[] {
  const others = shares.filter((s) => s.keeper !== next.keeper).map((s) => ({
    keeper: s.keeper, caves: s.caves.filter((c) => !next.caves.includes(c)), lines: s.lines.filter((l) => !next.lines.includes(l)),
  }));
  return [...others, next].filter((s) => s.caves.length > 0 || s.lines.length > 0);
}

export function overShares(shares: Share[], entries: Entry[], day: Day): Share[] {
  return standing(entries).reduce((now, { act }) =>
    (act.kind === "share" && act.day === day ? taking(now, { keeper: act.by, caves: act.caves, lines: act.lines }) : now), shares);
}

/** Who has a line: by itself, else by its room. */
export function keeperOf(line: Pick<ShownLine, "key" | "cave">, shares: Share[]): string | undefined {
  return (shares.find((s) => s.lines.includes(line.key)) ?? shares.find((s) => s.caves.includes(line.cave)))?.keeper;
}

export type Taken = Map<string, string>; // line key -> keeper

/** Said by rooms where all that is open of a room is one keeper's, else by lines. */
export function partsOf(lines: Pick<ShownLine, "key" | "cave">[], taken: Taken, keeper: string): Share {
  const rooms = [...new Set(lines.map((l) => l.cave))];
  const caves = rooms.filter((cave) => lines.filter((l) => l.cave === cave).every((l) => taken.get(l.key) === keeper));
  return { keeper, caves, lines: lines.filter((l) => taken.get(l.key) === keeper && !caves.includes(l.cave)).map((l) => l.key) };
}

// Wheels that lie together: a lot on its shelf. What a keeper stands before, without a wheel's number. Pure.
import type { Wheel } from "../../api";

export interface Group {
  key: string;       // of its address
  wheels: Wheel[];   // counted from the door
}

const keyOf = (w: Wheel) => [w.cave ?? 0, w.place, w.lot, w.family].join("~");

/** In the order in which the house names them; a wheel that is gone lies nowhere. */
export function groupsOf(wheels: Wheel[]): Group[] {
  const found = new Map<string, Wheel[]>();
  for (const wheel of wheels) {
    if (wheel.state === "gone") continue;
    found.set(keyOf(wheel), [...(found.get(keyOf(wheel)) ?? []), wheel]);
  }
  return [...found].map(([key, all]) => ({ key, wheels: all.every((w) => w.number > 0) ? [...all].sort((a, b) => a.number - b.number) : all }));
}

/** Lots that lie on more than one shelf, as one each. */
export function lotsOf(wheels: Wheel[]): Group[] {
  const lots = new Map<string, Wheel[]>();
  for (const wheel of wheels) if (wheel.lot && wheel.state !== "gone") lots.set(wheel.lot, [...(lots.get(wheel.lot) ?? []), wheel]);
  return [...lots].filter(([, all]) => new Set(all.map((w) => `${w.cave} ${w.place}`)).size > 1).map(([lot, all]) => ({ key: `lot~${lot}`, wheels: all }));
}

/** By its key, or by the number of a wheel that lies in it. */
export const findGroup = (wheels: Wheel[], key: string): Group | undefined =>
  /^\d+$/.test(key) ? groupOf(wheels, Number(key)) : [...groupsOf(wheels), ...lotsOf(wheels)].find((g) => g.key === key);

/** The group in which a wheel lies, for "3 of 14". */
export const groupOf = (wheels: Wheel[], wheel: number): Group | undefined => groupsOf(wheels).find((g) => g.wheels.some((w) => w.id === wheel));

/** Ids and numbers, for a picture of the shelf. */
export const shelfOf = ({ wheels }: Group) => ({ wheels: wheels.map((w) => w.id), numbers: wheels.map((w, i) => w.number || i + 1) });

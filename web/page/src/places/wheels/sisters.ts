// The wheels of one lot, and which of them a keeper means by a count. Pure.
import type { Wheel } from "../../api";

const alive = (wheel: Wheel) => wheel.state !== "gone";

/** Those made with this wheel, itself first, then its neighbours by their number, then those elsewhere. */
export function sisters(wheel: Wheel, all: Wheel[]): Wheel[] {
  const rank = (w: Wheel) => (w.id === wheel.id ? 0 : w.cave === wheel.cave && w.place === wheel.place ? 1 : 2);
  const order = (a: Wheel, b: Wheel) => rank(a) - rank(b) || a.place.localeCompare(b.place) || a.number - b.number || a.id - b.id;
  const found = all.filter((w) => w.lot_id === wheel.lot_id && alive(w)).sort(order);
  return found.some((w) => w.id === wheel.id) ? found : [wheel, ...found];
}

/** "12 of lot 214": the first so many, as they stand from the door, this wheel among them. */
export const firstOf = (of: Wheel[], count: number): number[] => of.slice(0, Math.max(0, count)).map((w) => w.id);

/** Those that lie where this one lies. */
export const beside = (wheel: Wheel, of: Wheel[]): Wheel[] => of.filter((w) => w.cave === wheel.cave && w.place === wheel.place);

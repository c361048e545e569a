// Wheels that are alike in all that a list shows, as one entry each; the entries as one walks past them. Pure.
import type { Wheel } from "../../api";

export interface Group { key: string; wheels: Wheel[] }

const likeness = (w: Wheel) => [w.cave, w.place, w.lot, w.family, w.made, w.stage, w.state, w.day, w.next?.due, w.next?.kinds.join(), w.counts_from.day, w.marks.length, w.held !== undefined, w.left].join("|");

export function groups(wheels: Wheel[]): Group[] {
  const found = new Map<string, Group>();
  for (const wheel of wheels) {
    const key = likeness(wheel);
    const group = found.get(key);
    if (group) group.wheels.push(wheel);
    else found.set(key, { key, wheels: [wheel] });
  }
  return [...found.values()];
}

const byName = new Intl.Collator("en", { numeric: true });

/** Cave by cave as they first came, in each board by board ("A10" after "A9"), on one the younger last. */
export function inWalkingOrder(all: Group[]): Group[] {
  const caves = [...new Set(all.map((group) => group.wheels[0]!.cave))];
  const order = (group: Group) => caves.indexOf(group.wheels[0]!.cave);
  return [...all].sort((a, b) => order(a) - order(b) || byName.compare(a.wheels[0]!.place, b.wheels[0]!.place) || b.wheels[0]!.age - a.wheels[0]!.age);
}

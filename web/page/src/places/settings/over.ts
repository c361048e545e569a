// Settings with what this phone has tapped and the house has not answered laid over them. Pure.
import type { Settings } from "../../api";
import { unknownTo } from "../../house/overlay";
import type { Entry } from "../../queue/entry";

/** The two at a place and after it change places. */
export function swapped<T>(items: T[], at: number): T[] {
  const next = [...items];
  [next[at], next[at + 1]] = [next[at + 1]!, next[at]!];
  return next;
}

export const toggled = (days: number[], day: number): number[] => (days.includes(day) ? days.filter((d) => d !== day) : [...days, day].sort((a, b) => a - b));

export function overSettings(settings: Settings, asked_at: number, entries: Entry[]): Settings {
  return unknownTo(asked_at, entries).reduce((shown, { act }): Settings => {
    switch (act.kind) {
      case "keeper": {
        const others = shown.keepers.filter((k) => k !== act.name);
        return { ...shown, keepers: act.leaves ? others : [...others, act.name] };
      }
      case "calendar":
        return { ...shown, caves: shown.caves.map((c) => (c.id === act.cave ? { ...c, care_days: act.care_days } : c)) };
      case "order":
        if ("cave" in act) return { ...shown, caves: shown.caves.map((c) => (c.id === act.cave ? { ...c, shelves: act.shelves } : c)) };
        return { ...shown, by_room: act.by_room, caves: [...shown.caves].sort((a, b) => rank(act.caves, a.id) - rank(act.caves, b.id)) };
      default:
        return shown;
    }
  }, settings);
}

const rank = (order: number[], id: number) => (order.includes(id) ? order.indexOf(id) : order.length);

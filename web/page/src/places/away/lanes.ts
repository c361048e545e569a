// An absence as a drawing: places side by side, each with the windows in which it is to be visited. Pure.
import type { AwayPlan, Day } from "../../api";
import { addDays, daysBetween } from "../../days";

type Lane = AwayPlan["lanes"][number];
export interface Column { name: string; places: string[]; windows: Lane["windows"]; width: number }

const kLetter = 8.3;
const kLeast = 36;
const kRoom = 250;     // px of the column of writing
const kLongest = 11;   // letters of a name over a lane

const likeness = (lane: Lane) => `${lane.cave}|${lane.windows.map((w) => `${w.from}-${w.to}`).join()}`;

/** "A1 to A7" of neighbours, "A1, C2" of others; what is too long for the drawing is cut, and stands whole below it. */
export function nameOf(places: string[]): string {
  const first = places[0] ?? "";
  const last = places[places.length - 1] ?? "";
  const name = places.length === 1 ? first : places.length === 2 ? `${first}, ${last}` : `${first}–${last}`;
  return name.length > kLongest ? `${name.slice(0, kLongest - 1)}…` : name;
}

/** Places of one cave that want the same days are one lane. */
export function columnsOf(lanes: Lane[]): Column[] {
  const found = new Map<string, Lane[]>();
  for (const lane of lanes) {
    if (lane.windows.length === 0) continue;
    const key = likeness(lane);
    found.set(key, [...(found.get(key) ?? []), lane]);
  }
  return [...found.values()].map((alike) => {
    const places = alike.map((l) => l.place);
    const name = nameOf(places);
    return { name, places, windows: alike[0]!.windows, width: Math.max(kLeast, name.length * kLetter + 6) };
  });
}

/** As many lanes to a drawing as the column holds; the rest in further drawings below it, none of them nearly empty. The
    lanes of a drawing share its width. */
export function blocksOf(columns: Column[]): Column[][] {
  const whole = columns.reduce((sum, c) => sum + c.width, 0);
  const fair = whole / Math.max(1, Math.ceil(whole / kRoom));
  const blocks: Column[][] = [];
  let used = Infinity;
  for (const column of columns) {
    if (used + column.width > kRoom || used >= fair) {
      blocks.push([]);
      used = 0;
    }
    blocks[blocks.length - 1]!.push(column);
    used += column.width;
  }
  return blocks.map(spread);
}

function spread(block: Column[]): Column[] {
  const spare = (kRoom - block.reduce((sum, c) => sum + c.width, 0)) / Math.max(1, block.length);
  return block.map((column) => ({ ...column, width: column.width + Math.max(0, spare) }));
}

/** The days of the drawing: from the first day away to the day of return. */
export const daysOf = (from: Day, back: Day): Day[] => Array.from({ length: Math.max(1, daysBetween(from, back) + 1) }, (_, i) => addDays(from, i));

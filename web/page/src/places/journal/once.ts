// What is told once in the journal. Pure.
import type { JournalLine } from "../../api";
import { isUnjudged } from "../../parts/kinds";

/** A silence that is over is told by its end, with both times; while it lasts by its beginning,
    which stays where more is told with it, and where it became graver: that needs what it came from. */
export function once(lines: JournalLine[]): JournalLine[] {
  const ended = new Set(lines.flatMap(({ alarm: a }) => (a && a.kind === "probe silent" && a.change === "over" && !a.unseen && !isUnjudged(a) ? [a.id] : [])));
  const graver = new Set(lines.flatMap(({ alarm: a, kind }) => (kind === "alarm" && a?.change === "severity" ? [a.id] : [])));
  return lines.filter(({ alarm: a, kind }) => !(kind === "alarm" && a?.change === "raised" && !a.found_later && ended.has(a.id) && !graver.has(a.id)));
}

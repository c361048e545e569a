// The dates under which lines of the journal stand. Pure.
import type { Day, JournalLine } from "../../api";
import { dateOf } from "../../days";

/** Each line, with the date under which it begins where that is another than the one before. */
export function dated(lines: JournalLine[]): { line: JournalLine; head?: Day }[] {
  return lines.map((line, i) => {
    const day = dateOf(line.at), before = lines[i - 1];
    return before && dateOf(before.at) === day ? { line } : { line, head: day };
  });
}

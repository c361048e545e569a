// What is left, in minutes, changes of gloves counted in. Pure.
import type { RoundSection } from "../../api";
import type { ShownLine } from "../../house/overlay";
import { many, t } from "../../words";

export const isSettled = (line: ShownLine) => !["due", "late"].includes(line.state);

export interface Sum { left: number; minutes: number; changes: number }

/** A change is still to come if nothing after it was done yet; the gloves that one begins with are no change, and another
    cloth alone takes no time. */
function changesLeft(lines: ShownLine[], open: ShownLine[], sections: RoundSection[]): RoundSection[] {
  return sections.filter((section, index) => section.minutes > 0 && open.some((l) => l.section === index)
    && !lines.some((l) => l.section === index && l.settled_at !== undefined));
}

/** Of `lines` those that count: what another keeper took, or what was put off, does not. */
export function sumOf(lines: ShownLine[], sections: RoundSection[], counts: (line: ShownLine) => boolean = () => true): Sum {
  const open = lines.filter((l) => !isSettled(l) && counts(l));
  const changes = changesLeft(lines, open, sections);
  return { left: open.length, minutes: summed(open, changes), changes: changes.length };
}

interface Timed { minutes: number }
const isShown = ({ minutes }: Timed) => minutes >= 0.5;
const seconds = (parts: Timed[]) => parts.reduce((sum, part) => sum + Math.round(part.minutes * 60), 0);

/** Each line as it is shown, in whole minutes; the lines under half a minute and the changes, whose time is not shown line
    by line, together and in whole minutes too. So the sum is never less than what is shown and the changes. The house
    sums up in the same way. */
export function summed(lines: Timed[], changes: Timed[]): number {
  const shown = lines.filter(isShown).reduce((sum, line) => sum + inWhole(line.minutes), 0);
  const rest = seconds([...lines.filter((line) => !isShown(line)), ...changes]);
  return shown > 0 ? shown + Math.round(rest / 60) : inWhole(rest / 60);
}

/** Whole minutes: what takes any time at all takes one. */
export const inWhole = (minutes: number) => (minutes > 0 ? Math.max(1, Math.round(minutes)) : 0);

/** "5 min" of a sum, or nothing where no time is known. */
export const minutesWord = (minutes: number) => (minutes > 0 ? t("minutes", { minutes: inWhole(minutes) }) : "");

/** The same of one line: under half a minute nothing is said, since many of them would not add up. */
export const lineMinutes = (minutes: number) => (isShown({ minutes }) ? minutesWord(minutes) : "");

/** "15 minutes" in a sentence. */
export const minutesSaid = (minutes: number) => many("round.minutes", inWhole(minutes));

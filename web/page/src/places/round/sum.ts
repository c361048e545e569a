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
  const minutes = [...open, ...changes].reduce((sum, part) => sum + part.minutes, 0);
  return { left: open.length, minutes: inWhole(minutes), changes: changes.length };
}

/** Whole minutes: what takes any time at all takes one. */
export const inWhole = (minutes: number) => (minutes > 0 ? Math.max(1, Math.round(minutes)) : 0);

/** "5 min" of a sum, or nothing where no time is known. */
export const minutesWord = (minutes: number) => (minutes > 0 ? t("minutes", { minutes: inWhole(minutes) }) : "");

/** The same of one line: under half a minute nothing is said, since many of them would not add up. */
export const lineMinutes = (minutes: number) => (minutes >= 0.5 ? minutesWord(minutes) : "");

/** "15 minutes" in a sentence. */
export const minutesSaid = (minutes: number) => many("round.minutes", inWhole(minutes));

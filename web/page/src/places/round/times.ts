// The earlier times a keeper names, in the keeper's words.
import type { Day, Instant } from "../../api";
import { addDays, dateOf, instantOf } from "../../days";

export type EarlierWord = "yesterday morning" | "last night" | "this morning" | "just now";
export interface Earlier { word: EarlierWord; at: Instant }

const kHalfHour = 30 * 60_000;

/** What can be offered at an instant: only what lies behind it, oldest first. `day` is the keeper's day. */
export function earlierTimes(now: Instant, day: Day): Earlier[] {
  const offers: Earlier[] = [
    { word: "yesterday morning", at: instantOf(addDays(day, -1), 7) },
    { word: "last night", at: instantOf(addDays(day, -1), 20) },
    { word: "this morning", at: instantOf(day, 6, 30) },
    { word: "just now", at: now },
  ];
  return offers.filter((o) => o.word === "just now" || o.at < now - kHalfHour);
}

/** Half an hour sooner or later, never ahead of now. */
export const sooner = (at: Instant) => at - kHalfHour;
export const later = (at: Instant, now: Instant) => Math.min(at + kHalfHour, now);

/** The same hour on another day. */
export function onDay(at: Instant, day: Day, now: Instant): Instant {
  const hours = Number(new Date(at - instantOf(dateOf(at), 0)).toISOString().slice(11, 13));
  const minutes = Math.round((at - instantOf(dateOf(at), hours)) / 60_000);
  return Math.min(instantOf(day, hours, minutes), now);
}

// Figures as the book writes them.
import type { Instant, Span } from "./api";
import { many, t, unbroken } from "./words";

const trimmed = (value: number, digits: number) => value.toFixed(digits).replace(/\.0+$/, "").replace("-", "−");

/** "12.4°": always one decimal, so that figures stand under each other. */
export const degrees = (value: number) => `${value.toFixed(1).replace("-", "−")}°`;
/** "12.4 °C" in a sentence. */
export const celsius = (value: number) => unbroken(`${trimmed(value, 1)} °C`);
/** Whole points; above 93 no probe of this kind knows better than "93+". */
export const points = (value: number) => unbroken(value > 93 ? "93+ %" : `${Math.round(value)} %`);

/** "11 to 14" or, of one value, "85". */
export function span(of: Span, digits = 1): string {
  const low = trimmed(of.low, digits);
  const high = trimmed(of.high, digits);
  return low === high ? low : t("span", { low, high });
}

/**
 * Whole minutes that have passed, as the mail counts them; then
 * "2 h 54 min", "13 h", "2 days 11 h", "21 days": of half a day or more nobody counts the minutes, of a week or more
 * nobody the hours. The mail says it alike.
 */
export function lasting(milliseconds: number): string {
  const minutes = Math.max(0, Math.floor(Math.round(milliseconds) / 60_000));
  if (minutes >= 7 * 1440) return many("days", Math.round(minutes / 1440));
  const hours = Math.round(minutes / 60);
  if (minutes < 12 * 60) return lastingExactly(minutes);
  if (hours < 48) return t("hours", { hours });
  const days = many("days", Math.floor(hours / 24));
  return hours % 24 === 0 ? days : unbroken(`${days} ${t("hours", { hours: hours % 24 })}`);
}

/** "12 h 30 min", of a figure that holds to the minute. */
export function lastingExactly(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  if (hours >= 48 && minutes % 1440 === 0) return many("days", minutes / 1440);
  if (hours === 0) return t("minutes", { minutes });
  if (minutes % 60 === 0) return t("hours", { hours });
  return t("hours.minutes", { hours, minutes: minutes % 60 });
}

/** From one hour on the wall to another, as they are shown: "05:16 to 07:22" is 2 h 6 min. */
export const between = (from: Instant, to: Instant) => lasting((Math.floor(to / 60_000) - Math.floor(from / 60_000)) * 60_000);

/** "250 g", "2.31 kg" */
export function weight(grams: number): string {
  return unbroken(grams < 1000 ? `${Math.round(grams)} g` : `${trimmed(grams / 1000, 2).replace(/(\.\d)0$/, "$1")} kg`);
}

/** "turn, pat and brush": names in a row, as a ledger lists them. */
export const listed = (items: string[]) => items.join(", ");

/** "8 and 12", "8, 12 and 9": as it is said. */
export const spoken = (items: string[]): string => (items.length < 2 ? items.join("") : t("caves.and", { first: items.slice(0, -1).join(", "), last: items[items.length - 1]! }));

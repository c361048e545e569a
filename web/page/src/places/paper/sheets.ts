// Which sheets this phone has drawn for printing, newest first, so that they are written back with one tap.
import type { Day, Instant } from "../../api";
import { dateOf, hour, instantOf, shortDate } from "../../days";

const kKey = "sheets";
const kKept = 5;
const kSecond = 1_000;
const kMinute = 60_000;

/** A sheet names its second, and is asked for by it: the same second gives the same numbers. */
export const nextSecond = (at: Instant): Instant => (Math.floor(at / kSecond) + 1) * kSecond;

const kStamp = /^(\d{1,2})[:.h](\d{2})(?:[:.](\d{2}))?$/i;

/** The instant that stands at the foot of a sheet, by its date on the wall; without seconds the end of its minute. Nothing if it is no hour. */
export function instantOfStamp(day: Day, text: string): Instant | undefined {
  const [, hours, minutes, seconds] = (kStamp.exec(text.trim()) ?? []).map(Number);
  if (hours === undefined || minutes === undefined || hours > 23 || minutes > 59 || (seconds ?? 0) > 59) return undefined;
  const at = instantOf(day, hours, minutes);
  return Number.isFinite(seconds) ? at + seconds! * kSecond : at + kMinute - kSecond;
}

/** "26 Nov 07:14:50", as it stands at the foot of a sheet: the date on the wall, also past midnight. */
export const printedWord = (at: Instant): string => `${shortDate(dateOf(at))} ${stampOf(at)}`;

/** "07:14:50" */
export const stampOf = (at: Instant): string => `${hour(at)}:${String(Math.floor(at / kSecond) % 60).padStart(2, "0")}`;

export function keptSheets(): Instant[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(kKey) ?? "[]");
    return Array.isArray(kept) ? kept.filter((at): at is Instant => Number.isFinite(at)) : [];
  } catch {
    return [];
  }
}

export function keepSheet(at: Instant): void {
  try {
    localStorage.setItem(kKey, JSON.stringify([at, ...keptSheets().filter((k) => hour(k) !== hour(at) || Math.abs(k - at) > kMinute)].slice(0, kKept)));
  } catch {
    // Its day and hour stand on the sheet.
  }
}

export const sheetPath = (at: Instant) => `/api/round?at=${at}`;

// Which sheets this phone has drawn for printing, newest first, so that they are written back with one tap.
import type { Instant } from "../../api";

const kKey = "sheets";
const kKept = 5;
const kMinute = 60_000;

/** A sheet names its minute, and is asked for by it. */
export const toMinute = (at: Instant): Instant => Math.floor(at / kMinute) * kMinute;

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
    localStorage.setItem(kKey, JSON.stringify([at, ...keptSheets().filter((k) => k !== at)].slice(0, kKept)));
  } catch {
    // Its day and hour stand on the sheet.
  }
}

export const sheetPath = (at: Instant) => `/api/round?at=${at}`;

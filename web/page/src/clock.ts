// The house's clock as the page knows it: the instant and speed of the last answer, carried on by a monotonic clock.
// The phone's own clock is never shown; it only stamps taps, beside the stamp of the sending.
import type { Instant } from "./api";
import { Cell } from "./cell";

interface Anchor {
  server: Instant;
  local: number; // milliseconds, monotonic
  speed: number;
}

let anchor: Anchor | undefined;

/** Ticks once in a while, for what shows the hour. */
export const tick = new Cell(0);

export function setClock(server: Instant, speed: number): void {
  anchor = { server, local: performance.now(), speed };
  tick.set(tick.value + 1);
}

export function known(): boolean {
  return anchor !== undefined;
}

/** The instant by the house's clock. Before its first answer, the phone's. */
export function now(): Instant {
  if (!anchor) return Date.now();
  return anchor.server + (performance.now() - anchor.local) * anchor.speed;
}

export function speed(): number {
  return anchor?.speed ?? 1;
}

/** What stamps a tap and a sending: the phone's clock; in a trial, the fast clock, so that a minute cut off is an hour. */
export function stamp(): Instant {
  return Math.round(speed() === 1 ? Date.now() : now());
}

/** An instant of the house as the stamp that a tap at that instant would have carried. */
export function stampOf(instant: Instant): Instant {
  return Math.round(stamp() + (instant - now()));
}

export function startTicking(): void {
  setInterval(() => tick.set(tick.value + 1), 5000);
}

/** The instant of the house at which a stamp was made. */
export function instantOfStamp(stamped: Instant): Instant {
  return now() - (stamp() - stamped);
}

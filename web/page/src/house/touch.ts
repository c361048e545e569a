// Whether the house is in touch. Without a word for a while the page says since when, and shows nothing as known now.
import type { Instant } from "../api";
import { Cell } from "../cell";
import { now } from "../clock";

export interface Touch {
  in: boolean;
  since?: Instant; // the last word, by the house's clock; none: it never answered
}

const kSilence = 25_000; // ms of the phone; the clock event comes each 10 s

export const touch = new Cell<Touch>({ in: true });
let last_word = performance.now();
let last_instant: Instant | undefined;

/** The house spoke: an answer or an event. */
export function heard(): void {
  last_word = performance.now();
  last_instant = now();
  if (!touch.value.in) touch.set({ in: true });
}

/** An asking failed. */
export function unheard(): void {
  if (touch.value.in) touch.set({ in: false, ...(last_instant === undefined ? {} : { since: last_instant }) });
}

/** Call now and then: silence is found out by waiting. */
export function listen(): void {
  if (performance.now() - last_word > kSilence) unheard();
}

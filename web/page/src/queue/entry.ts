// What the phone holds of the keeper's acts until the house has answered.
import type { Act, AckedAct } from "../api";

export interface Entry {
  seq: number;        // counts the taps of one page: the order of those of one instant
  act: Act;
  about?: string;     // what on the page it is about: the key of a line or question; never sent
  state: "waiting" | "acked" | "refused";
  tries: number;      // sendings begun: 0 means that the house cannot know of it
  why?: string;       // of a refusal, or of the last stumble of the house over it, in words
  ack?: AckedAct;
  acked_at?: number;  // performance.now(): answers asked for later know of it
}

/** An act as the page makes it: id and instants are added when it is queued. */
type Without<T, K extends PropertyKey> = T extends unknown ? Omit<T, K> : never;
export type Draft = Without<Act, "id" | "tapped_at">;

/** 128 random bits as 32 hexadecimal digits. Over plain http a browser has no ready-made ids. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}

/** In the order of the taps on this phone, whichever page they were made on. */
export function inOrder(a: Entry, b: Entry): number {
  return a.act.tapped_at - b.act.tapped_at || a.seq - b.seq || (a.act.id < b.act.id ? -1 : 1);
}

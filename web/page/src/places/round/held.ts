// The line just signed keeps its place for ten seconds, with the bar to take it back or say more.
import { useEffect, useState } from "preact/hooks";
import type { RoundQuestion } from "../../api";
import { Cell, useCell } from "../../cell";

export interface Held {
  key: string;   // of the line or question
  of: string;    // "A2 turned"
  act: string;   // id
  at: number;    // performance.now()
  height?: number;          // px that it had when it was tapped, and keeps
  later?: boolean;          // a question that was put off
  question?: RoundQuestion; // the one answered: the house asks it no more, but it keeps its place too
}

export const kHold = 10_000;
const kBounce = 600; // a second tap on the same line within it is a slip of a wet thumb

export const held = new Cell<Held | undefined>(undefined);

export function hold(key: string, of: string, act: string, more: Pick<Held, "height" | "question" | "later"> = {}): void {
  held.set({ key, of, act, at: performance.now(), ...more });
}

export function release(): void {
  held.set(undefined);
}

export const isBounce = (key: string) => held.value?.key === key && performance.now() - held.value.at < kBounce;

/** What is held now; nothing once the ten seconds are over. */
export function useHeld(): Held | undefined {
  const now = useCell(held);
  const [, redraw] = useState(0);
  useEffect(() => {
    if (!now) return;
    const left = Math.max(0, kHold - (performance.now() - now.at));
    const timer = setTimeout(() => {
      if (held.value === now) release();
      redraw((n) => n + 1);
    }, left);
    return () => clearTimeout(timer);
  }, [now]);
  return now;
}

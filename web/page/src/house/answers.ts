// What the house has answered, kept by address, so that a place once seen opens without the net.
import { useEffect } from "preact/hooks";
import type { Head } from "../api";
import { Cell, useCell } from "../cell";
import { setClock } from "../clock";
import { setDayTurn, setZone } from "../days";
import { heard, unheard } from "./touch";

export interface Answer<T> {
  value?: T;
  asked_at: number;   // performance.now() when it was asked for
  error?: string;     // of the last asking; the value stays
  missing?: boolean;  // 404
}

const answers = new Map<string, Cell<Answer<unknown>>>();
const asking = new Map<string, Promise<void>>();
const again = new Map<string, Promise<void>>();
/** The head of the newest answer. */
export const head = new Cell<Head | undefined>(undefined);
let head_asked_at = -1;
/** performance.now() when it was asked for. */
export const headAskedAt = (): number => head_asked_at;

export function cellOf<T>(path: string): Cell<Answer<T>> {
  let cell = answers.get(path);
  if (!cell) answers.set(path, (cell = new Cell<Answer<unknown>>({ asked_at: -1 })));
  return cell as Cell<Answer<T>>;
}

function takeHead(next: Head, asked_at: number): void {
  if (asked_at < head_asked_at) return;
  head_asked_at = asked_at;
  setClock(next.now, next.speed);
  setZone(next.zone);
  setDayTurn(next.day_turn);
  head.set(next);
}

const kPatience = 15_000; // ms; a house that is silent for so long is away

function patience(): AbortSignal {
  const giveUp = new AbortController();
  setTimeout(() => giveUp.abort(), kPatience);
  return giveUp.signal;
}

async function load(path: string): Promise<void> {
  const cell = cellOf(path);
  const asked_at = performance.now();
  try {
    const response = await fetch(path, { headers: { Accept: "application/json" }, cache: "no-store", signal: patience() });
    const body = (await response.json()) as { head?: Head; error?: { what: string } };
    heard();
    if (response.ok && body.head) {
      takeHead(body.head, asked_at);
      if (asked_at >= cell.value.asked_at) cell.set({ value: body, asked_at });
    } else {
      cell.set({ ...cell.value, missing: response.status === 404, error: body.error?.what ?? String(response.status) });
    }
  } catch {
    unheard();
    cell.set({ ...cell.value, error: "" });
  }
}

/** Asks now; while an asking is under way, once more after it, however often this is called. */
export function ask(path: string): Promise<void> {
  const running = asking.get(path);
  if (!running) {
    const started = load(path).finally(() => asking.delete(path));
    asking.set(path, started);
    return started;
  }
  let next = again.get(path);
  if (!next) {
    next = running.then(() => {
      again.delete(path);
      return ask(path);
    });
    again.set(path, next);
  }
  return next;
}

/** The last answer at an address; asks when the component opens. */
export function useAnswer<T>(path: string): Answer<T> {
  useEffect(() => {
    shown.add(path);
    void ask(path);
    return () => void shown.delete(path);
  }, [path]);
  return useCell(cellOf<T>(path));
}

/** The addresses that the page shows now. */
export const shown = new Set<string>();

/** Loads places that are not shown, so that they open without the net too. */
export function askAhead(paths: string[]): void {
  for (const path of paths) if (cellOf(path).value.value === undefined) void ask(path);
}

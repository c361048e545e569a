// The one queue of the page, and the acts as the places ask for them.
import type { CareKind, Instant, WhereNow } from "../api";
import { stamp, stampOf } from "../clock";
import { type Draft, type Entry } from "../queue/entry";
import { Queue } from "../queue/queue";
import { sendOverHttp } from "../queue/send";
import { MemoryShelf, openShelf } from "../queue/shelf";
import { ask, shown } from "./answers";
import { hushTaken } from "./bell";
import { signed, signer } from "./keeper";

function acked(): void {
  for (const path of shown) if (!path.includes("before=")) void ask(path);
}

export let queue = new Queue({ shelf: new MemoryShelf(), send: sendOverHttp, stamp, acked, signer });

export async function openQueue(): Promise<void> {
  queue = new Queue({ shelf: await openShelf(), send: sendOverHttp, stamp, acked, signer });
  await queue.load();
}

const kLate = 60_000; // an earlier time within a minute of the tap is no earlier time

/** What a keeper says about when: nothing is "now". */
function said(at: Instant | undefined): { said_at?: Instant } {
  if (at === undefined) return {};
  const said_at = stampOf(at);
  return stamp() - said_at < kLate ? {} : { said_at };
}

export function sign(wheels: number[], done: CareKind[], about?: string,
                     more: { skipped?: CareKind[]; reason?: string; at?: Instant; left?: { wheels: number[]; why: string }; grams?: number } = {}): Entry {
  const draft: Draft = {
    kind: "care", wheels, done, skipped: more.skipped ?? [],
    ...(more.reason ? { reason: more.reason } : {}),
    ...(more.grams ? { grams: more.grams } : {}),
    ...(more.left ? { left: more.left } : {}),
    ...said(more.at),
  };
  return queue.add(draft, about);
}

// One tap each, wherever they stand: where nobody has signed yet, it is asked first who does.
export const take = (alarm: string) => signed(() => {
  queue.add({ kind: "take", alarm });
  hushTaken(alarm);
});
/** Several with one tap and one sign: each is an act of its own, as if it had been tapped by itself. */
export const takeAll = (alarms: string[]) => signed(() => {
  for (const alarm of alarms) {
    queue.add({ kind: "take", alarm });
    hushTaken(alarm);
  }
});
export const call = (alarm: string, what: string, remark = "") => signed(() => void queue.add({ kind: "called", alarm, what, ...(remark ? { remark } : {}) }));
/** `until` by the house's clock. */
export const aside = (alarm: string, until: Instant) => signed(() => void queue.add({ kind: "aside", alarm, until }));
export const here = (cave: number) => signed(() => void queue.add({ kind: "here", cave }));
export const out = (cave: number) => signed(() => void queue.add({ kind: "out", cave }));
export const note = (text: string) => queue.add({ kind: "note", text });
export const move = (wheels: number[], to: WhereNow) => queue.add({ kind: "move", wheels, to });
export const gone = (wheels: number[], how: string, to?: string) => queue.add({ kind: "gone", wheels, how, ...(to ? { to } : {}) });
export const unhang = (probe: number) => signed(() => void queue.add({ kind: "unhang", probe }));

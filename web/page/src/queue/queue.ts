// The queue: an act is kept on the phone until the house has answered it, sent in the order of the taps, and sent again
// with the same id as often as needed. One a page, made at the start.
import type { Act, Instant } from "../api";
import { Cell } from "../cell";
import { newId, type Draft, type Entry } from "./entry";
import type { Send } from "./send";
import type { Shelf } from "./shelf";

const kFirstWait = 2_000;
const kLongestWait = 30_000;
const kRemembered = 200; // answered acts that are remembered until the answers of the house hold them

export interface QueueParts {
  shelf: Shelf;
  send: Send;
  stamp: () => Instant;
  acked?: (entry: Entry) => void;
  wait?: (milliseconds: number, then: () => void) => unknown;
}

export class Queue {
  /** All that is waiting, refused, or answered but perhaps not yet in what the page shows. */
  readonly entries = new Cell<Entry[]>([]);
  /** Why nothing can be written just now; empty if it can. */
  readonly trouble = new Cell("");
  private seq = 0;
  private pumping = false;
  private pause = kFirstWait;

  constructor(private readonly parts: QueueParts) {}

  /** Takes up what an earlier page has left. */
  async load(): Promise<void> {
    const left = await this.parts.shelf.all();
    this.seq = Math.max(this.seq, ...left.map((e) => e.seq), 0);
    this.entries.set([...left, ...this.entries.value]);
    void this.pump();
  }

  get keeps(): boolean {
    return this.parts.shelf.keeps;
  }

  /** Shows it at once, keeps it on the phone, then sends it. */
  add(draft: Draft, about?: string): Entry {
    const act = { ...draft, id: newId(), tapped_at: this.parts.stamp() } as Act;
    const entry: Entry = { seq: ++this.seq, act, state: "waiting", tries: 0, ...(about ? { about } : {}) };
    this.change([...this.entries.value, entry]);
    void this.keep(entry).then(() => this.pump());
    return entry;
  }

  /** Takes an act back: silently if it never left the phone, else by an act that names it. */
  undo(id: string, about?: string): void {
    const entry = this.find(id);
    if (entry && entry.state === "waiting" && entry.tries === 0) this.drop(entry);
    else this.add({ kind: "undo", of: id }, about);
  }

  /** Forgets an entry: one that was refused and read. */
  drop(entry: Entry): void {
    this.change(this.entries.value.filter((e) => e.seq !== entry.seq));
    void this.parts.shelf.remove(entry).catch(() => undefined);
  }

  find(id: string): Entry | undefined {
    return this.entries.value.find((e) => e.act.id === id);
  }

  /** The connection came back: do not wait out the pause. */
  nudge(): void {
    this.pause = kFirstWait;
    void this.pump();
  }

  private change(entries: Entry[]): void {
    const acked = entries.filter((e) => e.state === "acked").length;
    let spare = Math.max(0, acked - kRemembered);
    this.entries.set(entries.filter((e) => e.state !== "acked" || spare-- <= 0));
  }

  private replace(entry: Entry): void {
    this.change(this.entries.value.map((e) => (e.seq === entry.seq ? entry : e)));
  }

  private async keep(entry: Entry): Promise<void> {
    await this.parts.shelf.put(entry).catch(() => undefined); // a full phone: the act still goes out from memory
  }

  private next(): Entry | undefined {
    return this.entries.value.find((e) => e.state === "waiting");
  }

  private async pump(): Promise<void> {
    if (this.pumping) return;
    this.pumping = true;
    try {
      for (let entry = this.next(); entry; entry = this.next()) {
        if (!(await this.sendOne(entry))) {
          this.later();
          return;
        }
      }
      this.pause = kFirstWait;
    } finally {
      this.pumping = false;
    }
  }

  /** False if it has to be tried again later. */
  private async sendOne(entry: Entry): Promise<boolean> {
    const tried = { ...entry, tries: entry.tries + 1 };
    this.replace(tried);
    await this.keep(tried); // before the sending: after a crash nobody may believe that it never left
    const outcome = await this.parts.send(tried.act, this.parts.stamp());
    this.trouble.set(outcome.kind === "later" ? outcome.why : "");
    switch (outcome.kind) {
      case "acked": {
        const acked: Entry = { ...tried, state: "acked", ack: outcome.ack, acked_at: performance.now() };
        await this.parts.shelf.remove(tried).catch(() => undefined);
        this.replace(acked);
        this.parts.acked?.(acked);
        return true;
      }
      case "refused": {
        const refused: Entry = { ...tried, state: "refused", why: outcome.why };
        await this.keep(refused);
        this.replace(refused);
        return true;
      }
      default:
        return false;
    }
  }

  private later(): void {
    const wait = this.parts.wait ?? ((ms, then) => setTimeout(then, ms));
    wait(this.pause, () => void this.pump());
    this.pause = Math.min(this.pause * 2, kLongestWait);
  }
}

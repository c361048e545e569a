// The queue: an act is kept on the phone until the house has answered it, sent in the order of the taps, and sent again
// with the same id as often as needed. One a page, made at the start; several pages may share one shelf.
import type { Act, Instant } from "../api";
import { Cell } from "../cell";
import { inOrder, newId, type Draft, type Entry } from "./entry";
import type { Outcome, Send } from "./send";
import type { Shelf } from "./shelf";

const kFirstWait = 2_000;
const kLongestWait = 30_000;
const kLongestStuck = 300_000; // ms between two sendings of an act that the house stumbles over
const kRemembered = 200; // answered acts that are remembered until the answers of the house hold them

export interface QueueParts {
  shelf: Shelf;
  send: Send;
  stamp: () => Instant;
  acked?: (entry: Entry) => void;
  signer?: () => { keeper?: string };   // who signs; nobody where there is one keeper alone
  wait?: (milliseconds: number, then: () => void) => unknown;
  ticks?: () => number; // milliseconds, monotonic
}

/** An act that the house stumbled over rests until then. */
interface Rest { until: number; pause: number }

export class Queue {
  /** All that is waiting, refused, or answered but perhaps not yet in what the page shows. */
  readonly entries = new Cell<Entry[]>([]);
  /** Why nothing, or one act, cannot be written just now; empty if all can. */
  readonly trouble = new Cell("");
  private seq = 0;
  private pumping = false;
  private again = false; // asked to pump while it pumps
  private pause = kFirstWait;
  private waits = 0; // counts the pauses: only the newest ends in a sending
  private readonly resting = new Map<string, Rest>();

  constructor(private readonly parts: QueueParts) {}

  /** Takes up what an earlier page has left, and what another open one has not sent. */
  async load(): Promise<void> {
    const left = await this.parts.shelf.all().catch((): Entry[] => []); // a shelf that does not open holds nothing back
    this.seq = Math.max(this.seq, ...left.map((e) => e.seq), 0);
    const found = left.filter((e) => !this.find(e.act.id));
    if (found.length > 0) this.change([...this.entries.value, ...found].sort(inOrder));
    void this.pump();
  }

  get keeps(): boolean {
    return this.parts.shelf.keeps;
  }

  /** Shows it at once, keeps it on the phone, then sends it. */
  add(draft: Draft, about?: string): Entry {
    const act = { ...this.parts.signer?.(), ...draft, id: newId(), tapped_at: this.parts.stamp() } as Act;
    const entry: Entry = { seq: ++this.seq, act, state: "waiting", tries: 0, ...(about ? { about } : {}) };
    this.change([...this.entries.value, entry]);
    void this.keep(entry).then(() => this.pump());
    return entry;
  }

  /** Takes an act back: silently if it never left the phone, else by an act that names it. */
  undo(id: string, about?: string): void {
    const entry = this.find(id);
    if (entry?.state === "waiting" && entry.tries === 0) void this.takeBack(entry, about);
    else this.add({ kind: "undo", of: id }, about);
  }

  /** Forgets an entry: one that was refused and read. */
  drop(entry: Entry): void {
    this.forget(entry);
    void this.parts.shelf.strike(entry).catch(() => undefined);
  }

  find(id: string): Entry | undefined {
    return this.entries.value.find((e) => e.act.id === id);
  }

  /** The connection came back: do not wait out the pauses. */
  nudge(): void {
    this.pause = kFirstWait;
    this.resting.clear();
    void this.load();
  }

  /** Another page may have begun to send it: the shelf knows. */
  private async takeBack(entry: Entry, about?: string): Promise<void> {
    this.forget(entry);
    const struck = await this.parts.shelf.strikeUnsent(entry).catch(() => false);
    if (!struck) this.add({ kind: "undo", of: entry.act.id }, about);
  }

  private forget(entry: Entry): void {
    this.resting.delete(entry.act.id);
    this.change(this.entries.value.filter((e) => e.act.id !== entry.act.id));
  }

  private change(entries: Entry[]): void {
    const acked = entries.filter((e) => e.state === "acked").length;
    let spare = Math.max(0, acked - kRemembered);
    this.entries.set(entries.filter((e) => e.state !== "acked" || spare-- <= 0));
  }

  private replace(entry: Entry): void {
    this.change(this.entries.value.map((e) => (e.act.id === entry.act.id ? entry : e)));
  }

  private async keep(entry: Entry): Promise<void> {
    await this.parts.shelf.put(entry).catch(() => undefined); // a full phone: the act still goes out from memory
  }

  private ticks(): number {
    return (this.parts.ticks ?? (() => performance.now()))();
  }

  private next(): Entry | undefined {
    const now = this.ticks();
    return this.entries.value.find((e) => e.state === "waiting" && (this.resting.get(e.act.id)?.until ?? 0) <= now);
  }

  private async pump(): Promise<void> {
    this.again = true;
    if (this.pumping) return;
    this.pumping = true;
    try {
      while (this.again) {
        this.again = false;
        await this.sendAll();
      }
    } finally {
      this.pumping = false;
    }
  }

  private async sendAll(): Promise<void> {
    for (let entry = this.next(); entry; entry = this.next()) {
      if (await this.sendOne(entry)) continue;
      this.again = false; // whoever asked meanwhile meets the same house
      this.wait(this.pause);
      this.pause = Math.min(this.pause * 2, kLongestWait);
      return;
    }
    this.pause = kFirstWait;
    if (this.resting.size > 0) this.wait(Math.max(0, Math.min(...[...this.resting.values()].map((r) => r.until)) - this.ticks()));
  }

  /** False if nothing can be sent just now. */
  private async sendOne(entry: Entry): Promise<boolean> {
    const { why: _why, ...rest } = entry;
    const tried: Entry = { ...rest, tries: entry.tries + 1 };
    this.replace(tried);
    // Before the sending: after a crash, and on another page, nobody may believe that it never left.
    if (!(await this.parts.shelf.claim(tried).catch(() => true))) {
      this.forget(tried); // struck out on another page
      if (this.trouble.value === entry.why) this.trouble.set(this.stuckOver());
      return true;
    }
    const outcome = await this.parts.send(tried.act, this.parts.stamp());
    await this.settle(tried, outcome);
    this.trouble.set(outcome.kind === "later" ? outcome.why : this.stuckOver());
    return outcome.kind !== "later" && outcome.kind !== "away";
  }

  private async settle(tried: Entry, outcome: Outcome): Promise<void> {
    if (outcome.kind !== "stuck") this.resting.delete(tried.act.id);
    switch (outcome.kind) {
      case "acked": {
        const acked: Entry = { ...tried, state: "acked", ack: outcome.ack, acked_at: performance.now() };
        await this.parts.shelf.remove(tried).catch(() => undefined);
        this.replace(acked);
        this.parts.acked?.(acked);
        return;
      }
      case "refused": {
        const refused: Entry = { ...tried, state: "refused", why: outcome.why };
        await this.keep(refused);
        this.replace(refused);
        return;
      }
      case "stuck": {
        const pause = Math.min((this.resting.get(tried.act.id)?.pause ?? kFirstWait / 2) * 2, kLongestStuck);
        this.resting.set(tried.act.id, { until: this.ticks() + pause, pause });
        this.replace({ ...tried, why: outcome.why });
        return;
      }
      default: // waits as it is
    }
  }

  /** Of the first act that the house stumbled over and that still waits. */
  private stuckOver(): string {
    return this.entries.value.find((e) => e.state === "waiting" && e.why !== undefined)?.why ?? "";
  }

  private wait(milliseconds: number): void {
    const wait = this.parts.wait ?? ((ms, then) => setTimeout(then, ms));
    const mine = ++this.waits;
    wait(milliseconds, () => {
      if (mine === this.waits) void this.pump();
    });
  }
}

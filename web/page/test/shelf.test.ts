// The phone's own store with several pages at it. Pages of one house share one database.
import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Act } from "../src/api.ts";
import { Queue } from "../src/queue/queue.ts";
import type { Entry } from "../src/queue/entry.ts";
import type { Outcome } from "../src/queue/send.ts";
import { openShelf, type Shelf } from "../src/queue/shelf.ts";

const turn = { kind: "care" as const, wheels: [1], done: ["turn" as const], skipped: [] };
const kAway: Outcome = { kind: "away" };
const acked = (act: Act): Outcome => ({ kind: "acked", ack: { id: act.id, position: 1, at: 0, late_entry: false } });

const settle = async () => {
  for (let i = 0; i < 60; i += 1) await new Promise((resolve) => setImmediate(resolve));
};

const kTapped = 1_795_000_000_000;
let clock = kTapped;
/** An open page: its queue, what it has sent, and its house, which is away until it is told to be there. */
async function openPage(shelf: Shelf) {
  const page = { sent: [] as Act[], there: false, queue: undefined as unknown as Queue };
  page.queue = new Queue({
    shelf, stamp: () => (clock += 1),
    send: async (act) => {
      page.sent.push(act);
      return page.there ? acked(act) : kAway;
    },
    wait: () => undefined,
  });
  await page.queue.load();
  return page;
}
const ids = (entries: Entry[]) => entries.map((e) => e.act.id);

test("two pages off line keep each its own acts on the phone, in the order of the taps", async () => {
  const one = await openPage(await openShelf("two pages"));
  const other = await openPage(await openShelf("two pages"));
  const tapped = [one.queue.add(turn), other.queue.add(turn), one.queue.add(turn), other.queue.add(turn)];
  await settle();
  assert.deepEqual(ids(await (await openShelf("two pages")).all()), ids(tapped));
});

test("taps of one instant keep their order by the page's counter", async () => {
  const shelf = await openShelf("one instant");
  const entry = (seq: number): Entry => ({ seq, act: { ...turn, id: String(9 - seq).padStart(32, "0"), tapped_at: kTapped }, state: "waiting", tries: 0 });
  for (const seq of [2, 3, 1]) await shelf.put(entry(seq));
  assert.deepEqual((await shelf.all()).map((e) => e.seq), [1, 2, 3]);
});

test("an act of a page that was shut is sent by the page that stayed open", async () => {
  const stays = await openPage(await openShelf("stays"));
  const shut = await openPage(await openShelf("stays"));
  const act = shut.queue.add(turn).act;
  await settle();
  stays.there = true;
  stays.queue.nudge();
  await settle();
  assert.deepEqual(stays.sent.map((a) => a.id), [act.id]);
  assert.deepEqual(await (await openShelf("stays")).all(), []);
});

test("what one page undid before it was ever sent is not sent by the other that has taken it up", async () => {
  const one = await openPage(await openShelf("undone elsewhere"));
  const blocking = one.queue.add(turn); // away: what is tapped next has never left the phone
  await settle();
  const slip = one.queue.add(turn);
  await settle();
  const other = await openPage(await openShelf("undone elsewhere"));
  await settle();
  one.queue.undo(slip.act.id);
  await settle();
  other.there = true;
  other.queue.nudge();
  await settle();
  assert.deepEqual(other.sent.filter((a) => a.id === slip.act.id), []);
  assert.deepEqual(ids(other.queue.entries.value), [blocking.act.id]);
  assert.deepEqual(await (await openShelf("undone elsewhere")).all(), []);
});

test("what the other page has sent is undone by an act of its own", async () => {
  const one = await openPage(await openShelf("sent elsewhere"));
  one.queue.add(turn);
  await settle();
  const act = one.queue.add(turn).act;
  await settle();
  const other = await openPage(await openShelf("sent elsewhere"));
  other.there = true;
  other.queue.nudge();
  await settle();
  assert.equal(other.sent.filter((a) => a.id === act.id).length, 1);
  one.queue.undo(act.id);
  one.there = true;
  await settle();
  one.queue.nudge();
  await settle();
  assert.ok(one.sent.some((a) => a.kind === "undo" && a.of === act.id));
});

test("what an older page left on the phone is taken over, in its order", async () => {
  const act = (id: string, tapped_at: number): Act => ({ ...turn, id: id.repeat(32), tapped_at });
  const old: Entry[] = [{ seq: 4, act: act("a", kTapped), state: "waiting", tries: 1 }, { seq: 9, act: act("b", kTapped + 5), about: "line 1", state: "refused", tries: 1, why: "no" }];
  await new Promise<void>((resolve, reject) => {
    const request = indexedDB.open("older", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("acts", { keyPath: "seq" });
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const transaction = request.result.transaction("acts", "readwrite");
      for (const entry of old) transaction.objectStore("acts").put(entry);
      transaction.oncomplete = () => {
        request.result.close();
        resolve();
      };
    };
  });
  const shelf = await openShelf("older");
  assert.equal(shelf.keeps, true);
  assert.deepEqual(await shelf.all(), old);
  await shelf.remove(old[0]!);
  assert.deepEqual(await (await openShelf("older")).all(), [old[1]]);
});

test("a store that a newer page has taken over no longer keeps, and the page says so", async () => {
  const shelf = await openShelf("newer");
  const page = await openPage(shelf);
  assert.equal(page.queue.keeps, true);
  await new Promise((resolve) => (indexedDB.open("newer", 99).onsuccess = resolve));
  page.there = true;
  page.queue.add(turn);
  await settle();
  assert.equal(page.queue.keeps, false);
  assert.equal(page.sent.length, 1, "it goes out from memory");
});

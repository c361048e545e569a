import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Act } from "../src/api.ts";
import { newId, type Entry } from "../src/queue/entry.ts";
import { Queue } from "../src/queue/queue.ts";
import { judge, type Outcome } from "../src/queue/send.ts";
import { MemoryShelf, openShelf } from "../src/queue/shelf.ts";

const turn = { kind: "care" as const, wheels: [1], done: ["turn" as const], skipped: [] };
const ack = (act: Act): Outcome => ({ kind: "acked", ack: { id: act.id, position: 1, at: 0, late_entry: false } });

/** A house that answers by a script; "wait" hands back the retry so that no test sleeps. */
function house(answers: (Outcome | "ack")[], shelf = new MemoryShelf()) {
  const sent: { id: string; sent_at: number }[] = [];
  const retries: (() => void)[] = [];
  const pauses: number[] = [];
  const house = { ticks: 0 };
  let clock = 1000;
  const queue = new Queue({
    shelf, stamp: () => (clock += 1), ticks: () => house.ticks,
    send: async (act, sent_at) => {
      sent.push({ id: act.id, sent_at });
      const next = answers.shift() ?? "ack";
      return next === "ack" ? ack(act) : next;
    },
    wait: (milliseconds, then) => {
      pauses.push(milliseconds);
      retries.push(then);
    },
  });
  /** Waits out the newest pause. */
  const pass = async () => {
    house.ticks += pauses.at(-1)!;
    retries.at(-1)!();
    await settle();
  };
  return { queue, sent, retries, pauses, pass };
}

const settle = async () => {
  for (let i = 0; i < 30; i += 1) await new Promise((resolve) => setImmediate(resolve));
};
const states = (queue: Queue) => queue.entries.value.map((e: Entry) => e.state);

test("an id is 32 hexadecimal digits and never the same twice", () => {
  const ids = new Set(Array.from({ length: 1000 }, newId));
  assert.equal(ids.size, 1000);
  for (const id of ids) assert.match(id, /^[0-9a-f]{32}$/);
});

test("an act is shown at once, sent, and remembered as answered", async () => {
  const { queue, sent } = house([]);
  queue.add(turn, "line 1");
  assert.deepEqual(states(queue), ["waiting"]);
  await settle();
  assert.deepEqual(states(queue), ["acked"]);
  assert.equal(sent.length, 1);
});

test("without an answer it is kept and sent again with the same id and a new instant of sending", async () => {
  const { queue, sent, retries } = house([{ kind: "away" }]);
  queue.add(turn);
  await settle();
  assert.deepEqual(states(queue), ["waiting"]);
  retries.pop()!();
  await settle();
  assert.deepEqual(states(queue), ["acked"]);
  assert.equal(sent[0]!.id, sent[1]!.id);
  assert.ok(sent[1]!.sent_at > sent[0]!.sent_at);
});

test("acts go out in the order of the taps, and one that fails holds back those behind it", async () => {
  const { queue, sent, retries } = house([{ kind: "away" }]);
  const first = queue.add(turn).act.id;
  const second = queue.add(turn).act.id;
  await settle();
  assert.deepEqual(sent.map((s) => s.id), [first]);
  retries.pop()!();
  await settle();
  assert.deepEqual(sent.map((s) => s.id), [first, first, second]);
});

test("a refused act stays with its reason and does not hold back the next", async () => {
  const { queue } = house([{ kind: "refused", why: "The date lies ahead." }]);
  queue.add(turn);
  queue.add(turn);
  await settle();
  assert.deepEqual(states(queue), ["refused", "acked"]);
  assert.equal(queue.entries.value[0]!.why, "The date lies ahead.");
});

test("a house that cannot write is named and the act is kept", async () => {
  const { queue, retries } = house([{ kind: "later", why: "The disk is full." }]);
  queue.add(turn);
  await settle();
  assert.equal(queue.trouble.value, "The disk is full.");
  assert.deepEqual(states(queue), ["waiting"]);
  retries.pop()!();
  await settle();
  assert.equal(queue.trouble.value, "");
});

const kStuck: Outcome = { kind: "stuck", why: "Something broke." };

test("an act that the house stumbles over does not hold back those behind it, and is tried again later", async () => {
  const { queue, sent, pass } = house([kStuck]);
  const [first, second, third] = [queue.add(turn).act.id, queue.add(turn).act.id, queue.add(turn).act.id];
  await settle();
  assert.deepEqual(sent.map((s) => s.id), [first, second, third]);
  assert.deepEqual(states(queue), ["waiting", "acked", "acked"]);
  assert.equal(queue.trouble.value, "Something broke.", "it is not silent, though others were taken since");
  await pass();
  assert.deepEqual(sent.slice(3).map((s) => s.id), [first]);
  assert.deepEqual(states(queue), ["acked", "acked", "acked"]);
  assert.equal(queue.trouble.value, "");
});

test("each stumble doubles the pause of that act alone; a later tap goes out at once", async () => {
  const { queue, sent, pauses, pass } = house([kStuck, kStuck, kStuck]);
  const first = queue.add(turn).act.id;
  await settle();
  await pass();
  await pass();
  assert.deepEqual(pauses, [2000, 4000, 8000]);
  const later = queue.add(turn).act.id;
  await settle();
  assert.deepEqual(sent.map((s) => s.id), [first, first, first, later]);
  await pass();
  assert.deepEqual(states(queue), ["acked", "acked"]);
});

test("the undo of an act that is stuck goes out before it", async () => {
  const { queue, sent, pass } = house([kStuck]);
  const act = queue.add(turn).act.id;
  await settle();
  queue.undo(act);
  await settle();
  assert.equal(sent.length, 2);
  assert.deepEqual(states(queue), ["waiting", "acked"]);
  await pass();
  assert.deepEqual(states(queue), ["acked", "acked"]);
});

test("however often the house comes back, one pause at a time is waited out", async () => {
  const { queue, sent, retries } = house(Array.from({ length: 9 }, (): Outcome => ({ kind: "away" })));
  queue.add(turn);
  await settle();
  queue.nudge();
  await settle();
  queue.nudge();
  await settle();
  const before = sent.length;
  for (const retry of retries.slice(0, -1)) retry();
  await settle();
  assert.equal(sent.length, before);
});

test("undoing an act that never left the phone leaves nothing to send", async () => {
  const { queue, sent, retries } = house([{ kind: "away" }]);
  queue.add(turn);
  await settle();
  const second = queue.add(turn);
  queue.undo(second.act.id);
  retries.pop()!();
  await settle();
  assert.equal(sent.filter((s) => s.id === second.act.id).length, 0);
  assert.deepEqual(states(queue), ["acked"]);
});

test("undoing an act that may have arrived is an act of its own", async () => {
  const { queue, sent, retries } = house([{ kind: "away" }]);
  const act = queue.add(turn).act;
  await settle();
  queue.undo(act.id);
  retries.pop()!();
  await settle();
  assert.equal(sent.length, 3);
  assert.equal(queue.entries.value[1]!.act.kind, "undo");
});

test("what waits survives the page: a new one takes it up from the phone's database and sends it", async () => {
  const first = house([{ kind: "away" }], (await openShelf("survives")) as MemoryShelf);
  const act = first.queue.add(turn, "line 1").act;
  await settle();
  const second = house([], (await openShelf("survives")) as MemoryShelf);
  await second.queue.load();
  await settle();
  assert.deepEqual(second.sent.map((s) => s.id), [act.id]);
  const third = house([], (await openShelf("survives")) as MemoryShelf);
  await third.queue.load();
  assert.deepEqual(third.queue.entries.value, []);
});

const answered = (status: number, body: unknown) => judge(new Response(JSON.stringify(body), { status }));

test("what an answer means: only an acknowledgement counts, 409 and 422 refuse the act, 503 and silence make all wait, all else this one", async () => {
  assert.equal((await answered(200, { id: "a", position: 1 })).kind, "acked");
  assert.equal((await answered(200, "welcome to the hotel")).kind, "away");
  for (const status of [409, 413, 422]) assert.equal((await answered(status, { error: { what: "no" } })).kind, "refused", String(status));
  for (const status of [408, 429, 502, 503, 504]) assert.equal((await answered(status, { error: { what: "no" } })).kind, "later", String(status));
  for (const status of [400, 403, 404, 415, 500]) assert.equal((await answered(status, { error: { what: "no" } })).kind, "stuck", String(status));
});

test("an act that is stuck is told in the words of the house, or by the number of its answer", async () => {
  assert.match(((await answered(500, { error: { what: "The loop stumbled.", do: "Look at the log." } })) as { why: string }).why, /The loop stumbled\. Look at the log\..*sent again/);
  assert.match(((await answered(404, "nginx")) as { why: string }).why, /404/);
});

test("a refusal says field, expected and found", async () => {
  const outcome = await answered(422, { error: { what: "The day lies ahead.", field: "made", expected: "today or before", found: "2030-01-01", do: "Pick another day." } });
  assert.equal(outcome.kind, "refused");
  assert.match((outcome as { why: string }).why, /The day lies ahead.*made: expected today or before, found 2030-01-01.*Pick another day/s);
});

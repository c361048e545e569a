// SIGKILL at any moment, against a real broker: what was acknowledged is kept, what was answered is on disk, and
// nothing counts twice. RINDWATCH_KILLS says how many kills; the everyday run makes few.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { test } from "node:test";
import { Broker } from "../support/broker.ts";
import { ask } from "../support/http.ts";
import { enterWheel, hangProbe } from "../support/keeping.ts";
import { stored } from "../support/stored.ts";
import { times } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { newId, Watch } from "../support/watch.ts";

const kills = times("RINDWATCH_KILLS", 8);
const messagesPerLife = 150;
const seed = Number(process.env["RINDWATCH_SEED"] ?? 20261125);

/** Repeatable chance, from 0 to 1: the same seed kills at the same moments. */
function chance(from: number): () => number {
  let turn = 0;
  return () => createHash("sha256").update(`${from} ${turn++}`).digest().readUInt32BE() / 2 ** 32;
}

const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

test(`of ${kills} kills none loses or doubles a reading or an act`, { timeout: 3_600_000 }, async (t) => {
  t.diagnostic(`seed ${seed}`);
  const next = chance(seed);
  const broker = await Broker.start();
  const watch = await Watch.start({ brokerPort: broker.port });
  const { cave, wheels } = await enterWheel(watch);
  await hangProbe(watch, cave, "probe/own", {
    time_pointer: "/at",
    channels: [{ kind: "temperature", pointer: "/t" }],
  });
  await hangProbe(watch, cave, "probe/plain", { format: "plain", channels: [{ kind: "temperature", pointer: "" }] });
  const channelOf = async (topic: string): Promise<number> => {
    const { probes } = await watch.get(`/api/caves/${cave}`);
    return probes.find((probe: { topic: string }) => probe.topic === topic).channels[0].id;
  };
  const own = await channelOf("probe/own"), plain = await channelOf("probe/plain");

  const countOf = async (channel: number, what = "milli >= 0") =>
    (await stored<{ n: number }>(watch.database, `SELECT count(DISTINCT milli) AS n FROM reading WHERE channel = ${channel} AND ${what}`))[0]!.n;
  // Nobody owes what was published before the topics were subscribed to: a first word below zero shows that they are.
  await until("both topics are heard", async () => {
    await broker.publish("probe/own", JSON.stringify({ at: Date.now(), t: -1 }));
    await broker.publish("probe/plain", "-1");
    return (await countOf(own, "milli < 0")) > 0 && (await countOf(plain, "milli < 0")) > 0;
  });

  // Times of the probe's own: a tenth of a second apart, all of them past, so that each is believed and none repeats.
  const began = Date.now() - (kills * messagesPerLife + 10) * 100;
  let sent = 0;
  const answered: string[] = [], unanswered: { id: string; body: string }[] = [];
  for (let life = 0; life < kills; ++life) {
    const numbers = Array.from({ length: messagesPerLife }, () => sent++);
    const publishing = Promise.all([
      broker.publishEach("probe/own", numbers.map((n) => JSON.stringify({ at: began + n * 100, t: n / 1000 }))),
      broker.publishEach("probe/plain", numbers.map((n) => String(n / 1000))),
    ]);
    const acting = (async () => {
      for (;;) {
        const id = newId();
        const body = JSON.stringify({ id, kind: "care", tapped_at: Date.now(), wheels, done: ["turn"], skipped: [] });
        try {
          const answer = await ask({
            method: "POST", path: "/api/acts", port: watch.port, body,
            headers: { "Content-Type": "application/json", "Sent-At": String(Date.now()) },
          });
          assert.equal(answer.status, 200, answer.text);
          answered.push(id);
        } catch (error) {
          if (error instanceof assert.AssertionError) throw error;
          unanswered.push({ id, body });
          return;
        }
      }
    })();
    await pause(5 + next() * 400);
    await watch.end("SIGKILL");
    await acting;
    await publishing;
    await watch.up();
  }

  await until("everything published is kept", async () => (await countOf(own)) === sent && (await countOf(plain)) === sent, 60_000);

  const doubled = await stored(watch.database, `SELECT milli FROM reading WHERE channel = ${own} AND milli >= 0 GROUP BY milli HAVING count(*) > 1`);
  assert.deepEqual(doubled, [], "a reading with its own time is kept once");
  // Without an own time nothing is dropped; what came twice is marked (bit 2), so that it takes part in nothing.
  const unmarked = await stored(
    watch.database,
    `SELECT milli FROM reading WHERE channel = ${plain} AND milli >= 0 AND (marks & 2) = 0 GROUP BY milli HAVING count(*) > 1`,
  );
  t.diagnostic(`${sent} messages a probe, ${answered.length} acts answered, ${unmarked.length} plain readings came twice unmarked`);

  const kept = new Set((await stored<{ id: string }>(watch.database, "SELECT id FROM journal")).map((line) => line.id));
  assert.deepEqual(answered.filter((id) => !kept.has(id)), [], "an answered act is on disk");
  // A phone sends again what was not answered; whether it had arrived or not, it counts once.
  for (const { id, body } of unanswered) {
    const answer = await watch.send(body);
    assert.equal(answer.status, 200, answer.text);
    assert.equal((answer.json as { id: string }).id, id);
  }
  const lines = await stored<{ n: number }>(watch.database, "SELECT count(*) AS n FROM journal WHERE kind = 'care'");
  assert.equal(lines[0]!.n, answered.length + unanswered.length);
  assert.deepEqual(await watch.end(), { status: 0, signal: null });
});

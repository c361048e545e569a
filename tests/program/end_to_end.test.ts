import assert from "node:assert/strict";
import { test } from "node:test";
import { Broker } from "../support/broker.ts";
import { enterWheel, hangProbe, showsReading } from "../support/keeping.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

const caveOf = async (watch: Watch, id: number) => {
  const { caves } = await watch.get("/api/caves");
  return caves.find((cave: { id: number }) => cave.id === id);
};

test("what a probe publishes is on the page, and still there after SIGKILL", async () => {
  const broker = await Broker.start({ persistent: true });
  const watch = await Watch.start({ brokerPort: broker.port });
  assert.equal((await watch.get("/api/round")).head.empty, true);

  const { cave, wheels } = await enterWheel(watch);
  assert.equal(wheels.length, 1);
  await watch.connected();
  // What arrives is looked at over a connection of its own, which may come a moment later: a probe speaks again.
  const arriving = await until("the topic arrives", async () => {
    await broker.publish("cellar/box1", '{"temperature":12.4,"humidity":84.5}');
    const { topics } = await watch.get("/api/arriving");
    return topics.find((topic: { topic: string }) => topic.topic === "cellar/box1");
  });
  assert.deepEqual(
    arriving.values.map((value: { pointer: string; value: number }) => [value.pointer, value.value]),
    [["/temperature", 12.4], ["/humidity", 84.5]],
  );

  await hangProbe(watch, cave, "cellar/box1");
  await showsReading(watch, broker, "cellar/box1", 12.5);
  const seen = await caveOf(watch, cave);
  assert.equal(seen.humidity.latest, 84);
  assert.equal(seen.name, "Box 1");
  assert.equal(seen.temperature.watched, true);

  const round = await watch.get("/api/round");
  const turn = round.lines.find((line: { kinds: string[] }) => line.kinds.includes("turn"));
  assert.ok(turn, "a turn is due on the first days in the box");
  const done = await watch.did({ kind: "care", wheels, done: turn.kinds, skipped: [] });

  await watch.end("SIGKILL");
  await broker.publish("cellar/box1", '{"temperature":12.6,"humidity":83.5}');
  await watch.up();

  const again = await watch.get("/api/round");
  assert.equal(again.lines.find((line: { settled_by?: string }) => line.settled_by === done.id)?.state, "done");
  const shown = await caveOf(watch, cave);
  assert.equal(shown.name, "Box 1");
  const [probe] = (await watch.get(`/api/caves/${cave}`)).probes;
  assert.equal(probe.topic, "cellar/box1");
  // The last two readings of the ribbon's span: the one before the kill, and not the one that waited with the broker,
  // whose true time nobody knows.
  await until("the reading from before the kill is still there", async () => {
    const { ribbon } = await caveOf(watch, cave);
    return ribbon.temperature.length > 0;
  });
  await showsReading(watch, broker, "cellar/box1", 12.7);
  assert.deepEqual(await watch.end(), { status: 0, signal: null });
});

test("the retained state, the bell and the last will are published", async () => {
  const broker = await Broker.start();
  const watch = await Watch.start({ brokerPort: broker.port });
  const { cave } = await enterWheel(watch);
  assert.equal((await broker.receive("rindwatch/alive")).payload, "1");
  assert.equal((await broker.receive("rindwatch/bell")).payload, "0");
  const state = await broker.receive(`rindwatch/cave/${cave}`);
  assert.equal(JSON.parse(state.payload).name, "Box 1");
  assert.equal(JSON.parse(state.payload).state, "not watched");
  // A probe of gas that has said nothing yet: what is not known is not shown as well.
  await watch.did({ kind: "probe", name: "Gas", topic: "box/gas", format: "json", channels: [{ kind: "carbon dioxide", pointer: "/co2" }], where: { cave } });
  await until("it is unknown", async () => JSON.parse((await broker.receive(`rindwatch/cave/${cave}`)).payload).state === "unknown");
  await watch.connected();
  await until("one whose gas speaks is as its air is", async () => {
    await broker.publish("box/gas", '{"co2":600}');
    return JSON.parse((await broker.receive(`rindwatch/cave/${cave}`)).payload).state === "not watched";
  });
  await watch.end("SIGKILL");
  await until("the broker tells the last will", async () => (await broker.receive("rindwatch/alive")).payload === "0");
});

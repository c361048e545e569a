// What probes may send by mistake: counted, said once, never fatal, and the good readings around it are kept.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { Broker } from "../support/broker.ts";
import { enterWheel, hangProbe, showsReading } from "../support/keeping.ts";
import { stored } from "../support/stored.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

describe("bad payloads", () => {
  let broker: Broker, watch: Watch, cave: number;
  before(async () => {
    broker = await Broker.start({ lines: ["message_size_limit 0"] });
    watch = await Watch.start({ brokerPort: broker.port });
    ({ cave } = await enterWheel(watch));
  });
  after(() => watch.end());

  const probeOn = async (topic: string) => {
    const { probes } = await watch.get(`/api/caves/${cave}`);
    return probes.find((probe: { topic: string }) => probe.topic === topic);
  };

  const cases: [string, string, string | Buffer, RegExp][] = [
    ["a payload that is not a number", "plain", "warm", /number/],
    ["NaN", "plain", "NaN", /number/],
    ["a number that is too large for any", "plain", "1e309", /number|range|large/],
    ["an empty payload", "plain", "", /empty|number/],
    ["bytes that are no text", "plain", Buffer.from([0xff, 0xfe, 0x00, 0x80]), /number/],
    ["a payload of a megabyte", "plain", "1".repeat(1_000_000), /long|bytes/],
    ["a JSON text that is cut", "json", '{"temperature":12.', /JSON/],
    ["a JSON number that is too large for any", "json", '{"temperature":1e309}', /number|range|large/],
    ["a JSON text where the number is a list", "json", '{"temperature":[12]}', /number/],
    ["a JSON text without the place", "json", '{"warmth":12}', /temperature/],
  ];
  cases.forEach(([name, format, payload, why], index) => {
    test(`${name} is counted and said once, and the next reading counts`, async () => {
      const topic = `cellar/bad/${index}`;
      const pointer = format === "json" ? "/temperature" : "";
      await hangProbe(watch, cave, topic, { format, channels: [{ kind: "temperature", pointer }] });
      const good = (value: number) => (format === "json" ? `{"temperature":${value}}` : String(value));
      await showsReading(watch, broker, topic, 10.5, good(10.5));
      await broker.publish(topic, payload);
      await broker.publish(topic, payload);
      await broker.publish(topic, good(11.5));
      const probe = await until("the good reading is shown", async () => {
        const shown = await probeOn(topic);
        return shown?.channels[0].latest === 11.5 && shown;
      });
      assert.equal(probe.invalid, 2);
      assert.equal(probe.invalid_last.topic, topic);
      assert.match(probe.invalid_last.why, why);
      assert.ok(probe.invalid_last.first_bytes.length <= 400, "only the first bytes are shown");
      assert.equal(watch.running.said.split("\n").filter((line) => line.includes(topic) && /payload|invalid|read/i.test(line)).length, 1);
    });
  });

  test("a retained message is not a reading", async () => {
    await broker.publish("cellar/retained", "5.0", { retain: true });
    await hangProbe(watch, cave, "cellar/retained", { format: "plain", channels: [{ kind: "temperature", pointer: "" }] });
    await showsReading(watch, broker, "cellar/retained", 11, "11");
    assert.equal((await probeOn("cellar/retained")).invalid, 0);
    const five = await stored(watch.database, "SELECT milli FROM reading WHERE milli = 5000");
    assert.deepEqual(five, []);
  });

  const filters = ["a/#/b", "a#", "a/b#", "+a/b", "a/b+", "", "a/\u0000b", "#/a", `a/${"x".repeat(70_000)}`];
  for (const filter of filters)
    test(`the topic filter ${JSON.stringify(filter.slice(0, 12))} is refused in one sentence`, async () => {
      const answer = await watch.act({
        kind: "probe", name: "Wrong", topic: filter, format: "plain",
        channels: [{ kind: "temperature", pointer: "" }], where: { cave },
      });
      assert.equal(answer.status, 422, answer.text);
      const { error } = answer.json as { error: { what: string; field?: string } };
      assert.equal(error.field, "topic");
      assert.match(error.what, /\.$/);
    });
});

test("what waited with the broker is kept, shown as such and never judged", async () => {
  const broker = await Broker.start({ persistent: true });
  const watch = await Watch.start({ brokerPort: broker.port });
  const { cave } = await enterWheel(watch);
  await hangProbe(watch, cave, "cellar/box1");
  await showsReading(watch, broker, "cellar/box1", 12);
  await watch.end();
  const live = await stored<{ n: number }>(watch.database, "SELECT count(*) AS n FROM reading");
  // Far out of band: if these were judged, the cave would be out of band.
  await broker.publishEach("cellar/box1", Array.from({ length: 50 }, (_, i) => `{"temperature":30.${i + 10},"humidity":20}`));
  await watch.up();
  await showsReading(watch, broker, "cellar/box1", 12.1);
  // Fifty messages of two channels, by their values; 3 is backlog.
  const kept = await stored<{ source: number; live: number; n: number }>(
    watch.database,
    "SELECT source, marks & 1 AS live, count(*) AS n FROM reading WHERE milli >= 30000 AND milli < 31000 OR milli = 20000 GROUP BY 1, 2",
  );
  assert.deepEqual(kept, [{ source: 3, live: 0, n: 100 }]);
  assert.ok(live[0]!.n > 0);
  const { head } = await watch.get("/api/caves");
  assert.deepEqual(head.alarms, []);
  await watch.end();
});

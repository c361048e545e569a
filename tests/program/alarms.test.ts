// Limits, presence and probes out of service over the wire; every answer is held against openapi.yaml. Invented.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { enterWheel } from "../support/keeping.ts";
import { until } from "../support/until.ts";
import { newId, Watch } from "../support/watch.ts";

describe("alarms and limits over the wire", () => {
  let watch: Watch, cave: number, probe: number;
  before(async () => {
    watch = await Watch.start();
    ({ cave } = await enterWheel(watch, { count: 4 }));
    ({ probe } = await watch.did({ kind: "probe", name: "Air", topic: "cellar/air", format: "json", channels: [{ kind: "temperature", pointer: "/t" }, { kind: "carbon dioxide", pointer: "/co2" }], where: { cave } }));
  });
  after(() => watch.end());
  const limits = () => watch.get(`/api/caves/${cave}/limits`);

  test("every limit is there with its usual value, bounds and source; what is written stands after a kill", async () => {
    const before = await limits();
    assert.ok(before.rows.length > 60);
    for (const row of before.rows) assert.ok(row.least <= row.usual && row.usual <= row.most && row.value === row.usual && row.source, row.id);
    const id = newId();
    await watch.did({ id, kind: "watching", cave, settings: { "door: act after": 40 }, off: ["too dry"], ready_cheese: false });
    await watch.end("SIGKILL");
    await watch.up();
    const changed = await limits();
    assert.equal(changed.rows.find((r: { id: string }) => r.id === "door: act after").value, 40);
    assert.deepEqual(changed.out_of_service, ["too dry"]);
    await watch.did({ kind: "undo", of: id });
    assert.deepEqual((await limits()).rows, before.rows);
  });

  test("limits are tried in the background and change nothing", async () => {
    const begun = await watch.ask({ method: "POST", path: `/api/caves/${cave}/limits/trials`, headers: { "Content-Type": "application/json" }, body: JSON.stringify({ temperature: { low: 8, high: 16 }, settings: { "door: act after": 30 } }) });
    assert.equal(begun.status, 202, begun.text);
    const { trial } = begun.json as { trial: number };
    const result = await until("the trial is done", async () => {
      const found = await watch.get(`/api/limits/trials/${trial}`);
      return found.done && found;
    });
    assert.match(result.sentence, /With these limits/);
    assert.deepEqual((await limits()).typed, {});
  });

  test("I am here and I am out; a probe out of service; gas before anything was heard", async () => {
    const page = () => watch.get(`/api/caves/${cave}`);
    await watch.did({ kind: "here", cave });
    assert.ok((await page()).cave.here_until > Date.now());
    await watch.did({ kind: "out", cave });
    assert.equal((await page()).cave.here_until, undefined);
    assert.deepEqual((await page()).cave.gas.map((g: { kind: string; speaks: boolean }) => [g.kind, g.speaks]), [["carbon dioxide", false]]);
    await watch.did({ kind: "service", probe, out: true, why: "in the salt jar" });
    assert.equal((await page()).probes[0].out_of_service.why, "in the salt jar");
    assert.equal((await watch.get("/api/journal")).lines.at(-1).what, "out");
    await watch.did({ kind: "service", probe, out: false });
    assert.equal((await page()).probes[0].out_of_service, undefined);
  });

  test("all alarms, and one that never rang", async () => {
    assert.deepEqual((await watch.get("/api/alarms")).past, []);
    assert.equal((await watch.ask({ path: "/api/alarms/too-warm-1-5" })).status, 404);
  });
});

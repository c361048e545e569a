import assert from "node:assert/strict";
import { test } from "node:test";
import type { Alarm } from "../src/api.ts";
import { asksForBell, gasAsks } from "../src/house/bell.ts";

const gas = (latest: number | undefined, speaks = true) => ({ kind: "carbon dioxide" as const, ...(latest === undefined ? {} : { latest }), speaks, grade: !speaks ? "unknown" as const : latest! >= 5000 ? "act" as const : latest! >= 2500 ? "watch" as const : "low" as const, watch: 2500, act: 5000 });

test("a figure of gas asks by itself, before the watch has made an alarm of it, and so does its silence; little and what never spoke do not", () => {
  assert.deepEqual(gasAsks({ id: 5, gas: [gas(5200)] }), ["5 carbon dioxide act"]);
  assert.deepEqual(gasAsks({ id: 5, gas: [gas(2500)] }), ["5 carbon dioxide watch"]);
  assert.deepEqual(gasAsks({ id: 5, gas: [gas(800, false)] }), ["5 carbon dioxide unknown"]);
  assert.deepEqual(gasAsks({ id: 5, gas: [gas(800), gas(undefined, false)] }), []);
  assert.deepEqual(gasAsks({ id: 5 }), []);
});

test("of alarms only gas rings the phone, and only until it is taken or over", () => {
  const alarm = (more: Partial<Alarm>): Alarm => ({ id: "1", kind: "ammonia", severity: "act", cave: 1, cave_name: "Cellar", since: 0, raised: 0, wheels: [], concerns: [], first: [], found_later: false, ...more });
  assert.ok(asksForBell(alarm({})));
  for (const more of [{ kind: "too warm" as const }, { taken: 1 }, { over: 1 }, { severity: "hint" as const }]) assert.ok(!asksForBell(alarm(more)));
});

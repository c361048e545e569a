import assert from "node:assert/strict";
import { test } from "node:test";
import type { Alarm } from "../src/api.ts";
import { asksForBell, gasAsks, hushedNow, staysHushed } from "../src/house/bell.ts";

const gas = (latest: number | undefined, speaks = true) => ({ kind: "carbon dioxide" as const, ...(latest === undefined ? {} : { latest }), speaks, grade: !speaks ? "unknown" as const : latest! >= 5000 ? "act" as const : latest! >= 2500 ? "watch" as const : "low" as const, watch: 2500, act: 5000 });

test("a figure of gas asks by itself, before the watch has made an alarm of it, and so does its silence; little and what never spoke do not", () => {
  assert.deepEqual(gasAsks({ id: 5, gas: [gas(5200)] }), [{ key: "5 carbon dioxide", grade: "act" }]);
  assert.deepEqual(gasAsks({ id: 5, gas: [gas(2500)] }), [{ key: "5 carbon dioxide", grade: "watch" }]);
  assert.deepEqual(gasAsks({ id: 5, gas: [gas(800, false)] }), [{ key: "5 carbon dioxide", grade: "unknown" }]);
  assert.deepEqual(gasAsks({ id: 5, gas: [gas(800), gas(undefined, false)] }), []);
  assert.deepEqual(gasAsks({ id: 5 }), []);
});

test("of alarms only gas rings the phone, and only until it is taken or over", () => {
  const alarm = (more: Partial<Alarm>): Alarm => ({ id: "1", kind: "ammonia", severity: "act", cave: 1, cave_name: "Cellar", since: 0, raised: 0, wheels: [], concerns: [], first: [], found_later: false, ...more });
  assert.ok(asksForBell(alarm({})));
  for (const more of [{ kind: "too warm" as const }, { taken: 1 }, { over: 1 }, { severity: "hint" as const }]) assert.ok(!asksForBell(alarm(more)));
});

test("what was hushed is silent until it gets worse, falls silent or speaks again; what eased and gets worse anew rings anew", () => {
  assert.ok(staysHushed("act", "act") && staysHushed("act", "watch") && staysHushed("unknown", "unknown"));
  for (const [was, now] of [[undefined, "watch"], ["watch", "act"], ["act", "urgent"], ["act", "unknown"], ["unknown", "watch"]] as const) assert.ok(!staysHushed(was, now), `${was} to ${now}`);
  const at = (grade: string) => [{ key: "5 carbon dioxide", grade }];
  let hushed = new Map([["5 carbon dioxide", "urgent"]]);
  const grades = (steps: string[]) => steps.map((grade) => (hushed = hushedNow(hushed, at(grade))).size > 0);
  assert.deepEqual(grades(["urgent", "act", "act", "urgent"]), [true, true, true, false]);
  hushed = hushedNow(new Map([["5 carbon dioxide", "act"]]), []);
  assert.equal(hushed.size, 0, "what is over is forgotten");
});

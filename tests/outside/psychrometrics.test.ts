// Moist air by the rules against psychrolib (ASHRAE Handbook Fundamentals 2017, chapter 1), an independent library from
// npm: every whole degree from 2 to 25 °C and every whole percent from 40 to 99 %. Tolerances as in
// tests/reference/README.md: dew point 0.01 K, vapour pressure 0.05 %.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import path from "node:path";
import { test } from "node:test";
import { build } from "../support/tree.ts";

interface Psychrolib {
  SI: number;
  SetUnitSystem(system: number): void;
  GetVapPresFromRelHum(celsius: number, share: number): number;
  GetTDewPointFromRelHum(celsius: number, share: number): number;
}
const other = createRequire(import.meta.url)("psychrolib") as Psychrolib;
other.SetUnitSystem(other.SI);

test("vapour pressure and dew point agree with psychrolib over the air of a cave", () => {
  const table = execFileSync(path.join(build, "bin/air-table"), { encoding: "utf8" }).trim().split("\n");
  assert.equal(table.length, 24 * 60);
  let pressureOff = 0;
  let dewOff = 0;
  for (const line of table) {
    const [celsius, percent, vapour, dew] = line.split(",").map(Number) as [number, number, number, number];
    const expected = other.GetVapPresFromRelHum(celsius, percent / 100);
    pressureOff = Math.max(pressureOff, Math.abs(vapour / expected - 1));
    dewOff = Math.max(dewOff, Math.abs(dew - other.GetTDewPointFromRelHum(celsius, percent / 100)));
  }
  assert.ok(pressureOff < 0.0005, `vapour pressure off by ${(100 * pressureOff).toFixed(4)} %`);
  assert.ok(dewOff < 0.01, `dew point off by ${dewOff.toFixed(4)} K`);
});

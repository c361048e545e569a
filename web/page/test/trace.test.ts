import assert from "node:assert/strict";
import { test } from "node:test";
import { bandAt, stretches, thin, type Point } from "../src/draw/trace.ts";

const band = [{ from: 0, band: { low: 10, high: 14 } }];
const shape = (points: Point[], gaps: { from: number; to: number }[] = [], smears = false, steps = band) =>
  stretches(points, steps, gaps, smears).map((s) => `${s.mode}${s.side} ${s.points.map((p) => p[0]).join(",")}`);

test("a trace inside the band is one stretch", () => {
  assert.deepEqual(shape([[0, 11], [1, 12], [2, 13]]), ["in0 0,1,2"]);
});

test("outside the band it changes its stroke, on the side where it left, joined to what was before", () => {
  assert.deepEqual(shape([[0, 12], [1, 15], [2, 16], [3, 12], [4, 9]]), ["in0 0,1", "out1 1,2,3", "in0 3,4", "out-1 4"]);
});

test("the band's edge itself is inside", () => {
  assert.deepEqual(shape([[0, 10], [1, 14]]), ["in0 0,1"]);
});

test("a gap is never bridged", () => {
  assert.deepEqual(shape([[0, 12], [1, 12], [5, 12], [6, 12]], [{ from: 1, to: 5 }]), ["in0 0,1", "in0 5,6"]);
  assert.deepEqual(shape([[0, 12], [3, 12], [6, 12]], [{ from: 1, to: 5 }]), ["in0 0", "in0 6"]);
});

test("above 93 % a humidity is smeared, unless it is out of its band", () => {
  const wet = [{ from: 0, band: { low: 90, high: 96 } }];
  assert.deepEqual(shape([[0, 92], [1, 94], [2, 97]], [], true, wet), ["in0 0,1", "smear0 1,2", "out1 2"]);
});

test("where no band holds the trace runs free", () => {
  assert.deepEqual(shape([[0, 40]], [], false, []), ["free0 0"]);
});

test("the band in force is the last that began", () => {
  const steps = [{ from: 0, band: { low: 1, high: 2 } }, { from: 10, band: { low: 3, high: 4 } }];
  assert.deepEqual(bandAt(steps, 9), { low: 1, high: 2 });
  assert.deepEqual(bandAt(steps, 10), { low: 3, high: 4 });
});

test("thinning keeps the mean of each step of time and the last point as it is", () => {
  assert.deepEqual(thin([[0, 10], [1, 20], [10, 30], [11, 50], [20, 7]], 10), [[0.5, 15], [10.5, 40], [20, 7]]);
  assert.deepEqual(thin([[0, 1], [1, 2]], 10), [[0, 1], [1, 2]]);
});

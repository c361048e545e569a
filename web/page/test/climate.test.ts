import assert from "node:assert/strict";
import { test } from "node:test";
import { bodies, combs } from "../src/draw/climate.ts";
import { hoursOf } from "../src/draw/hours.ts";
import { gapsOf, stretches, type Point } from "../src/draw/trace.ts";
import { instantOf, setZone } from "../src/days.ts";
import { outsideWords } from "../src/places/wheels/outside.ts";

setZone("Europe/Vienna");
const day = (n: number) => `2026-11-${String(n).padStart(2, "0")}`;
const air = (n: number, low: number, high: number) => ({ day: day(n), low, high });
const shape = (found: ReturnType<typeof bodies>) => found.map((b) => `${b.band ? `${b.band.low}-${b.band.high}` : "free"} ${b.side} ${b.days.map((d) => Number(d.day.slice(8))).join(",")}`);

test("air is drawn by the band of its own day: what a wrapped wheel wants is not what it wanted before", () => {
  const steps = [{ from: instantOf(day(1), 4), band: { low: 10, high: 14 } }, { from: instantOf(day(4), 15), band: { low: 2, high: 6 } }];
  const days = [air(1, 11, 12), air(2, 11, 13), air(3, 12, 13), air(4, 12, 12.5), air(5, 12, 12.5)];
  assert.deepEqual(shape(bodies(days, steps)), ["10-14 0 1,2,3,4", "2-6 1 4,5"]);
});

test("a day that was never inside leaves the band, one that only reached beyond it does not", () => {
  const steps = [{ from: 0, band: { low: 10, high: 14 } }];
  assert.deepEqual(shape(bodies([air(1, 12, 16), air(2, 14.1, 16), air(3, 8, 9.9), air(4, 9, 12)], steps)), ["10-14 0 1,2", "10-14 1 2,3", "10-14 -1 3,4", "10-14 0 4"]);
});

test("a day without air is a hole, and without a band nothing is left", () => {
  assert.deepEqual(shape(bodies([air(1, 20, 21), air(2, 20, 21), air(4, 20, 21)], [{ from: 0 }])), ["free 0 1,2", "free 0 4"]);
});

test("only what left its band has a comb: nobody knows what a silent or stuck probe did not say", () => {
  const kinds = ["too warm", "probe stuck", "too dry", "power gone", "plant weak", "probe silent", "too cold", "probe wet", "too damp", "door open", "unwatched"] as const;
  assert.deepEqual(combs(kinds.map((kind, from) => ({ kind, from }))), [{ from: 0, side: 1 }, { from: 2, side: -1 }, { from: 6, side: -1 }, { from: 8, side: 1 }]);
});

test("what one channel's probe left unknown breaks that channel's trace alone", () => {
  const points: Point[] = [[0, 12], [10, 12], [20, 12], [30, 12], [40, 12]];
  const doubts = [{ from: 10, to: 30, channel: "temperature" as const, kind: "probe stuck" as const, probe: "Fridge air" }];
  const drawn = (channel: "temperature" | "humidity") => stretches(points, [{ from: 0, band: { low: 10, high: 14 } }], gapsOf(channel, [], doubts), false).map((s) => s.points.map((p) => p[0]));
  assert.deepEqual(drawn("temperature"), [[0, 10], [30, 40]]);
  assert.deepEqual(drawn("humidity"), [[0, 10, 20, 30, 40]]);
});

test("air out of the band of now says since when: of today the hour, else the day", () => {
  const out = (since: number, side: -1 | 1 = 1) => outsideWords({ since, side, mean: 12.5, band: { low: 2, high: 6 } }, instantOf(day(26), 18));
  assert.equal(out(instantOf(day(24), 15)), "Its air has been above its band, 2\u00a0to\u00a06\u00a0°C, since Tuesday: 12.5\u00a0°C now.");
  assert.equal(out(instantOf(day(26), 9), -1), "Its air has been below its band, 2\u00a0to\u00a06\u00a0°C, since 09:00: 12.5\u00a0°C now.");
  assert.equal(out(instantOf(day(2), 4)), "Its air has been above its band, 2\u00a0to\u00a06\u00a0°C, since 2\u00a0Nov: 12.5\u00a0°C now.");
  assert.match(out(instantOf(day(26), 3, 32)), /since 03:32/, "of this date, though the keeper's day had not begun");
  assert.match(out(instantOf(day(25), 3, 32)), /since yesterday/);
});

test("beside a ribbon of one day midnight is the night, beside one of several the day that begins", () => {
  const named = (from: number, to: number) => hoursOf(from, to).map((h) => h.name).join(" ");
  assert.equal(named(instantOf(day(25), 14), instantOf(day(26), 14)), "18 night 06 noon");
  assert.equal(named(instantOf(day(20), 14), instantOf(day(22), 8)), "18 Sat 06 noon 18 Sun 06");
});

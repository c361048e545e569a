import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { addDays, dateOf, daysBetween, hour, instantOf, keeperDay, setDayTurn, setZone, weekdayIndex } from "../src/days.ts";

beforeEach(() => setZone("Europe/Zurich"));

test("days are added and counted across months, leap days and clock changes", () => {
  assert.equal(addDays("2028-02-28", 1), "2028-02-29");
  assert.equal(addDays("2026-12-31", 1), "2027-01-01");
  assert.equal(daysBetween("2026-10-24", "2026-10-26"), 2);
  assert.equal(daysBetween("2026-03-30", "2026-03-28"), -2);
  assert.equal(weekdayIndex("2026-11-30"), 0);
});

test("an hour on the wall becomes its instant and back", () => {
  assert.equal(new Date(instantOf("2026-11-26", 7, 14)).toISOString(), "2026-11-26T06:14:00.000Z");
  assert.equal(new Date(instantOf("2026-07-01", 0)).toISOString(), "2026-06-30T22:00:00.000Z");
  assert.equal(hour(instantOf("2026-11-26", 7, 14)), "07:14");
  assert.equal(dateOf(instantOf("2026-11-26", 0, 0)), "2026-11-26");
});

// The European rule: clocks go forward at 01:00 UTC on the last Sunday of March and back on the last of October.
test("an hour that does not exist takes the earlier offset, and one that comes twice the first", () => {
  assert.equal(new Date(instantOf("2026-03-29", 2, 30)).toISOString(), "2026-03-29T01:30:00.000Z");
  assert.equal(new Date(instantOf("2026-10-25", 2, 30)).toISOString(), "2026-10-25T00:30:00.000Z");
});

test("a keeper's day turns at four in the morning", () => {
  assert.equal(keeperDay(instantOf("2026-11-26", 3, 59)), "2026-11-25");
  assert.equal(keeperDay(instantOf("2026-11-26", 4, 0)), "2026-11-26");
  assert.equal(keeperDay(instantOf("2026-12-01", 0, 30)), "2026-11-30");
});

test("a keeper's day turns at the hour that the house says", () => {
  setDayTurn(2);
  assert.equal(keeperDay(instantOf("2026-11-26", 1, 59)), "2026-11-25");
  assert.equal(keeperDay(instantOf("2026-11-26", 2, 0)), "2026-11-26");
  setDayTurn(undefined);
  assert.equal(keeperDay(instantOf("2026-11-26", 2, 0)), "2026-11-25", "a house that does not say: at four");
});

test("a zone that the phone does not know changes nothing", () => {
  setZone("Nowhere/Cellar");
  assert.equal(hour(Date.parse("2026-11-26T06:14:00Z")), "07:14");
});

test("the other half of the world works too", () => {
  setZone("Pacific/Auckland");
  assert.equal(new Date(instantOf("2026-11-26", 7)).toISOString(), "2026-11-25T18:00:00.000Z");
});

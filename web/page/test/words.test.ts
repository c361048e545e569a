import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import words from "../../words/en.json" with { type: "json" };
import { celsius, degrees, lasting, points, span, weight } from "../src/figures.ts";
import { shortDate, weekdayDate } from "../src/days.ts";
import { clockWord } from "../src/parts/alarm_words.ts";
import { kin, kinOf, wheelsOf } from "../src/parts/names.ts";
import { many, named, t, unbroken } from "../src/words.ts";

const source = fileURLToPath(new URL("../src/", import.meta.url));
const files = readdirSync(source, { recursive: true, encoding: "utf8" }).filter((f) => /\.tsx?$/.test(f));
const text = files.map((f) => readFileSync(join(source, f), "utf8")).join("\n");

test("every plural has both forms", () => {
  for (const key of Object.keys(words)) {
    if (key.endsWith(".one") && key !== "count.one") assert.ok(key.replace(/\.one$/, ".other") in words, key);
  }
});

test("the book does not use words of another trade", () => {
  const kNotOurs = /\b(dashboard|status|OK|safe|task|alert|sensor|score|streak|missed|failed|overdue)\b/;
  // One word of them may be said only to deny it.
  const denied = (text: string) => text.replace(/not show that (a|the) cheese is safe to eat/, "");
  for (const [key, value] of Object.entries(words)) assert.doesNotMatch(denied(value), kNotOurs, key);
});

test("the names of an alarm's states never reach a screen", () => {
  for (const [key, value] of Object.entries(words)) assert.doesNotMatch(value, /acknowledg|\bshelved?\b|suppress|\blatched\b/i, key);
});

test("the page builds no HTML out of text", () => {
  assert.doesNotMatch(text, /innerHTML|insertAdjacentHTML|dangerouslySet|document\.write|randomUUID/);
});

test("placeholders are filled and plural forms chosen", () => {
  assert.equal(t("house.cut", { time: "07:02" }), "No word from the house since 07:02.");
  assert.equal(many("round.left", 5), "Five left.");
  assert.equal(many("round.and", 1), "and 1 question");
  assert.equal(many("round.left", 40), "40 left.");
});

test("figures: humidity in whole points, above 93 no closer; bands without needless noughts", () => {
  assert.equal(points(92.6), "93\u00a0%");
  assert.equal(points(93.2), "93+\u00a0%");
  assert.equal(degrees(12.04), "12.0°");
  assert.equal(celsius(-1.5), "−1.5\u00a0°C");
  assert.equal(span({ low: 10, high: 13.5 }), "10\u00a0to\u00a013.5");
  assert.equal(span({ low: 85, high: 85 }, 0), "85");
  assert.equal(lasting(174 * 60_000), "2\u00a0h\u00a054\u00a0min");
  assert.equal(lasting(3_600_000), "1\u00a0h");
  assert.equal(weight(250), "250\u00a0g");
  assert.equal(weight(2310), "2.31\u00a0kg");
  assert.equal(weight(1500), "1.5\u00a0kg");
});

test("a figure and its unit are never parted, whatever text they stand in", () => {
  assert.equal(unbroken("3 g salt in 117 mL"), "3\u00a0g salt in 117\u00a0mL");
  assert.equal(unbroken("2½ h, 93+ %, 4 min at 12 °C"), "2½\u00a0h, 93+\u00a0%, 4\u00a0min at 12\u00a0°C");
  assert.equal(unbroken("3 goats, 20 minutes, 5 half wheels, 4 g-stamps"), "3 goats, 20 minutes, 5 half wheels, 4 g-stamps");
});

test("a span and a date are never broken within, nor a family's name at its hyphen", () => {
  assert.equal(unbroken("2 h 42 min"), "2\u00a0h\u00a042\u00a0min");
  assert.equal(unbroken("for 2 days 11 h, from Wed 23:14"), "for 2 days\u00a011\u00a0h, from Wed\u00a023:14");
  assert.equal(unbroken("28 Oct, reckoned; Monday 26 November"), "28\u00a0Oct, reckoned; Monday 26\u00a0November");
  assert.equal(unbroken("5 marked, 3 Maybelles, 6 h of 3 days"), "5 marked, 3 Maybelles, 6\u00a0h of 3 days");
  assert.equal(unbroken("usually 2 to 3 days, 10.5 to 13.5, 1 to 2 h; 13:00 to 18:00, 13 to 15 Oct"), "usually 2\u00a0to\u00a03 days, 10.5\u00a0to\u00a013.5, 1\u00a0to\u00a02\u00a0h; 13:00 to 18:00, 13 to 15\u00a0Oct");
  assert.equal(span({ low: 11, high: 14 }), "11\u00a0to\u00a014");
  assert.equal(shortDate("2026-11-25"), "25\u00a0Nov");
  assert.equal(weekdayDate("2026-11-24"), "Tue\u00a024");
  assert.equal(kin("Pressed semi-hard, brine-washed"), "pressed semi-\u2060hard");
  assert.equal(clockWord(Date.UTC(2026, 10, 12, 4, 20), Date.UTC(2026, 10, 26, 4, 20)), "12\u00a0Nov 04:20");
});

test("a family is told by its first words, in the plural that the book has for it, else by its name", () => {
  assert.equal(wheelsOf([{ count: 6, family: "Bloomy, white mould", cave_name: "Box 1" }, { count: 1, family: "Bloomy, white mould" }]), "6 bloomies, Box 1; 1 bloomy");
  assert.equal(wheelsOf([{ count: 4, family: "Pressed semi-hard, brine-washed" }]), "4 pressed semi-\u2060hard");
  assert.equal(many("wheels.count", 3, { family: kinOf("Bloomy, white mould", 3) }), "3 bloomies");
  assert.equal(named("family", "toString", 2), "toString");
});

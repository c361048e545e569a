// A time that nobody watched, as the page says it: past, with both edges, never as well.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Alarm, JournalLine } from "../src/api.ts";
import { setClock } from "../src/clock.ts";
import { setZone } from "../src/days.ts";
import { textOf } from "../src/places/journal/text.tsx";
import { edgeWords, gapOf, toldSince, unwatchedWords, whyWord } from "../src/parts/alarm_words.ts";
import { alarmState, alarmTitle, lowLine } from "../src/parts/alarms.tsx";

setZone("Europe/Vienna");
const kHour = 3_600_000;
const from = Date.parse("2026-11-20T08:40:00Z"), to = from + 3 * kHour; // 09:40 to 12:40 on the wall
const gap = (more: Partial<Alarm> = {}): Alarm => ({ id: "unwatched-1-1", kind: "unwatched", severity: "hint", why: "unheard", cave: 1, cave_name: "Fridge", since: from, raised: to, back_since: to, before: 12.4, value: 12.4, wheels: [], concerns: [{ count: 2, family: "Bloomy", cave_name: "Fridge", state: "ripening" }], first: [], found_later: false, ...more });
const plain = (text: string) => text.replaceAll("\u00a0", " ");
const warmed = gap({ severity: "watch", why: "warmed meanwhile", value: 15.1, extreme: 15.1, warmest: 12.9, over: to + 60_000 });

test("a time that nobody watched is from when to when, however long nothing is heard after it", () => {
  for (const later of [0, 6 * kHour]) {
    setClock(to + later, 1);
    assert.equal(alarmTitle(gap()), "Fridge not watched from 09:40 to 12:40");
    assert.equal(lowLine(gap()), "nothing heard since");
  }
  assert.deepEqual(gapOf(gap()), { from, to });
  assert.equal(gapOf(gap({ kind: "power gone" })), undefined);
});

test("a silent probe whose next word was due unwatched is told since somebody watches, a later gap besides, and its rows too", () => {
  const at = to + 4 * kHour;
  const silent = { since: from, told_since: to, unwatched_first: { from: from + 20_000, to }, unwatched: { from: to + kHour, to: to + 2 * kHour } };
  assert.equal(toldSince(silent), to);
  assert.deepEqual(unwatchedWords(silent, at), ["Its last word was of 09:40, and from then to 12:40 nobody watched.", "Nobody watched from 13:40 to 14:40."]);
  assert.deepEqual(unwatchedWords({ since: from, unwatched_first: { from: from + kHour / 2, to } }, at), ["Its last word was of 09:40, and from 10:10 to 12:40 nobody watched."]);
  assert.deepEqual(unwatchedWords({ since: from }, at), []);
  const row = (change: "raised" | "over") => textOf({ position: 1, id: "a", at, received_at: at, kind: "alarm", late_entry: false, undone: false, cave: 1, cave_name: "Fridge", count: 2,
    alarm: { id: "s", kind: "probe silent", severity: "act", change, since: from, told_since: to, extreme: 12.4, dose: 0, value: 12.4, found_later: false } }).print;
  assert.match(String(row("raised")), /12:40/);
  assert.doesNotMatch(String(row("raised")), /09:40/);
  assert.match(String(row("over")), /12:40/);
});

test("once its air is heard the strip says in one line what a wheel can have become, and its page both edges and what that means", () => {
  setClock(to + kHour, 1);
  assert.equal(plain(lowLine(warmed)), "wheels to about 12.9 °C");
  assert.equal(plain(lowLine({ ...warmed, mine: { told: false }, taken: to + kHour })), "over 12:40, seen by you, not yet told");
  assert.deepEqual(edgeWords(warmed).map(plain), ["Air 12.4 °C before, 15.1 °C after.", "By then the smallest wheel was at most about 12.9 °C; its core may still rise."]);
  assert.equal(whyWord(warmed), "The air warmed meanwhile: perhaps what cools it was without power too, or did not run.");
  assert.equal(whyWord({ ...warmed, value: 9 }), "The air cooled meanwhile.");
  // Nothing lies there: the air is known all the same.
  const { warmest: _warmest, ...empty } = warmed;
  assert.deepEqual(edgeWords(empty).map(plain), ["Air 12.4 °C before, 15.1 °C after."]);
  assert.equal(plain(lowLine(empty)), "12.4 °C, then 15.1 °C");
  // Heard long after: what stood in between nobody knows, and no figure is made up.
  assert.deepEqual(edgeWords(gap({ over: to + 9 * kHour })), []);
  assert.equal(lowLine(gap({ over: to + 9 * kHour })), "heard again long after");
});

test("its mark is that of what nobody knows, over or not", () => {
  assert.deepEqual([alarmState(gap()), alarmState(warmed)], ["unknown", "unknown"]);
});

test("the journal says from when to when, why an eye is to be kept, and how it ended", () => {
  const line = (alarm: Partial<NonNullable<JournalLine["alarm"]>>) => textOf({ position: 1, id: "1", at: to, received_at: to, kind: "alarm", late_entry: false, undone: false, count: 2, cave_name: "Fridge",
    alarm: { id: "unwatched-1-1", kind: "unwatched", severity: "hint", change: "raised", why: "unheard", since: from, back_since: to, before: 12.4, extreme: 12.4, dose: 0, value: 12.4, found_later: false, ...alarm } });
  const text = (print: unknown): string => (Array.isArray(print) ? print.map(text).join("") : print && typeof print === "object" ? text((print as { props: { children: unknown } }).props.children) : print === false || print == null ? "" : String(print));
  assert.equal(plain(text(line({}).print)), "Fridge not watched from 09:40 to 12:40, 2 wheels.");
  assert.notEqual(line({}).red, true);
  const after = { why: "warmed meanwhile", severity: "watch", value: 15.1, extreme: 15.1, warmest: 12.9 } as const;
  assert.equal(plain(text(line({ ...after, change: "severity" }).print)), "Fridge warmed to 15.1 °C while nobody watched: keep an eye on it.");
  assert.equal(plain(text(line({ ...after, change: "over" }).print)), "Fridge: its air is heard again. Air 12.4 °C before, 15.1 °C after. By then the smallest wheel was at most about 12.9 °C; its core may still rise.");
});

test("the row of a clock that was set back says which acts bear a wrong time and what to do, of many the first and the last", () => {
  const row = (count: number) => textOf({ position: 1, id: "1", at: to, received_at: to, kind: "started", late_entry: false, undone: false, count: 0, ahead_until: to + 24 * kHour,
    misdated: Array.from({ length: count }, (_, n) => ({ at: to + 23 * kHour + n * 60_000, ...(n === 0 ? { keeper: "IH" } : {}) })) }).note;
  assert.equal(row(1), "1 act was sent in that time and bears a wrong one: Sat\u00a011:40, IH. Strike it out and enter it anew.");
  assert.equal(row(2), "2 acts were sent in that time and bear wrong ones: Sat\u00a011:40, IH; Sat\u00a011:41. Strike them out and enter them anew.");
  assert.equal(row(30), "30 acts were sent in that time and bear wrong ones: Sat\u00a011:40, IH to Sat\u00a012:09. Strike them out and enter them anew.");
});

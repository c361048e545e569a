import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import words from "../../words/en.json" with { type: "json" };
import type { Alarm, LimitsPage } from "../src/api.ts";
import { setZone } from "../src/days.ts";
import type { Entry } from "../src/queue/entry.ts";
import { changes, endsWord, grouped, limitStep, limitWord, overLimits, sourcesOf, standsOf, toldIn, tried, typedOf, withSetting } from "../src/places/caves/limit_values.ts";

const row = (id: string, unit: string, usual: number, value = usual) => ({ id, unit, usual, value, least: 0, most: 1000, source: "common practice, no source" });
const page = (more: Partial<LimitsPage> = {}): LimitsPage => ({
  head: undefined as never, cave: { id: 1, name: "Fridge", kind: "fridge" }, band: {}, typed: {}, ready_cheese: false, out_of_service: [],
  rows: [row("too warm: watch after", "min", 60), row("too warm: act beyond the band by", "K", 1.5, 2), row("night: from", "o'clock", 22)], ...more,
});

const source = readFileSync(fileURLToPath(new URL("../../../rules/alarms/settings.cpp", import.meta.url)), "utf8");
const ids = [...source.matchAll(/\{"([^"]+)",\s*&S::/g)].map((m) => m[1]!);

test("each limit and each group of the program has its words, and why it is so", () => {
  assert.ok(ids.length > 60);
  for (const id of ids) {
    for (const key of [`limit.${id}`, `limit.${id}.low`, `limits.group.${id.slice(0, id.indexOf(":"))}`]) assert.ok(key in words, key);
  }
});

test("both gases say under which rule their delays and their end stand; the end of what is judged by its air is not theirs", () => {
  for (const gas of ["carbon dioxide", "ammonia"] as const) assert.ok(words[`limits.said.${gas}`].includes(`stands under “${words["limits.group.gas"]}”`), gas);
  assert.match(words["limits.said.over"], /^An alarm of temperature or humidity is over.* and gas end by their own rules\.$/);
});

test("no rule keeps a figure of its own that stands as a row beside it", () => {
  const figures = { excursion: /5 degrees|four days/, stuck: /four days/, over: /half a degree|two points|a quarter/, "carbon dioxide": /minutes|tenth/, ammonia: /minutes|tenth/, night: /six hours/, power: /within minutes/ };
  for (const [group, figure] of Object.entries(figures)) assert.doesNotMatch(words[`limits.said.${group}` as keyof typeof words], figure, group);
});

test("a source that is no common practice or study of its own names who says so", () => {
  const sources = [...source.matchAll(/string_view k\w+ =\s*"([^"]+)"/g)].map((m) => m[1]!);
  assert.ok(sources.length > 5);
  for (const one of sources) assert.match(one, /no source|simulated|OSHA|NIOSH|ACGIH|USDA/, one);
});

test("a rule says no \u201cthis page\u201d of what stands on the cave's, and its sentence holds with a figure of nought in it", () => {
  assert.doesNotMatch(words["limits.said.battery"] + words["limit.battery: hint at"], /this page/);
  assert.doesNotMatch(words["limits.said.condensation"] + words["limit.condensation: rind above the dew point by less than.low"], /colder than (\{|that)/);
});

test("the rule of each group tells every figure of it, and no other", () => {
  for (const { group, rows } of grouped(ids.map((id) => row(id, "min", 60)))) {
    const pieces = toldIn(group, rows);
    assert.deepEqual(rows.filter((r) => !pieces.includes(r)).map((r) => r.id), [], `${group} leaves out`);
    assert.ok(!pieces.includes(""), `${group} asks for a figure that it has not`);
    assert.match(pieces.join(""), /^[^{}]+$/);
  }
});

test("a group names each source of its figures once", () => {
  const rows = [row("door: act after", "min", 20), { ...row("door: quiet after it", "min", 30), source: "a study" }, row("door: the air turns", "min", 25)];
  assert.deepEqual(sourcesOf(rows), ["common practice, no source", "a study"]);
});

test("who strikes a kind that rings there reads first that it ends, and how; what is over or rings elsewhere ends with nothing", () => {
  const now = Date.parse("2026-11-26T06:14:00Z");
  setZone("UTC");
  const alarm = (more: object) => ({ id: "1", kind: "too damp", severity: "act", cave: 1, cave_name: "Fridge", since: now - 3_600_000, ...more }) as Alarm;
  const with_ = (...alarms: Alarm[]) => page({ head: { alarms } as LimitsPage["head"] });
  assert.equal(endsWord(standsOf(with_(alarm({})), "too damp")!, now), "Fridge too damp now, since 05:14. Once written it ends as no longer judged: nothing else will have ended it.");
  assert.equal(standsOf(with_(alarm({ over: now }), alarm({ cave: 2 })), "too damp"), undefined);
  assert.equal(standsOf(with_(alarm({})), "too dry"), undefined);
  assert.ok(standsOf(with_(alarm({ taken: now })), "too damp"), "what is taken stands as well");
});

test("a limit is said in its unit and goes in steps of its size", () => {
  assert.equal(limitWord({ unit: "min" }, 90), "1\u00a0h\u00a030\u00a0min");
  assert.equal(limitWord({ unit: "K" }, 1.5), "1.5°");
  assert.equal(limitWord({ unit: "share" }, 0.78), "78\u00a0%");
  assert.equal(limitWord({ unit: "o'clock" }, 6.5), "06:30");
  assert.equal(limitWord({ unit: "days" }, 4), "4\u00a0days");
  assert.equal(limitWord({ unit: "g" }, 300), "300\u00a0g");
  assert.equal(limitWord({ unit: "ppm" }, 15_000), "15000\u00a0ppm");
  assert.deepEqual([limitStep({ unit: "min", usual: 45 }), limitStep({ unit: "min", usual: 1440 }), limitStep({ unit: "K", usual: 0.3 })], [5, 60, 0.1]);
  assert.deepEqual([limitStep({ unit: "min", usual: 2 }), limitStep({ unit: "points", usual: 1.5 }), limitStep({ unit: "points", usual: 5 })], [1, 0.5, 1]);
});

test("what is typed is what differs from the usual; the usual value again is no change", () => {
  const written = typedOf(page());
  assert.deepEqual(written.settings, { "too warm: act beyond the band by": 2 });
  const draft = withSetting(written, { id: "too warm: act beyond the band by", usual: 1.5 }, 1.5);
  assert.deepEqual(draft.settings, {});
  assert.deepEqual(changes(draft, written), { spans: false, watching: true });
  assert.deepEqual(changes({ ...written, temperature: { low: 10, high: 13 } }, written), { spans: true, watching: false });
  assert.deepEqual(changes({ ...written }, written), { spans: false, watching: false });
});

test("a trial is told what is to differ, also what goes back to the usual", () => {
  const written = typedOf(page());
  assert.equal(tried(written, written, page().rows), undefined);
  assert.deepEqual(tried({ ...written, settings: {} }, written, page().rows), { settings: { "too warm: act beyond the band by": 1.5 } });
  assert.deepEqual(tried({ ...written, off: ["too dry"], humidity: { low: 70, high: 90 } }, written, page().rows), { humidity: { low: 70, high: 90 }, off: ["too dry"] });
});

test("a trial is told also what is judged again, what goes back to the wheels' own band, and finished cheese", () => {
  const struck = page({ typed: { temperature: { low: 8, high: 10 }, humidity: { low: 70, high: 80 } }, out_of_service: ["too dry", "too damp"] });
  const { temperature: _, ...written } = typedOf(struck);
  const draft = { ...written, humidity: { low: 70, high: 85 }, off: ["too damp" as const, "too cold" as const], ready_cheese: true };
  assert.deepEqual(tried(draft, typedOf(struck), struck.rows), { humidity: { low: 70, high: 85 }, of_wheels: ["temperature"], off: ["too cold"], judged: ["too dry"], ready_cheese: true });
});

test("rows stand under the heads that they share", () => {
  assert.deepEqual(grouped(page().rows).map((g) => [g.group, g.rows.length]), [["too warm", 2], ["night", 1]]);
});

test("what this phone has written is shown before the house answers", () => {
  const tapped: Entry[] = [{ act: { id: "a".repeat(32), tapped_at: 0, kind: "watching", cave: 1, settings: { "night: from": 21 }, off: ["too dry"], ready_cheese: true }, state: "waiting" } as unknown as Entry];
  const shown = overLimits(page(), tapped);
  assert.deepEqual([shown.ready_cheese, shown.out_of_service, shown.rows.map((r) => r.value)], [true, ["too dry"], [60, 1.5, 21]]);
  assert.deepEqual(overLimits(page({ cave: { id: 2, name: "Cellar", kind: "room" } }), tapped).rows[1]!.value, 2);
});

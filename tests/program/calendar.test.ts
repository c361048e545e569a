// The rounds as a calendar (RFC 5545), read by a library that is not ours, against the zone rules that Node brings.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { after, before, describe, test } from "node:test";
import ICAL from "ical.js";
import { enterWheel } from "../support/keeping.ts";
import { newId, Watch } from "../support/watch.ts";

const days = 400; // holds every change of a year

interface Round { uid: string; start: Date; minutes: number; summary: string; description: string }

/** Every event, its start worked out by the library from the zone in the file. */
function roundsIn(text: string): Round[] {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents("vevent").map((component) => {
    const event = new ICAL.Event(component);
    return {
      uid: event.uid,
      start: event.startDate.toJSDate(),
      minutes: event.duration.toSeconds() / 60,
      summary: event.summary,
      description: event.description,
    };
  });
}

/** "2026-11-26 07:00" by a clock on the wall there. */
function wall(at: Date, zone: string): string {
  const parts = new Intl.DateTimeFormat("en-CA", {
    timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", hourCycle: "h23",
  }).formatToParts(at);
  const of = (type: string) => parts.find((part) => part.type === type)!.value;
  return `${of("year")}-${of("month")}-${of("day")} ${of("hour")}:${of("minute")}`;
}

async function calendarOf(watch: Watch, query = `?days=${days}`): Promise<string> {
  const answer = await watch.ask("GET", `/api/round/calendar${query}`);
  assert.equal(answer.status, 200, answer.text);
  return answer.text;
}

// Half an hour's change in the last one.
for (const zone of ["Europe/Vienna", "America/New_York", "Australia/Lord_Howe"]) {
  describe(`rounds in ${zone}`, () => {
    let watch: Watch, text: string, wheels: number[];
    before(async () => {
      watch = await Watch.start({ zone });
      ({ wheels } = await enterWheel(watch, { count: 2, where: { new: { kind: "box", name: "Box; “Nord”, 1" } } }));
      text = await calendarOf(watch);
    });
    after(() => watch.end());

    test("each event starts at seven by the clock on the wall, on the day that its name says, through every change", () => {
      const rounds = roundsIn(text);
      assert.ok(rounds.length > 50, `${rounds.length} rounds`);
      for (const round of rounds) {
        const date = /^round-(\d{4}-\d\d-\d\d)-/.exec(round.uid)?.[1];
        assert.equal(wall(round.start, zone), `${date} 07:00`, round.uid);
      }
      const hours = new Set(rounds.map((round) => `${round.start.getUTCHours()}:${round.start.getUTCMinutes()}`));
      assert.equal(hours.size, 2, "no change of the clock lies in the calendar");
    });

    test("one event a round, in order, under a name of its own", () => {
      const rounds = roundsIn(text);
      assert.equal(new Set(rounds.map((round) => round.uid)).size, rounds.length);
      assert.deepEqual(rounds.map((round) => +round.start), rounds.map((round) => +round.start).sort((a, b) => a - b));
      for (const round of rounds) assert.ok(round.minutes >= 1);
    });

    test("names hold their commas, semicolons and letters", () => {
      assert.match(roundsIn(text)[0]!.description, /^Box; “Nord”, 1: wash, turn 2$/m);
      assert.match(roundsIn(text)[0]!.summary, /^Round, \d+ min: Box; “Nord”, 1$/);
    });

    test("every line ends with CR LF and has at most 75 octets", () => {
      assert.ok(text.endsWith("END:VCALENDAR\r\n"));
      for (const line of text.split("\r\n")) {
        assert.ok(!line.includes("\n"));
        assert.ok(Buffer.byteLength(line) <= 75, line);
      }
    });

    test("a round keeps its name when a care is signed", async () => {
      const before = roundsIn(text);
      const done = await watch.send({ id: newId(), kind: "care", tapped_at: Date.now(), wheels, done: ["wash", "turn"], skipped: [] });
      assert.equal(done.status, 200, done.text);
      const after = roundsIn(await calendarOf(watch));
      assert.deepEqual(after.map((round) => round.uid), before.slice(1).map((round) => round.uid));
    });
  });
}

describe("the calendar as a file", () => {
  let watch: Watch;
  before(async () => {
    watch = await Watch.start();
    await enterWheel(watch);
  });
  after(() => watch.end());

  const bare = (text: string) => text.replace(/^DTSTAMP:.*$/gm, "");

  test("the command line writes what the daemon serves", async () => {
    const file = path.join(watch.folder, "rounds.ics");
    const written = await watch.run(["round", "--ics", file, "--days", "40"]);
    assert.deepEqual([written.status, written.stderr], [0, ""]);
    assert.equal(bare(readFileSync(file, "utf8")), bare(await calendarOf(watch, "?days=40")));
    const printed = await watch.run(["round", "--ics", "-", "--days", "40"]);
    assert.equal(bare(printed.stdout), bare(readFileSync(file, "utf8")));
  });

  test("a span that is none is refused in a sentence", async () => {
    for (const query of ["?days=0", "?days=401", "?days=a"]) {
      const answer = await watch.ask("GET", `/api/round/calendar${query}`);
      assert.equal(answer.status, 400);
      assert.match((answer.json as any).error.what, /\.$/);
    }
  });
});

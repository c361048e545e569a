// The rounds as a calendar (RFC 5545), read by a library that is not ours, against the zone rules that Node brings.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { after, before, describe, test } from "node:test";
import ICAL from "ical.js";
import { enterWheel } from "../support/keeping.ts";
import { run } from "../support/running.ts";
import { rindwatch } from "../support/tree.ts";
import { Watch } from "../support/watch.ts";

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
  const answer = await watch.ask({ path: `/api/round/calendar${query}` });
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
      await watch.did({ kind: "care", wheels, done: ["wash", "turn"], skipped: [] });
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
    const round = (ics: string) => run(rindwatch, ["round", "--config", watch.file, "--ics", ics, "--days", "40"]);
    const written = await round(file);
    assert.deepEqual([written.status, written.err], [0, ""]);
    assert.equal(bare(readFileSync(file, "utf8")), bare(await calendarOf(watch, "?days=40")));
    const printed = await round("-");
    assert.equal(bare(printed.out), bare(readFileSync(file, "utf8")));
  });

  test("its secret address opens it until it is shut, and each opening makes another", async () => {
    const at = async (address: string) => (await watch.ask({ path: address })).status;
    assert.equal(await at("/calendar/.ics"), 404);
    const addresses: string[] = [];
    for (let i = 0; i < 2; ++i) {
      await watch.did({ kind: "feed", open: true });
      addresses.push((await watch.get("/api/settings")).feed);
    }
    assert.notEqual(addresses[0], addresses[1]);
    assert.equal(await at(addresses[0]!), 404);
    const feed = await watch.ask({ path: addresses[1]! });
    assert.deepEqual([feed.status, feed.headers["content-type"]], [200, "text/calendar; charset=utf-8"]);
    assert.ok(roundsIn(feed.text).length > 5);
    await watch.did({ kind: "feed", open: false });
    assert.equal(await at(addresses[1]!), 404);
  });

  test("a span that is none is refused in a sentence", async () => {
    for (const query of ["?days=0", "?days=401", "?days=a"]) {
      const answer = await watch.ask({ path: `/api/round/calendar${query}` });
      assert.equal(answer.status, 400);
      assert.match((answer.json as any).error.what, /\.$/);
    }
  });
});

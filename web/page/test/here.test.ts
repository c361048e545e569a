import assert from "node:assert/strict";
import { test } from "node:test";
import { now } from "../src/clock.ts";
import { hereUntil, isBarred, whoIsHere } from "../src/places/caves/here.ts";
import type { Entry } from "../src/queue/entry.ts";

const kHour = 3_600_000;
const tapped = (kind: "here" | "out", cave = 1, state = "waiting") => ({ act: { id: "a".repeat(32), tapped_at: Date.now(), kind, cave }, state }) as unknown as Entry;

test("somebody is there as the house says, until then", () => {
  assert.equal(hereUntil({ id: 1 }, []), undefined);
  const until = now() + kHour;
  assert.equal(hereUntil({ id: 1, here_until: until }, []), until);
  assert.equal(hereUntil({ id: 1, here_until: now() - 1 }, []), undefined);
});

test("what was tapped and waits to be sent counts; what is answered is the house's to say", () => {
  const until = hereUntil({ id: 1 }, [tapped("here")])!;
  assert.ok(Math.abs(until - now() - kHour) < 5_000);
  assert.equal(hereUntil({ id: 1, here_until: now() + kHour }, [tapped("out")]), undefined);
  assert.equal(hereUntil({ id: 1 }, [tapped("here", 2)]), undefined);
  assert.equal(hereUntil({ id: 1 }, [tapped("here", 1, "acked")]), undefined);
});

test("who is there is told by name, as long as anybody is; a tap of one's own counts at once", () => {
  const until = now() + kHour, by = { id: 1, here_until: until, here_by: ["IH"] };
  const mine = { act: { id: "b".repeat(32), tapped_at: Date.now(), kind: "here", cave: 1, keeper: "TR" }, state: "waiting" } as unknown as Entry;
  assert.deepEqual(whoIsHere(by, []), ["IH"]);
  assert.deepEqual(whoIsHere({ ...by, here_until: now() - 1 }, []), []);
  assert.deepEqual(whoIsHere(by, [mine]), ["IH", "TR"]);
  assert.deepEqual(whoIsHere({ ...by, here_by: ["TR", "IH"] }, [mine]), ["IH", "TR"], "the last who said so last");
  assert.deepEqual(whoIsHere(by, [tapped("out")]), []);
  const gone = { ...mine, act: { ...mine.act, kind: "out" } } as unknown as Entry;
  assert.deepEqual(whoIsHere({ ...by, here_by: ["TR", "IH"] }, [gone]), ["IH"], "one who goes leaves the other there");
  assert.equal(hereUntil({ ...by, here_by: ["TR", "IH"] }, [gone]), until);
  assert.equal(hereUntil({ ...by, here_by: ["TR"] }, [gone]), undefined);
  assert.deepEqual(whoIsHere({ id: 1 }, [tapped("here")]), [], "one keeper alone has no initials");
});

test("where the house says to stay out nobody is asked in", () => {
  const gas = { kind: "carbon dioxide" as const, latest: 6_000, speaks: true, grade: "act" as const, watch: 2_000, act: 5_000, urgent: 15_000 };
  assert.equal(isBarred({ gas: [{ ...gas, bars: true }] }), true);
  // The page does not judge the figure anew.
  assert.equal(isBarred({ gas: [gas] }), false);
  assert.equal(isBarred({}), false);
});

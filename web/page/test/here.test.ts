import assert from "node:assert/strict";
import { test } from "node:test";
import { now } from "../src/clock.ts";
import { hereUntil } from "../src/places/caves/here.ts";
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

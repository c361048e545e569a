import assert from "node:assert/strict";
import { test } from "node:test";
import type { LimitsTrial } from "../src/api.ts";
import { triedWords } from "../src/places/caves/tried_words.ts";

const kDay = 86_400_000;
const tried = (more: Partial<LimitsTrial>) => triedWords({ done: true, from: 0, to: 91 * kDay, then: 4, now: 1, real: 0, real_found: 0, ...more });

test("what limits would have come to is one sentence: over how long, how often instead, and whether for what was real", () => {
  assert.equal(tried({ real: 2, real_found: 2 }), "With these limits the last three months would have rung once instead of 4 times, and rung for both that you called real.");
  assert.equal(tried({ to: 12.4 * kDay, then: 1 }), "With these limits the last 12 days would have rung once, as with the limits in force.");
  assert.equal(tried({ to: kDay, now: 0, then: 2 }), "With these limits the last day would have rung not once instead of twice.");
  assert.equal(tried({ to: 61 * kDay, now: 3, real: 1, real_found: 1 }), "With these limits the last two months would have rung 3 times instead of 4 times, and rung for the one that you called real.");
  assert.equal(tried({ real: 3, real_found: 1 }), "With these limits the last three months would have rung once instead of 4 times, but only for 1 of the 3 that you called real.");
  assert.equal(tried({ now: 0, real: 2 }), "With these limits the last three months would have rung not once instead of 4 times, but for none of the 2 that you called real.");
  assert.equal(triedWords({ done: true, why: "too little is kept" }), "");
});

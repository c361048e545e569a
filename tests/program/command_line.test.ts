// The verbs that ask: beside a running watch through its socket, and without one.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { Broker } from "../support/broker.ts";
import { temporaryFolder } from "../support/cleanup.ts";
import { enterWheel } from "../support/keeping.ts";
import { run } from "../support/running.ts";
import { rindwatch } from "../support/tree.ts";
import { Watch } from "../support/watch.ts";

const verbs = ["serve", "try", "simulate", "now", "round", "check", "plan", "replay"];

test("help names every verb, and each verb explains itself", async () => {
  const help = await run(rindwatch, ["--help"]);
  assert.equal(help.status, 0);
  for (const verb of verbs) {
    assert.match(help.out, new RegExp(`^ *${verb} +\\S`, "m"));
    const one = await run(rindwatch, [verb, "--help"]);
    assert.equal(one.status, 0);
    assert.match(one.out, /--help/);
  }
});

test("where no configuration is found it is said where it was looked for, and of one that is there nothing", async () => {
  const looked = /No configuration was found; looked at \$RINDWATCH_CONFIG, \.\/rindwatch\.toml, \/etc\/rindwatch\/rindwatch\.toml\./;
  const env = { RINDWATCH_CONFIG: undefined };
  for (const verb of ["now", "round", "replay", "check"]) {
    const cwd = temporaryFolder();
    const nowhere = await run(rindwatch, [verb], { cwd, env });
    assert.match(nowhere.out + nowhere.err, looked, verb);
    writeFileSync(path.join(cwd, "rindwatch.toml"), "");
    const there = await run(rindwatch, [verb], { cwd, env });
    assert.match(there.out + there.err, verb === "check" ? /Configuration: rindwatch\.toml\n/ : /There is no database/);
    assert.doesNotMatch(there.out + there.err, looked, verb);
  }
});

test("an unknown verb or option fails and says what there is", async () => {
  for (const words of [["brew"], ["serve", "--brew"], []]) {
    const result = await run(rindwatch, words);
    assert.notEqual(result.status, 0, words.join(" "));
    assert.ok((result.err + result.out).length > 0);
  }
});

test("now and round say the same with and without a running watch, in words and as JSON", async () => {
  const broker = await Broker.start();
  const watch = await Watch.start({ brokerPort: broker.port });
  await enterWheel(watch);
  await watch.connected();
  const asked = async (verb: string, ...more: string[]) => {
    const result = await run(rindwatch, [verb, "--config", watch.file, ...more]);
    assert.equal(result.status, 0, result.err);
    return result.out;
  };
  const { head } = await watch.get("/api/round");
  const running = { now: await asked("now"), round: await asked("round"), json: JSON.parse(await asked("round", "--json")) };
  assert.ok(running.now.includes(head.sentence), running.now);
  assert.equal(running.json.head.sentence, head.sentence);
  assert.ok(running.json.lines.length > 0);
  assert.equal(typeof JSON.parse(await asked("now", "--json")), "object");
  await watch.end();
  // The list names the minute at which it was made.
  const timeless = (list: string) => list.replace(/, \d\d:\d\d$/m, "");
  assert.equal(timeless(await asked("round")), timeless(running.round));
  assert.ok((await asked("now")).includes(head.sentence));
});

// What may stand wrong in the configuration file, and what the program says to it.
import assert from "node:assert/strict";
import { chmodSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { describe, test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { run } from "../support/running.ts";
import { rindwatch, root } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

describe("a setting that nobody reads", () => {
  test("is named with its line, and the watch serves", async () => {
    const watch = await Watch.start({ settings: { broker: ["prot = 1884"], brewing: ["days = 3"] } });
    assert.match(watch.running.said, /rindwatch\.toml, line \d+: nobody reads "prot" in \[broker\]/);
    assert.match(watch.running.said, /rindwatch\.toml, line \d+: nobody reads \[brewing\]/);
    await watch.end();
  });
});

const wrong: [string, string, RegExp][] = [
  ["malformed TOML", '[listen]\naddress = "127.0.0.1\n', /line 2: this is not TOML/],
  ["a key given twice", "[listen]\nport = 1\nport = 2\n", /line 3: this is not TOML/],
  ["a port that is a text", '[listen]\nport = "http"\n', /line 2: \[listen\] port should be a whole number from 1 to 65535, found .*http/],
  ["a port out of range", "[broker]\n\nport = 70000\n", /line 3: \[broker\] port should be a whole number from 1 to 65535, found 70000/],
  ["a day that turns at noon", "[home]\nday_turn = 12\n", /line 2: \[home\] day_turn should be a whole number from 0 to 5, found 12/],
  ["a zone that is not there", '[home]\nzone = "Europe/Cheese"\n', /Europe\/Cheese/],
  ["an address that is none", '[listen]\naddress = "the cellar"\n', /the cellar/],
  ["a topic filter with a wildcard in a wrong place", '[broker]\ndiscover = "a/#/b"\n', /a\/#\/b/],
  ["a topic prefix with a wildcard", '[broker]\nprefix = "cellar/+"\n', /cellar\/\+/],
];
for (const [name, text, expected] of wrong) {
  describe(name, () => {
    for (const verb of ["serve", "check"])
      test(`is said in one sentence by ${verb}, and nothing starts`, async () => {
        const watch = await Watch.prepared();
        writeFileSync(watch.file, text);
        const result = await run(rindwatch, [verb, "--config", watch.file], { milliseconds: 10_000 });
        assert.equal(result.status, 1, result.out + result.err);
        assert.match(result.err.trim().split("\n").at(-1)!, expected);
      });
  });
}

test("a file that is not there is said in one sentence", async () => {
  const result = await run(rindwatch, ["serve", "--config", "/nowhere/rindwatch.toml"]);
  assert.equal(result.status, 1);
  assert.match(result.err, /\/nowhere\/rindwatch\.toml.*(exist|read)/);
});

test("a sound file is checked with status 0", async () => {
  const watch = await Watch.prepared();
  const result = await run(rindwatch, ["check", "--config", watch.file]);
  assert.equal(result.status, 0, result.err);
});

describe("the sample in README.md", () => {
  const blocks = [...readFileSync(path.join(root, "README.md"), "utf8").matchAll(/^```toml\n(.*?)^```$/gms)].map(([, text]) => text!);
  const sample = blocks.join("\n");
  const whole = sample.replace(/^# (?=\[|\w+ = )/gm, "");
  const checked = async (text: string) => {
    const file = path.join(temporaryFolder(), "rindwatch.toml");
    writeFileSync(file, text);
    return run(rindwatch, ["check", "--config", file]);
  };
  for (const [name, text] of [["as it stands", sample], ["with each of its comments taken as a setting", whole]] as const)
    test(`is read, ${name}, and each of its lines by somebody`, async () => {
      const result = await checked(text);
      assert.equal(result.status, 0, result.out + result.err);
      assert.doesNotMatch(result.out + result.err, /nobody reads/);
    });

  test("has settings in its comments", () => {
    assert.equal(blocks.length, 2);
    for (const key of ["client", "sync_seconds", "level", "port", "headers", "ca"]) assert.match(whole, new RegExp(`^${key} = `, "m"));
  });
});

test("check compares the summing tables of a database with its journal", async () => {
  const watch = await Watch.start();
  await watch.end();
  const result = await run(rindwatch, ["check", "--config", watch.file, "--json"]);
  assert.equal(result.status, 0, result.err);
  assert.equal(typeof JSON.parse(result.out), "object");
});

test("a folder that cannot be written to is said in one sentence", { skip: process.getuid?.() === 0 && "root may write everywhere" }, async () => {
  const watch = await Watch.prepared();
  chmodSync(watch.folder, 0o555);
  watch.launch();
  const ending = await until("it ends", () => watch.running.ending);
  assert.equal(ending.status, 1);
  assert.match(watch.running.err, /rindwatch\.db/);
});

describe("a plan file", () => {
  const sound = readFileSync(path.join(root, "rules/plans/library/bloomy.toml"), "utf8");
  const checked = async (text: string) => {
    const file = path.join(temporaryFolder(), "mine.toml");
    writeFileSync(file, text);
    return run(rindwatch, ["check", "--plan", file]);
  };

  test("of the library is sound", async () => {
    const result = await checked(sound);
    assert.equal(result.status, 0, result.out + result.err);
  });

  const faults: [string, (text: string) => string, RegExp][] = [
    ["a gap between stages", (text) => text.replace("first_day = 2\n", "first_day = 3\n"), /mine\.toml, line \d+:.*first_day.*2/],
    ["an inverted band", (text) => text.replace("{ low = 10.5, high = 16.5", "{ low = 16.5, high = 10.5"), /mine\.toml, line \d+:.*temperature_band/],
    ["a care that nobody knows", (text) => text.replace('kinds = ["turn"]', 'kinds = ["sing"]'), /mine\.toml, line \d+:.*sing/],
    ["a text that is not TOML", (text) => `${text}\n[[parts`, /mine\.toml, line \d+:/],
    ["nothing in it", () => "", /mine\.toml/],
  ];
  for (const [name, spoil, expected] of faults)
    test(`with ${name} is refused with its line and what to do`, async () => {
      const text = spoil(sound);
      assert.notEqual(text, sound);
      const result = await checked(text);
      assert.equal(result.status, 1, result.out + result.err);
      assert.match(result.out + result.err, expected);
      // One sentence: the file, its line, the field, what was expected, what was found, what to do.
      if (name.startsWith("a ") || name.startsWith("an "))
        assert.equal((result.out + result.err).trim().split("\n").length, 1, result.out + result.err);
    });
});

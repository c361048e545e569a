// The plans by command line, beside a running watch and without one.
import assert from "node:assert/strict";
import { chmodSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { describe, test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { enterWheel } from "../support/keeping.ts";
import { run } from "../support/running.ts";
import { rindwatch, root } from "../support/tree.ts";
import { Watch } from "../support/watch.ts";

const library = (id: string) => readFileSync(path.join(root, "rules/plans/library", `${id}.toml`), "utf8");

async function plan(watch: Watch, words: string[], env: NodeJS.ProcessEnv = {}) {
  return run(rindwatch, ["plan", ...words, "--config", watch.file], { env: { ...process.env, ...env } });
}

async function said(watch: Watch, ...words: string[]) {
  const result = await plan(watch, words);
  assert.equal(result.status, 0, result.err);
  return result.out;
}

/** A script that stands for a keeper's editor. */
function editor(script: string): string {
  const file = path.join(temporaryFolder(), "editor.sh");
  writeFileSync(file, `#!/bin/sh\n${script}\n`);
  chmodSync(file, 0o755);
  return file;
}

for (const running of [true, false])
  describe(running ? "beside a running watch" : "without a running watch", () => {
    const begun = async () => {
      const watch = await Watch.start();
      await enterWheel(watch);
      if (!running) await watch.end();
      return watch;
    };

    test("the plans are listed and shown, in words and as JSON", async () => {
      const watch = await begun();
      const list = await said(watch, "list");
      assert.match(list, /^pressed-semi-hard +1 {2}Pressed semi-hard, brine-washed$/m);
      assert.equal(list.trim().split("\n").length, 14);
      assert.equal(JSON.parse(await said(watch, "list", "--json")).length, 14);
      const shown = await said(watch, "show", "blue");
      assert.match(shown, /^Blue, pierced \(blue, version 1\)$/m);
      assert.match(shown, /^ +pierce: on day 21, may wait 4 days$/m);
      assert.ok(shown.split("\n").every((line) => [...line].length <= 72));
      assert.equal(JSON.parse(await said(watch, "show", "blue", "--json")).plan.id, "blue");
    });

    test("a plan goes out as its file, changed, comes in as a new version, and says what changed", async () => {
      const watch = await begun();
      const file = path.join(temporaryFolder(), "mine.toml");
      assert.equal(await said(watch, "export", "natural-tomme"), library("natural-tomme"));
      await said(watch, "export", "natural-tomme", file);
      const refused = await plan(watch, ["export", "natural-tomme", file]);
      assert.equal(refused.status, 1);
      assert.match(refused.err, /is there already; name another file, or add --replace/);
      assert.match(await said(watch, "import", file), /Nothing changed: it is natural-tomme, version 1\./);
      writeFileSync(file, library("natural-tomme").replace("every_days = 10\ntolerance = 3\nnote", "every_days = 14\ntolerance = 3\nnote"));
      const kept = await said(watch, "import", file, "--keeper", "IH");
      assert.match(kept, /^main, brush, turn: every 14 days, was every 10 days$/m);
      assert.match(kept, /^Kept as natural-tomme, version 2\.$/m);
      assert.match(await said(watch, "list"), /^natural-tomme +2 /m);
      assert.equal(await said(watch, "export", "natural-tomme", "--version", "1"), library("natural-tomme"));
    });

    test("who names wheels sees their next 30 days before and after, and may keep nothing", async () => {
      const watch = await begun();
      const file = path.join(temporaryFolder(), "mine.toml");
      writeFileSync(file, library("natural-tomme").replaceAll("every_days = 10", "every_days = 14"));
      const shown = await said(watch, "import", file, "--wheels", "1", "--only-show");
      assert.match(shown, /^! .+ is Pressed semi-hard, brine-washed now; from then on it would follow .+$/m);
      assert.match(shown, /: the next 30 days$/m);
      assert.match(shown, /^ +before +after$/m);
      assert.match(shown, /^ {2}\w{3} \d+ +\S+/m);
      assert.match(shown, /^Nothing was kept\.$/m);
      assert.ok(shown.split("\n").every((line) => [...line].length <= 200));
      assert.match(await said(watch, "list"), /^natural-tomme +1 /m);
      const none = await plan(watch, ["import", file, "--wheels", "1,99"]);
      assert.match(none.err, /There is no wheel 99 in the book/);
      assert.match(await said(watch, "list"), /^natural-tomme +1 /m);
      const kept = await said(watch, "import", file, "--wheels", "1");
      assert.match(kept, /: the next 30 days$[^]+^Kept as natural-tomme, version 2\.$/m);
    });

    test("a plan that is not there, or not in that version, cannot be copied", async () => {
      const watch = await begun();
      const none = await plan(watch, ["copy", "sealing-wax", "Mine"]);
      assert.equal(none.status, 1);
      assert.equal(none.err.trim(), 'rindwatch: There is no plan "sealing-wax"; "rindwatch plan list" shows those there are.');
      const later = await plan(watch, ["copy", "blue", "Mine", "--version", "7"]);
      assert.match(later.err, /There is no version 7 of blue; the newest is 1\./);
    });

    test("a copy has a name of its own, and is edited in the keeper's editor", async () => {
      const watch = await begun();
      assert.match(await said(watch, "copy", "natural-tomme", "Tomme of the upper barn"), /^Kept as tomme-of-the-upper-barn, version 1\.$/m);
      const shorter = editor("sed -i 's/^family = .*/family = \"Barn tomme\"/' \"$1\"");
      const edited = await plan(watch, ["edit", "tomme-of-the-upper-barn"], { EDITOR: shorter, VISUAL: "" });
      assert.equal(edited.status, 0, edited.err);
      assert.match(edited.out, /^name: Barn tomme, was Tomme of the upper barn$/m);
      assert.match(edited.out, /^Kept as tomme-of-the-upper-barn, version 2\.$/m);
      const untouched = await plan(watch, ["edit", "tomme-of-the-upper-barn"], { EDITOR: "true", VISUAL: "" });
      assert.match(untouched.out, /Nothing changed\./);
    });

    test("what is not sound is refused with its line, and the keeper's text stays", async () => {
      const watch = await begun();
      const spoil = editor("sed -i 's/^first_day = 19$/first_day = 25/' \"$1\"");
      const edited = await plan(watch, ["edit", "natural-tomme"], { EDITOR: spoil, VISUAL: "" });
      assert.equal(edited.status, 1);
      assert.match(edited.err, /line \d+: parts\[1\]\.stages\[1\]\.first_day: expected day 19/);
      const kept = /Your text lies in (\S+);/.exec(edited.err)![1]!;
      assert.ok(existsSync(kept));
      assert.match(await said(watch, "list"), /^natural-tomme +1 /m);
      const none = await plan(watch, ["show", "sealing-wax"]);
      assert.equal(none.status, 1);
      assert.match(none.err, /There is no plan "sealing-wax"/);
      const nowhere = await plan(watch, ["import", path.join(temporaryFolder(), "no.toml")]);
      assert.match(nowhere.err, /no\.toml: the plan cannot be read/);
    });
  });

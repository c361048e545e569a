// Three weeks of careless keepers, in the fridge and on the farm: the rounds of every day are in order, short and true.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { ask } from "../support/http.ts";
import { freePort } from "../support/ports.ts";
import { Running, run } from "../support/running.ts";
import { rindwatch } from "../support/tree.ts";
import { until } from "../support/until.ts";

const kDays = 21;
const kRinds = ["fresh and white", "natural and pressed", "washed", "blue"];
const json = async (port: number, target: string): Promise<any> => (await ask({ port, path: target })).json;

/** The keeper's days that lie behind, oldest first, and today. */
function daysUpTo(day: string): string[] {
  const today = Date.parse(`${day}T12:00:00Z`);
  return Array.from({ length: kDays }, (_, n) => new Date(today - (kDays - 1 - n) * 86_400_000).toISOString().slice(0, 10));
}

for (const scene of ["fridge", "farm"]) {
  test(`three weeks of careless keepers: ${scene}`, { timeout: 400_000 }, async () => {
    const folder = temporaryFolder();
    const port = await freePort();
    const more = scene === "farm" ? ["--farm"] : [];
    const trial = new Running(rindwatch, ["try", "--calm", "--folder", folder, "--port", String(port), "--days", String(kDays), "--careless", ...more]);
    await until("the trial prints its page", () => trial.ending || trial.out.includes("The page:"), 300_000);
    assert.equal(trial.ending, undefined, trial.said);

    const { wheels } = await json(port, "/api/wheels");
    assert.equal(wheels.length, scene === "farm" ? 300 : 5);
    assert.ok(new Set(wheels.map((wheel: any) => wheel.plan.id)).size >= (scene === "farm" ? 9 : 4), "families");
    const today = (await json(port, "/api/round")).day;
    for (const day of daysUpTo(today)) {
      const round = await json(port, `/api/round?date=${day}`);
      assert.equal(round.day, day);
      const ranks = round.sections.filter((s: any) => !s.marked).map((s: any) => kRinds.indexOf(s.rind));
      assert.deepEqual(ranks, [...ranks].sort(), `${day}: white before washed before blue`);
      const asked = round.lines.filter((l: any) => l.state === "due" || l.state === "late");
      const once = asked.flatMap((l: any) => l.wheels.map((w: number) => `${w} ${l.kinds}`));
      assert.equal(new Set(once).size, once.length, `${day}: each wheel stands once`);
      for (const line of asked) assert.ok(line.due <= day, `${day}: ${line.place} is due ${line.due}`);
      const looks = asked.flatMap((l: any) => l.look_first.map((look: string) => `${l.cave} ${l.place} ${l.marked ?? ""} ${l.held} ${look}`));
      assert.equal(new Set(looks).size, looks.length, `${day}: what to look at first is said once a place`);
      const shown = asked.map((l: any) => (l.minutes >= 0.5 ? Math.round(l.minutes) : 0)).reduce((a: number, b: number) => a + b, 0);
      assert.ok(round.minutes >= shown, `${day}: ${round.minutes} minutes in all, ${shown} shown`);
      assert.ok(asked.length === 0 || round.bring.cloths <= 1 + round.sections.filter((s: any) => s.change.includes("cloth")).length, `${day}: a cloth for each change`);
      for (const line of round.lines) assert.equal(line.late_since !== undefined && line.late_since >= day, false);
    }
    const config = path.join(folder, "rindwatch.toml");
    writeFileSync(config, `[database]\npath = "${path.join(folder, "rindwatch.db")}"\n`);
    for (const day of daysUpTo(today)) {
      const { out, status } = await run(rindwatch, ["round", "--config", config, "--date", day]);
      assert.equal(status, 0, out);
      assert.match(out, /^Subject: \S/);
      for (const line of out.split("\n")) assert.ok([...line].length <= 72, `${day}: at most 72 columns: ${line}`);
    }
    assert.equal((await trial.end("SIGINT")).status, 0, trial.said);
  });
}

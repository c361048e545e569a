// `rindwatch replay` beside a trial that lives: the same as the journal, and the same as the month on the page.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { ask } from "../support/http.ts";
import { enterWheel } from "../support/keeping.ts";
import { freePort } from "../support/ports.ts";
import { Running, run } from "../support/running.ts";
import { rindwatch } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { newId, Watch } from "../support/watch.ts";

interface Month { cave: number; cave_name: string; rang: number; watch: number; sentence: string }
interface Tally { rang: number; watch: number; hint: number; real: number; unsaid: number; called: Record<string, number> }

const kDays = 21;

class Lived {
  trial!: Running;
  readonly folder = temporaryFolder();
  readonly file = path.join(temporaryFolder(), "rindwatch.toml");
  port = 0;

  constructor(readonly more: string[]) {
    writeFileSync(this.file, `[database]\npath = "${path.join(this.folder, "rindwatch.db")}"\n[home]\nzone = "Europe/Vienna"\n`);
  }
  async begin(): Promise<void> {
    this.port = await freePort();
    this.trial = new Running(rindwatch, ["try", "--folder", this.folder, "--port", String(this.port), "--days", String(kDays), "--speed", "1", "--zone", "Europe/Vienna", "--mishaps", ...this.more]);
    await until("the trial prints its page", () => this.trial.ending || this.trial.out.includes("The page:"), 200_000);
    assert.equal(this.trial.ending, undefined, this.trial.said);
  }
  async get(target: string): Promise<any> {
    return (await ask({ port: this.port, path: target })).json;
  }
  async act(fields: object): Promise<string> {
    const id = newId(), now = (await this.get("/api/alarms")).head.now;
    const answer = await ask({ port: this.port, method: "POST", path: "/api/acts", headers: { "Content-Type": "application/json", "Sent-At": String(now) }, body: JSON.stringify({ id, tapped_at: now, ...fields }) });
    assert.equal(answer.status, 200, answer.text);
    return id;
  }
  async replay(...more: string[]): Promise<{ status: number | null; out: string; err: string }> {
    return run(rindwatch, ["replay", "--config", this.file, ...more]);
  }
  /** Nothing differs from the journal; how it is tallied. */
  async identical(...more: string[]): Promise<Tally> {
    const told = await this.replay("--json", ...more);
    assert.equal(told.status, 0, told.out.slice(0, 2_000) + told.err);
    const report = JSON.parse(told.out);
    assert.deepEqual(report.differences, []);
    assert.deepEqual(report.rules.others, []);
    assert.deepEqual(report.now.tally, report.then.tally);
    assert.deepEqual(report.now.rates, report.then.rates);
    assert.equal(report.compared.fresh, 0);
    return report.now.tally;
  }
  /** The page's month and a replay of the same thirty days, cave by cave. */
  async monthIsTheSame(): Promise<Month[]> {
    const { month }: { month: Month[] } = await this.get("/api/alarms");
    assert.ok(month.some((one) => one.rang > 0), "something rang");
    for (const { cave, rang, watch, sentence } of month) {
      const tally = await this.identical("--days", "30", "--cave", String(cave));
      assert.deepEqual({ rang: tally.rang, watch: tally.watch }, { rang, watch });
      const words = (await this.replay("--days", "30", "--cave", String(cave))).out.split("\n");
      assert.ok(words[1]!.startsWith(sentence), `${words[1]} / ${sentence}`);
    }
    return month;
  }
}

/** The weeks end today, so the day decides too which mishap rings in them: of these seeds the first with one that did. */
async function livedWhereOneRang(more: string[], seeds: string[]): Promise<Lived> {
  for (const seed of seeds) {
    const lived = new Lived(["--seed", seed, ...more]);
    await lived.begin();
    const { month }: { month: Month[] } = await lived.get("/api/alarms");
    if (month.some((one) => one.rang > 0)) return lived;
    await lived.trial.end("SIGTERM");
  }
  throw new Error(`nothing rang in any of the weeks of seeds ${seeds.join(", ")}`);
}

for (const { name, more, seeds } of [
  { name: "a fridge", more: [], seeds: ["22", "77", "314", "5"] },
  { name: "a careless farm", more: ["--farm", "--careless"], seeds: ["41", "7", "12"] },
]) {
  test(`after weeks of ${name} with mishaps a replay says what the journal and the page's month say, also after acts and a kill`, { timeout: 600_000 }, async () => {
    const lived = await livedWhereOneRang(more, seeds);
    await lived.identical();
    await lived.monthIsTheSame();
    // What it was is said otherwise, and taken back.
    const newest = (await lived.get("/api/alarms")).past.find((one: any) => one.severity !== "hint" && one.severity !== "watch");
    assert.ok(newest, "an alarm that rang is over");
    const before = (await lived.get("/api/alarms")).month;
    const said = await lived.act({ kind: "called", alarm: newest.id, what: "other" });
    const other = await lived.monthIsTheSame();
    assert.match(other.find((one) => one.cave === newest.cave)!.sentence, /something else/);
    await lived.act({ kind: "undo", of: said });
    assert.deepEqual(await lived.monthIsTheSame(), before);
    // The watch is judged by other limits from now on, and killed.
    await lived.act({ kind: "watching", cave: newest.cave, settings: { "door: act after": 40 }, off: ["too dry"], ready_cheese: false });
    await lived.act({ kind: "limits", cave: newest.cave, temperature: { low: 5, high: 7 } });
    await lived.trial.end("SIGKILL");
    await lived.identical();
    await lived.begin();
    await lived.act({ kind: "watching", cave: newest.cave, settings: {}, off: [], ready_cheese: false });
    await lived.monthIsTheSame();
    for (const days of ["3", "10"]) await lived.identical("--days", days);
    await lived.identical("--whole");
    // With wide limits it rings less, and says for what.
    const tried = await lived.replay("--temperature", "2-30", "--off", "too warm", "--off", "plant weak");
    assert.match(tried.out, /With these limits/);
    await lived.trial.end("SIGTERM");
    await lived.identical();
  });
}

test("a replay beside a running watch refuses what nothing goes by and spans that are none, each with what to do", { timeout: 120_000 }, async () => {
  const watch = await Watch.start();
  await enterWheel(watch);
  const replay = (...more: string[]) => run(rindwatch, ["replay", "--config", watch.file, ...more]);
  const unchanged = await replay();
  assert.equal(unchanged.status, 0, unchanged.err);
  assert.match(unchanged.out, /Nothing rang\.\nThe rules come to the same as the journal/);
  assert.match((await replay("--names")).out, /door: act after/);
  const limits = path.join(watch.folder, "try.toml");
  writeFileSync(limits, 'format = 1\n[[cave]]\nsettings = { "door: act aftr" = 30 }\n');
  writeFileSync(path.join(watch.folder, "again.toml"), 'format = 1\n[[cave]]\njudged = ["too damp"]\nof_wheels = ["humidity"]\n');
  for (const more of [["--judged", "too damp"], ["--of-wheels", "humidity", "--of-wheels", "temperature"], ["--ready-cheese", "true"], ["--limits", path.join(watch.folder, "again.toml")]]) {
    const tried = await replay(...more);
    assert.equal(tried.status, 0, tried.err);
    assert.match(tried.out, /With these limits nothing would have rung, and nothing did without them/);
  }
  const refused: [string[], RegExp][] = [
    [["--judged", "too dmp"], /--judged: there is no kind of alarm "too dmp"/],
    [["--of-wheels", "air"], /--of-wheels: there is no band of the wheels called "air"\. Known are "humidity" and "temperature"/],
    [["--of-wheels", "humidity", "--humidity", "80-90"], /What is typed: expected a span of humidity or the wheels' own band of humidity, found both/],
    [["--off", "too damp", "--judged", "too damp"], /What is typed: expected "too damp" to be judged or not, found both/],
    [["--ready-cheese", "perhaps"], /--ready-cheese/],
    [["--cave", "Nowhere"], /--cave: there is no cave "Nowhere"\. (Known are|Only) "/],
    [["--off", "too dmp"], /--off: there is no kind of alarm "too dmp"\. The nearest of 18 that are known: "too damp"/],
    [["--set", "door: act aftr=30"], /--set: there is no limit .* known: "door: act after"/],
    [["--limits", limits], /try\.toml, line 3: there is no limit .* known: "door: act after"/],
    [["--from", "2026-02-30"], /--from: "2026-02-30" is no date/],
    [["--from", "2000-01-02", "--to", "2000-01-01"], /upside down: --from 2000-01-02 lies after --to 2000-01-01/],
    [["--to", "2000-01-01"], /Nothing of the span was kept: --to 2000-01-01 lies before the first reading/],
    [["--from", "2200-01-01"], /Nothing of the span was kept: --from 2200-01-01 lies after the newest reading/],
  ];
  for (const [more, said] of refused) {
    const result = await replay(...more);
    assert.notEqual(result.status, 0, more.join(" "));
    assert.match(result.err, said);
    assert.equal(result.out, "");
  }
});

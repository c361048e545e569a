// `rindwatch try`: a fridge, a broker and the watch as one, on a clock of their own.
import assert from "node:assert/strict";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { ask } from "../support/http.ts";
import { freePort } from "../support/ports.ts";
import { Running, run } from "../support/running.ts";
import { rindwatch } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

const json = async (port: number, target: string): Promise<any> => (await ask({ port, path: target })).json;

/** Every process whose parent is this one. */
const childrenOf = (parent: number): number[] =>
  readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name))
    .filter((name) => {
      try {
        // After the name in brackets: the state, then the parent.
        return Number(readFileSync(`/proc/${name}/stat`, "utf8").replace(/^.*\) /s, "").split(" ")[1]) === parent;
      } catch {
        return false; // It has ended meanwhile.
      }
    })
    .map(Number);

async function begin(folder: string, more: string[] = []): Promise<{ trial: Running; port: number }> {
  const port = await freePort();
  const trial = new Running(rindwatch, ["try", "--calm", "--folder", folder, "--port", String(port), ...more]);
  await until("the trial prints its page", () => trial.ending || trial.out.includes("The page:"), 120_000);
  assert.equal(trial.ending, undefined, trial.said);
  return { trial, port };
}

test("a trial has two weeks behind it, says that it is one, goes wrong on command and ends with everything it started", { timeout: 400_000 }, async () => {
  const folder = temporaryFolder();
  const { trial, port } = await begin(folder);
  assert.match(trial.out, new RegExp(`http://127\\.0\\.0\\.1:${port}/`));
  assert.ok(trial.out.includes(folder), "it names its folder");
  assert.match(trial.out, /60 times as fast/);

  const { head, lines } = await json(port, "/api/round");
  assert.deepEqual([head.trial, head.speed], [true, 60]);
  assert.ok(lines.length > 0, "something is due or was done today");
  const { caves } = await json(port, "/api/caves");
  const watched = caves.filter((cave: any) => cave.temperature.watched && !cave.temperature.borrowed);
  assert.ok(watched.length > 0 && watched.every((cave: any) => cave.ribbon.temperature.length > 50), "the last day is drawn");
  const journal: any[] = (await json(port, "/api/journal")).lines;
  assert.ok(journal.some((line) => line.kind === "care"), "an invented keeper did the rounds");

  const broker = /127\.0\.0\.1:(\d+)$/m.exec(trial.out.split("The broker:")[1] ?? "")?.[1];
  assert.ok(broker, trial.out);
  // A mishap that is none is refused where whoever typed it looks, with those that are known.
  await until("the fridge refuses what it does not know", async () => {
    assert.equal((await run("mosquitto_pub", ["-p", broker, "-q", "1", "-t", "simulate/command", "-m", "power cut 150min"])).status, 0);
    return /"power cut 150min": "150min" is no span; write for example 30m/.test(trial.said);
  });
  const alarms = (await json(port, "/api/caves")).head.alarms.length;
  // Told now and again: the fridge hears commands a moment after the page is there.
  let turn = 0;
  await until("the open door rings", async () => {
    if (turn++ % 400 === 0) {
      const said = await run("mosquitto_pub", ["-p", broker, "-q", "1", "-t", "simulate/command", "-m", "door ajar 6h"]);
      assert.equal(said.status, 0, said.err);
    }
    return (await json(port, "/api/caves")).head.alarms.length > alarms;
  }, 180_000);

  const children = childrenOf(trial.pid);
  assert.ok(children.length > 0, "its broker runs");
  assert.deepEqual(await trial.end("SIGINT"), { status: 0, signal: null });
  for (const child of children) assert.ok(!existsSync(`/proc/${child}`), `process ${child} goes on after the end`);

  // The same folder again goes on where it stopped.
  const again = await begin(folder);
  const kinds = (await json(again.port, "/api/journal")).lines.map((line: any) => line.kind);
  assert.ok(kinds.includes("stopped"));
  assert.deepEqual(await again.trial.end("SIGTERM"), { status: 0, signal: null });
});

test("a machine that has no time for a fast trial slows its clock: no probe falls silent, no power fails", { timeout: 200_000 }, async () => {
  // The two days before end here: what is later the trial's clock has made, from its start on.
  const began = Math.floor(Date.now() / 1000) * 1000;
  const { trial, port } = await begin(temporaryFolder(), ["--days", "2", "--speed", "600"]);
  const shown = async (): Promise<number> => (await json(port, "/api/caves")).head.now;
  await until("the fridge is heard", async () => (await json(port, "/api/caves")).caves.some((cave: any) => cave.temperature.latest_at > 0), 30_000);
  // By a clock that did not wait each of these would be forty minutes of silence; and each is longer than anybody is
  // waited for, which a program that is not let run does not count.
  for (let turn = 0; turn < 4; ++turn) {
    process.kill(trial.pid, "SIGSTOP");
    await new Promise((done) => setTimeout(done, 4000));
    process.kill(trial.pid, "SIGCONT");
    const before = await shown();
    await until("the clock goes on", async () => (await shown()) > before + 120_000, 30_000);
  }
  const { lines } = await json(port, "/api/journal");
  const rang = lines.filter((line: any) => line.kind === "alarm" && line.at >= began);
  assert.deepEqual(rang.map((line: any) => `${line.alarm.kind} ${line.alarm.change}`), []);
  assert.deepEqual(await trial.end("SIGINT"), { status: 0, signal: null });
});

test("with mishaps the days before had theirs, and the notices that they made are there to be read", { timeout: 200_000 }, async () => {
  const port = await freePort();
  const trial = new Running(rindwatch, ["try", "--mishaps", "--days", "20", "--seed", "7", "--folder", temporaryFolder(), "--port", String(port)]);
  await until("the trial prints its page", () => trial.ending || trial.out.includes("The page:"), 120_000);
  assert.equal(trial.ending, undefined, trial.said);
  const { past, head } = await json(port, "/api/alarms");
  assert.ok(past.length + head.alarms.length >= 3, JSON.stringify(past));
  const { log } = await json(port, "/api/notices");
  assert.ok(log.some((row: any) => row.kind === "rings"), "what rang was told");
  assert.deepEqual(await trial.end("SIGINT"), { status: 0, signal: null });
  const both = await run(rindwatch, ["try", "--mishaps", "--calm"]);
  assert.notEqual(both.status, 0, "calm and mishaps contradict each other");
});

test("a trial killed outright leaves no broker behind", async () => {
  const { trial } = await begin(temporaryFolder(), ["--days", "1"]);
  const children = childrenOf(trial.pid);
  assert.ok(children.length > 0);
  await trial.end("SIGKILL");
  for (const child of children) await until(`process ${child} is gone`, () => !existsSync(`/proc/${child}`));
});

test("a trial refuses the database of a watch, and a watch that of a trial", async () => {
  const watch = await Watch.start();
  await watch.end();
  const wrong = await run(rindwatch, ["try", "--folder", watch.folder], { milliseconds: 30_000 });
  assert.equal(wrong.status, 1, wrong.out);
  assert.match(wrong.err, /rindwatch\.db/);

  const folder = temporaryFolder();
  const { trial } = await begin(folder, ["--days", "1"]);
  await trial.end();
  const real = await Watch.prepared({ settings: { database: [`path = "${path.join(folder, "rindwatch.db")}"`] } });
  real.launch();
  const ending = await until("it ends", () => real.running.ending);
  assert.equal(ending.status, 1);
  assert.match(real.running.err, /trial|try/);
});

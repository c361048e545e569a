// "Door perhaps ajar?" on the running program: a keeper ticks a wheel in the trial's fridge and leaves the door open behind it.
import assert from "node:assert/strict";
import { test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { ask } from "../support/http.ts";
import { freePort } from "../support/ports.ts";
import { Running, run } from "../support/running.ts";
import { rindwatch } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { newId } from "../support/watch.ts";

const kMinute = 60_000;

/** A zone in which it is eleven in the morning: no quiet hour, and long after the invented keeper's round. */
const elevenOClock = (): string => {
  const west = new Date().getUTCHours() - 11;
  return `Etc/GMT${west < 0 ? "" : "+"}${west}`;
};

test("a door left open behind a round is asked after, quietly, 25 minutes after the tick; shut it is over by itself and a door on the ribbon", { timeout: 400_000 }, async () => {
  const port = await freePort();
  const trial = new Running(rindwatch, ["try", "--calm", "--folder", temporaryFolder(), "--port", String(port), "--days", "6", "--speed", "120", "--zone", elevenOClock()]);
  await until("the trial prints its page", () => trial.ending || trial.out.includes("Ctrl-C"), 150_000);
  assert.equal(trial.ending, undefined, trial.said);
  const json = async (target: string): Promise<any> => (await ask({ port, path: target })).json;
  const broker = /127\.0\.0\.1:(\d+)$/m.exec(trial.out.split("The broker:")[1] ?? "")![1]!;
  const command = async (line: string) => assert.equal((await run("mosquitto_pub", ["-p", broker, "-q", "1", "-t", "simulate/command", "-m", line])).status, 0);
  const fridge = (await json("/api/caves")).caves.find((c: any) => c.kind === "fridge");
  const warmth = async () => (await json(`/api/caves/${fridge.id}`)).cave.temperature.latest;
  const alarms = async (): Promise<any[]> => (await json("/api/round")).head.alarms.filter((a: any) => a.cave === fridge.id);

  const inside = (await json("/api/caves")).caves.filter((c: any) => c.inside === fridge.id).map((c: any) => c.id);
  const wheel = (await json("/api/round")).lines.find((l: any) => inside.includes(l.cave)).wheels[0];
  const before = await warmth();
  // Told again until it is heard: the fridge hears commands a moment after the page is there.
  await until("the open door warms the air", async () => { await command("door ajar"); return (await warmth()) > before + 1.5; }, 60_000);
  const at = Date.now();
  const tick = await ask({ port, method: "POST", path: "/api/acts", headers: { "Content-Type": "application/json", "Sent-At": String(at) }, body: JSON.stringify({ id: newId(), kind: "care", tapped_at: at, wheels: [wheel], done: ["turn"], skipped: [] }) });
  assert.equal(tick.status, 200, tick.text);
  const ticked = (tick.json as any).at;

  const asked = await until("it asks", async () => (await alarms()).find((a) => a.kind === "door open" && a.over === undefined), 120_000);
  assert.deepEqual([asked.severity, asked.why, asked.first.length], ["watch", "after round", 3]);
  assert.ok(asked.raised >= ticked + 25 * kMinute && asked.raised <= ticked + 27 * kMinute, `${(asked.raised - ticked) / kMinute} minutes after the tick`);
  assert.ok(asked.value > before + 1.5, `still ${asked.value}`);
  const { head } = await json("/api/round");
  assert.match(head.sentence, /^Fridge: door perhaps ajar\?/);
  // Nothing that the keeper could not say better: of one event there is one alarm, and none that wakes.
  assert.deepEqual((await alarms()).filter((a) => a.over === undefined).map((a) => a.kind), ["door open"]);

  await command("door shut");
  const over = await until("it is over by itself", async () => (await alarms()).find((a) => a.id === asked.id && a.over !== undefined), 120_000);
  assert.match((await json("/api/round")).head.sentence, /Fridge door perhaps ajar from/);
  assert.ok(over.over - asked.raised < 60 * kMinute);
  const mark = await until("the ribbon names it", async () => (await json(`/api/caves/${fridge.id}`)).cave.ribbon.marks.find((m: any) => m.until !== undefined && m.at > ticked - 20 * kMinute && m.at <= ticked + 10 * kMinute && m.kind !== "plant cycle"), 120_000);
  assert.equal(mark.kind, "door");
  assert.deepEqual((await alarms()).map((a) => a.kind), ["door open"], "nothing else was told of it, also while the air came back");
  // The letter about it, as it would have gone out, says the same.
  const letter = await until("it was written to the keeper", async () => (await json("/api/notices")).log.find((n: any) => /door perhaps ajar\?/.test(n.subject)), 60_000);
  assert.match(letter.subject, /Fridge: door perhaps ajar\? Still 1\d\.\d and not falling\./);
  const lines = (await json("/api/journal")).lines.filter((l: any) => l.alarm?.id === asked.id).map((l: any) => [l.alarm.change, l.alarm.why]);
  assert.deepEqual(lines, [["raised", "after round"], ["over", "after round"]]);
  assert.equal((await trial.end("SIGINT")).status, 0);
});

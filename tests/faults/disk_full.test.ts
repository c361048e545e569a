// A full disk: the watch refuses what it cannot keep, says so, goes on, and resumes by itself.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { rmSync, statfsSync, writeFileSync } from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { Broker } from "../support/broker.ts";
import { atExit, temporaryFolder } from "../support/cleanup.ts";
import { enterWheel, hangProbe } from "../support/keeping.ts";
import { stored } from "../support/stored.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

/** A disk of 24 MB, or the reason why there is none. */
function smallDisk(): string | undefined {
  const folder = temporaryFolder();
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=24m", "tmpfs", folder], { stdio: "ignore" });
  } catch {
    return undefined;
  }
  atExit(() => execFileSync("umount", ["-l", folder]));
  return folder;
}

test("a full disk is said, loses nothing and is recovered from", { timeout: 300_000 }, async (t) => {
  const disk = smallDisk();
  if (!disk) return t.skip("a small disk can only be mounted by root");
  const broker = await Broker.start();
  const watch = await Watch.start({ brokerPort: broker.port, folder: disk, settings: { database: ["sync_seconds = 1"] } });
  const { cave, wheels } = await enterWheel(watch);
  await hangProbe(watch, cave, "probe/own", { time_pointer: "/at", channels: [{ kind: "temperature", pointer: "/t" }] });
  const began = Date.now() - 10_000_000;
  let sent = 0;
  const publish = async (count: number) => {
    const numbers = Array.from({ length: count }, () => sent++);
    await broker.publishEach("probe/own", numbers.map((n) => JSON.stringify({ at: began + n * 10, t: (n % 20_000) / 1000 })));
  };
  await publish(100);

  const filler = path.join(disk, "filler");
  const { bavail, bsize } = statfsSync(disk);
  writeFileSync(filler, Buffer.alloc(Math.max(0, bavail * bsize - 64 * 1024)));
  const told = await until("the page says that the disk is full", async () => {
    await publish(2000);
    const { head } = await watch.get("/api/caves");
    return head.troubles.find((one: { kind: string }) => one.kind === "store");
  }, 60_000);
  assert.match(told.text, /disk is full|full/i);
  assert.match(told.text, /\.$/);

  const refused = await watch.act({ kind: "care", wheels, done: ["turn"], skipped: [] });
  if (refused.status !== 200) {
    assert.equal(refused.status, 503, refused.text);
    assert.match((refused.json as { error: { what: string } }).error.what, /\.$/);
  }
  assert.equal((await watch.ask({ path: "/api/round" })).status, 200, "the page goes on");

  rmSync(filler);
  let kept = 0;
  let grew = Date.now();
  await until("everything published is kept", async () => {
    const [row] = await stored<{ n: number }>(watch.database, "SELECT count(*) AS n FROM reading");
    if (row!.n === sent) return true;
    if (row!.n !== kept) grew = Date.now();
    kept = row!.n;
    // A probe goes on speaking; what waits with the broker comes with its next word at the latest.
    if (Date.now() - grew > 5_000) {
      await publish(1);
      grew = Date.now();
    }
    throw new Error(`${kept} of ${sent} kept; the watch says: ${watch.running.said.slice(-2000)}`);
  }, 240_000);
  await until("the trouble is over", async () => {
    const { head } = await watch.get("/api/caves");
    return head.troubles.every((one: { kind: string }) => one.kind !== "store");
  }, 60_000);
  await watch.did({ kind: "care", wheels, done: ["turn"], skipped: [] });
  assert.deepEqual(await watch.end(), { status: 0, signal: null });
});

// Another program that holds the database: what cannot be written is refused, and whoever watches the watch is told.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Manager } from "../support/notify.ts";
import { Running } from "../support/running.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

/** Holds the write lock until it is ended. */
async function locked(database: string): Promise<Running> {
  const holder = new Running("sqlite3", ["-batch", database]);
  holder.child.stdin!.write(".timeout 20000\nBEGIN EXCLUSIVE;\nSELECT 'held';\n");
  await until("another program holds the database", () => holder.out.includes("held"));
  return holder;
}

test("a watch that can write nothing is not fed for, and is again once it can", { timeout: 120_000 }, async () => {
  const manager = await Manager.start();
  const watch = await Watch.start({ env: { NOTIFY_SOCKET: manager.socket, WATCHDOG_USEC: "600000" } });
  const fed = () => manager.count("WATCHDOG=1");
  const note = () => watch.act({ kind: "note", text: "Turned all." });
  await until("it is fed for", () => fed() >= 2);

  const holder = await locked(watch.database);
  // Each is refused after five seconds of waiting: by then it would have been fed for, had the store only answered.
  assert.equal((await note()).status, 503);
  const before = fed();
  for (let nth = 0; nth < 2; ++nth) assert.equal((await note()).status, 503);
  assert.equal(fed(), before);
  assert.equal((await watch.ask({ path: "/health" })).status, 503);

  await holder.end();
  await until("it is fed for again", () => fed() >= before + 2);
  assert.equal((await note()).status, 200);
  assert.equal((await watch.ask({ path: "/health" })).status, 200);
  await watch.end();
});

// How the program starts, stands beside others, and stops.
import assert from "node:assert/strict";
import { createServer } from "node:net";
import { describe, test } from "node:test";
import { Broker } from "../support/broker.ts";
import { ask } from "../support/http.ts";
import { enterWheel, hangProbe, showsReading } from "../support/keeping.ts";
import { Manager } from "../support/notify.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

/** The one line in which a program that gave up says why. */
const lastWords = (watch: Watch) => watch.running.err.trim().split("\n").at(-1) ?? "";

describe("starting", () => {
  test("a second daemon on the same database is refused in one sentence, and the first goes on", async () => {
    const first = await Watch.start();
    const second = await Watch.prepared({ settings: { database: [`path = "${first.database}"`] } });
    second.launch();
    const ending = await until("the second one ends", () => second.running.ending);
    assert.equal(ending.status, 1);
    assert.match(lastWords(second), /rindwatch\.db/);
    assert.match(lastWords(second), /another|already|holds/);
    assert.equal((await first.ask({ path: "/health" })).status, 200);
    assert.deepEqual(await first.end(), { status: 0, signal: null });
  });

  test("a port in use is named with what to do", async () => {
    const watch = await Watch.prepared();
    const squatter = createServer().listen(watch.port, "127.0.0.1");
    await until("the port is taken", () => squatter.listening);
    watch.launch();
    const ending = await until("it ends", () => watch.running.ending);
    assert.equal(ending.status, 1);
    assert.match(lastWords(watch), new RegExp(`${watch.port}`));
    assert.match(lastWords(watch), /in use|taken|another program/);
    squatter.close();
  });

  test("a broker that is absent is waited for, and said", async () => {
    const broker = await Broker.stopped();
    const watch = await Watch.start({ brokerPort: broker.port });
    const { cave } = await enterWheel(watch);
    await hangProbe(watch, cave, "cellar/box1");
    const trouble = await until("the page says that the broker is away", async () => {
      const { head } = await watch.get("/api/caves");
      return head.troubles.find((one: { kind: string }) => one.kind === "broker");
    });
    assert.match(trouble.text, new RegExp(`${broker.port}`));
    await broker.up();
    await showsReading(watch, broker, "cellar/box1", 12.5);
    const { head } = await watch.get("/api/caves");
    assert.deepEqual(head.troubles.filter((one: { kind: string }) => one.kind === "broker"), []);
    await watch.end();
  });

  test("a broker that goes away and comes back is subscribed to again", async () => {
    const broker = await Broker.start();
    const watch = await Watch.start({ brokerPort: broker.port });
    const { cave } = await enterWheel(watch);
    await hangProbe(watch, cave, "cellar/box1");
    // Without persistence the broker has forgotten every session when it comes back.
    await broker.down("SIGKILL");
    await broker.up();
    await showsReading(watch, broker, "cellar/box1", 12.25);
    await watch.end();
  });

  test("listening to the network is said at the start and on every place", async () => {
    const watch = await Watch.start({ settings: { listen: ['address = "0.0.0.0"'] } });
    assert.match(watch.running.said, /anyone on this network can (read and )?write/i);
    assert.equal((await watch.get("/api/round")).head.open, true);
    await watch.end();
    const local = await Watch.start();
    assert.equal((await local.get("/api/round")).head.open, false);
    await local.end();
  });
});

describe("stopping", () => {
  for (const signal of ["SIGTERM", "SIGINT"] as const)
    test(`${signal} ends it in steps with status 0, with a page open`, async () => {
      const watch = await Watch.start();
      // An event stream that nobody closes must not hold the end up.
      const stream = ask({ port: watch.port, path: "/api/events" }).catch(() => undefined);
      // This very question is one of the two connections.
      await until("the stream is open", async () => /^rindwatch_http_clients 2$/m.test((await watch.ask({ path: "/metrics" })).text));
      assert.deepEqual(await watch.end(signal), { status: 0, signal: null });
      await stream;
      await watch.up();
      const kinds = async () => (await watch.get("/api/journal")).lines.map((line: { kind: string }) => line.kind);
      // The page is served while the line of the start is on its way to the disk.
      await until("the second start is written", async () => (await kinds()).length > 2);
      assert.deepEqual(await kinds(), ["started", "stopped", "started"]);
      await watch.end();
    });
});

describe("under a service manager", () => {
  test("it says READY, feeds the watchdog and says STOPPING", async () => {
    const manager = await Manager.start();
    const watch = await Watch.start({ env: { NOTIFY_SOCKET: manager.socket, WATCHDOG_USEC: "400000" } });
    await until("READY", () => manager.has("READY=1"));
    await until("the watchdog is fed again and again", () => manager.count("WATCHDOG=1") >= 3);
    await watch.end();
    await until("STOPPING", () => manager.has("STOPPING=1"));
    assert.equal(manager.count("READY=1"), 1);
  });
});

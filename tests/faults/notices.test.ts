// Mail servers, webhooks, brokers and clocks at their worst, and the watch killed in between: nothing is lost, nothing
// is said twice, and the page answers all the while. The wall clock is moved by hand.
import assert from "node:assert/strict";
import { describe, test, type TestContext } from "node:test";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { Broker } from "../support/broker.ts";
import { alarms, clockKnown, hangGas, nudge, ring } from "../support/gas.ts";
import { Hook } from "../support/hook.ts";
import { enterWheel } from "../support/keeping.ts";
import { Mailbox, type Got } from "../support/mailbox.ts";
import { Time, missing } from "../support/time.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

const of = (kind: string) => (got: Got) => got.mail.headers.get("x-rindwatch") === kind;
const keeper = (name: string, rank: number, more: Record<string, unknown> = {}) => ({
  kind: "hearing", name, rank, mail: [`${name.toLowerCase()}@cave.example`], list: "never", quiet: null, ...more,
});
const log = async (watch: Watch): Promise<any[]> => (await watch.get("/api/notices")).log;

/** Such a machine's clock is believed at once: for what is not sure of itself another machine is needed. */
const setByNetwork = existsSync("/run/systemd/timesync/synchronized") && "this machine's clock is set by the network";

interface Scene { time: Time; broker: Broker; box: Mailbox; watch: Watch }

async function scene(t: TestContext, box: Mailbox, more: Record<string, string[]> = {}): Promise<Scene> {
  const time = new Time();
  const broker = await Broker.start({ persistent: true });
  const watch = await Watch.start({ brokerPort: broker.port, env: time.env, settings: { mail: box.settings, ...more } });
  t.after(() => watch.end("SIGKILL"));
  return { time, broker, box, watch };
}

/** With gas that is measured, and one keeper who hears by mail and by a webhook. */
async function sceneWithPhone(t: TestContext, box: Mailbox, hook: Hook): Promise<Scene> {
  const time = new Time();
  const broker = await Broker.start();
  const watch = await Watch.prepared({ brokerPort: broker.port, env: time.env, settings: { mail: box.settings } });
  t.after(() => watch.end("SIGKILL"));
  writeFileSync(watch.file, `${readFileSync(watch.file, "utf8")}\n[[webhook]]\nname = "phone"\nurl = "${hook.url}"\n`);
  await watch.up();
  await hangGas(watch);
  await watch.did(keeper("IH", 1, { webhooks: ["phone"] }));
  return { time, broker, box, watch };
}

/** So many minutes, in steps, the gas still there. */
async function pass({ time, watch, broker }: Scene, minutes: number, step = 5, ppm = 20_000): Promise<void> {
  for (let gone = 0; gone < minutes; gone += step) {
    time.go(step * 60);
    await broker.publish("gas/1", `{"co2":${ppm}}`);
    await nudge(watch);
  }
}

async function soon({ time, watch }: Scene): Promise<void> {
  time.go(31);
  await nudge(watch);
}

/** Until so many of these have come; that a clock went on is a letter of its own, half a minute before a list or after. */
async function comes(s: Scene, count: number, which: (got: Got) => boolean): Promise<void> {
  await until(`${count} of them have come`, async () => {
    await soon(s);
    return s.box.got.filter(which).length >= count;
  }, 60_000);
}

describe("notices", { skip: missing }, () => {
  test("a mail server that is down for two hours: what gathered goes as one, and says that it is late", { timeout: 300_000 }, async (t) => {
    const box = await Mailbox.stopped();
    const s = await scene(t, box);
    await hangGas(s.watch);
    await s.watch.did(keeper("IH", 1));
    await ring(s.watch, s.broker, s.time);
    await pass(s, 120);
    const waiting = await log(s.watch);
    assert.ok(waiting.length > 3 && waiting.every((row) => row.state === "waiting"), JSON.stringify(waiting));
    assert.match(waiting.at(-1).why, /nobody answers at this port/);
    await box.up();
    await until("it arrives", async () => {
      await pass(s, 5);
      return box.got.length > 0;
    }, 60_000);
    assert.match(box.got[0]!.mail.text!, /could not be sent when it happened/);
    await until("all of it is told", async () => {
      await soon(s);
      return (await log(s.watch)).filter((row) => row.state === "waiting").length <= 1;
    }, 60_000);
    assert.equal((await log(s.watch)).filter((row) => row.state === "given up" || row.state === "doubtful").length, 0);
    assert.ok(box.got.length <= 3, `few mails, not one for each: ${box.got.length}`);
    await s.watch.end();
  });

  test("one that refuses is asked again, for now or for good, and told once it takes what is sent", { timeout: 300_000 }, async (t) => {
    const s = await scene(t, await Mailbox.start());
    await hangGas(s.watch);
    s.box.manners.refuses = 450;
    await s.watch.did(keeper("IH", 1));
    await ring(s.watch, s.broker, s.time);
    await until("it was refused", async () => {
      await soon(s);
      return (await log(s.watch)).some((row) => row.tries > 0 && /450/.test(row.why));
    });
    s.box.manners = { refusesData: 451 };
    await until("it was refused after the text", async () => {
      await pass(s, 5);
      return (await log(s.watch)).some((row) => /451/.test(row.why ?? ""));
    }, 60_000);
    assert.equal((await log(s.watch)).filter((row) => row.state === "doubtful").length, 0);
    s.box.manners = { refuses: 550 };
    await until("it knows no such box", async () => {
      await pass(s, 5);
      return (await log(s.watch)).some((row) => row.state === "refused" && /knows no ih@cave\.example: 550/.test(row.why));
    }, 60_000);
    assert.equal(s.box.got.length, 0);
    s.box.manners = {};
    await pass(s, 31);
    const mails = await s.box.has(1);
    assert.match(mails[0]!.mail.subject!, /carbon dioxide/);
    await s.watch.end();
  });

  test("a slow one keeps neither the page nor another way waiting", { timeout: 300_000 }, async (t) => {
    const hook = await Hook.start();
    const box = await Mailbox.start();
    box.manners.slow = 8_000;
    const { time, broker, watch } = await sceneWithPhone(t, box, hook);
    await ring(watch, broker, time);
    time.go(5);
    await nudge(watch);
    await until("the webhook is called", () => hook.calls.length > 0);
    await until("the server was connected to", () => box.connections > 0);
    assert.equal(box.got.length, 0);
    const asked = Date.now();
    await watch.get("/api/round");
    assert.ok(Date.now() - asked < 5_000);
    await box.has(1);
    await watch.end();
  });

  test("a last word that never comes, and a kill: whether it arrived cannot be known, and it is not sent again", { timeout: 300_000 }, async (t) => {
    const s = await scene(t, await Mailbox.start());
    await hangGas(s.watch);
    await s.watch.did(keeper("IH", 1));
    s.box.manners.silentAtEnd = true;
    await ring(s.watch, s.broker, s.time);
    await soon(s);
    await s.box.has(1);
    const [first] = (await log(s.watch)).slice(-1);
    assert.equal(first.state, "handing");
    await s.watch.end("SIGKILL");
    s.box.manners = {};
    await s.watch.up();
    await until("it is known to be doubtful", async () => (await log(s.watch)).at(-1).state === "doubtful");
    await pass(s, 5);
    const same = s.box.got.filter((got) => got.mail.messageId === s.box.got[0]!.mail.messageId);
    assert.equal(same.length, 1);
    await s.watch.end();
  });

  test("killed in the middle of an escalation: the next keeper is called in time, nobody twice", { timeout: 300_000 }, async (t) => {
    const s = await scene(t, await Mailbox.start());
    await hangGas(s.watch);
    await s.watch.did(keeper("IH", 1));
    await s.watch.did(keeper("TR", 2));
    // Not yet urgent, which would call both at once.
    await ring(s.watch, s.broker, s.time, ["gas/1"], 6_000);
    await soon(s);
    await s.box.has(1, of("alarm"));
    await s.watch.end("SIGKILL");
    s.time.go(8 * 60);
    await s.watch.up();
    await s.watch.connected();
    await pass(s, 10, 5, 6_000);
    await soon(s);
    await s.box.has(1, (got) => got.to[0] === "tr@cave.example");
    const subjects = s.box.got.map((got) => `${got.to[0]} ${got.mail.messageId}`);
    assert.equal(new Set(subjects).size, subjects.length);
    assert.equal((await log(s.watch)).filter((row) => row.hearer === "IH" && row.kind === "rings" && /carbon/.test(row.alarm)).length, 1);
    await s.watch.end();
  });

  test("a webhook that hangs is asked again with the same name on it, and mail does not wait for it", { timeout: 300_000 }, async (t) => {
    const hook = await Hook.start();
    hook.status = 0;
    const box = await Mailbox.start();
    const { time, broker, watch } = await sceneWithPhone(t, box, hook);
    const [alarm] = await ring(watch, broker, time);
    await watch.did({ kind: "take", alarm: alarm!.id });
    time.go(5);
    await nudge(watch);
    await box.has(1);
    await until("the webhook hangs", () => hook.calls.length === 1);
    await until("it is given up on for now", async () => (await log(watch)).some((row) => row.way === "webhook" && row.tries === 1 && /no answer in time/.test(row.why)), 60_000);
    const calledAgain = (times: number) => until(`it is called ${times} times`, async () => {
      time.go(60);
      await nudge(watch);
      return hook.calls.length >= times;
    }, 60_000);
    hook.status = 500;
    await calledAgain(2);
    await until("what it answered is told by its status", async () => (await log(watch)).some((row) => row.way === "webhook" && /HTTP\/1\.1 500/.test(row.why)), 60_000);
    hook.status = 200;
    await calledAgain(3);
    for (const again of [1, 2]) assert.equal(hook.calls[again]!.headers["rindwatch-notice"], hook.calls[0]!.headers["rindwatch-notice"]);
    hook.letGo();
    await watch.end();
  });

  test("a broker that is gone for an hour: what it holds is right again when it is back", { timeout: 300_000 }, async (t) => {
    const s = await scene(t, await Mailbox.start());
    await hangGas(s.watch);
    await s.watch.did(keeper("IH", 1));
    const [alarm] = await ring(s.watch, s.broker, s.time);
    await until("the bell rings", async () => (await s.broker.receive("rindwatch/bell")).payload === "1");
    await s.broker.down();
    const away = async () => {
      const troubles: { kind: string; since: number }[] = (await s.watch.get("/api/caves")).head.troubles;
      return troubles.find((trouble) => trouble.kind === "broker")?.since;
    };
    const since = await until("it misses the broker", away);
    await s.watch.did({ kind: "take", alarm: alarm!.id });
    for (let i = 0; i < 12; ++i) {
      s.time.go(300);
      await nudge(s.watch);
    }
    assert.equal(await away(), since, "it is away since the same moment");
    await s.broker.up();
    // Of the gas nothing was known for an hour, and that rang too: until somebody takes it.
    for (const one of await alarms(s.watch)) if (one.taken === undefined) await s.watch.did({ kind: "take", alarm: one.id });
    await until("the bell is still", async () => (await s.broker.receive("rindwatch/bell")).payload === "0", 120_000);
    assert.equal((await s.broker.receive("rindwatch/alive")).payload, "1");
    await s.watch.end();
  });

  test("a clock that steps a day forward and back: each day's list once, in its own morning", { timeout: 300_000, skip: setByNetwork }, async (t) => {
    const hook = await Hook.start();
    const s = await scene(t, await Mailbox.start(), { ping: [`url = "${hook.url}"`, "minutes = 5"] });
    await enterWheel(s.watch);
    await s.watch.did(keeper("IH", 1, { list: "daily", morning: "06:30", evening: null }));
    const clock = new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Vienna", hour: "2-digit", minute: "2-digit" }).format(new Date(s.time.now()));
    const [hours = 0, minutes = 0] = clock.split(":").map(Number);
    // Nine in the morning, with half past six before it: who begins to hear after the list's hour gets tomorrow's first.
    const now = hours * 60 + minutes, nine = 9 * 60;
    s.time.go((nine - now + (now >= 6 * 60 + 30 ? 1440 : 0)) * 60);
    await nudge(s.watch);
    await comes(s, 1, of("round"));
    s.time.go(86_400);
    await nudge(s.watch);
    await comes(s, 2, of("round"));
    await comes(s, 2, (got) => /its clock was set forward/.test(got.mail.subject ?? ""));
    s.time.go(-86_400);
    await until("it sees that the clock went back", async () => (await clockKnown(s.watch)) === false);
    assert.equal(s.box.got.filter(of("round")).length, 2, "today's was sent");
    const head = ((await s.watch.ask({ path: "/api/caves" })).json as { head: { troubles: { kind: string; text: string; more?: string }[] } }).head;
    const trouble = head.troubles.find(({ kind }) => kind === "clock");
    assert.match(trouble?.text ?? "", /clock shows .*has shown tomorrow .*nothing is judged, .*Look at the caves yourself/);
    assert.match(trouble?.more ?? "", /goes on by it within minutes/);
    // No hour that has not come but that one.
    assert.doesNotMatch(JSON.stringify({ ...head, troubles: [] }), /tomorrow/);
    const pings = hook.calls.length;
    assert.ok(pings > 0, "it was well before");
    // A start pings at once, and so would one that looked at nothing but the store.
    await s.watch.end();
    await s.watch.up();
    s.time.go(1_800);
    await until("it still sees it", async () => (await clockKnown(s.watch)) === false);
    assert.equal(hook.calls.length, pings, "what judges nothing is not well");
    s.time.go(86_400 - 1_800);
    await until("it sees that the clock is right", async () => (await clockKnown(s.watch)) === true);
    await nudge(s.watch);
    await comes(s, 3, of("round"));
    s.time.go(3_600);
    await nudge(s.watch);
    await soon(s);
    assert.equal(s.box.got.filter(of("round")).length, 3);
    await until("it is well again", () => hook.calls.length > pings);
    await s.watch.end();
  });

  test("a clock that was a day ahead: minutes after it was set back the watch goes on by it", { timeout: 300_000 }, async (t) => {
    const s = await scene(t, await Mailbox.start());
    await hangGas(s.watch);
    await s.watch.did(keeper("IH", 1));
    await s.watch.connected();
    const begun = s.time.now();
    await pass(s, 6, 1, 700);
    s.time.go(86_400);
    await ring(s.watch, s.broker, s.time);
    await soon(s);
    await s.box.has(1);
    await s.watch.did({ kind: "note", text: "By the wrong clock." });
    s.time.go(-86_400);
    await until("it sees that the clock went back", async () => (await clockKnown(s.watch)) === false);
    const doubted = (await s.watch.get("/api/caves")).head;
    assert.match(doubted.sentence, /carbon dioxide/, "gas is told all the same");
    assert.doesNotMatch(doubted.sentence, /tomorrow/);
    s.time.go(240);
    await until("it looked again", async () => (await s.watch.get("/api/caves")).head.now >= s.time.now() - 6_000);
    assert.equal(await clockKnown(s.watch), false, "whoever sets a clock may err once more");
    s.time.go(62);
    // It begins anew: for a moment nobody answers.
    await until("it goes on by the clock", async () => (await clockKnown(s.watch).catch(() => false)) === true);
    await s.watch.connected();
    const { head } = await s.watch.get("/api/caves");
    assert.deepEqual(head.troubles.filter((trouble: { kind: string }) => trouble.kind === "clock"), []);
    assert.ok(head.alarms.every((alarm: { since: number }) => alarm.since <= s.time.now()), JSON.stringify(head.alarms));
    const { lines } = await s.watch.get("/api/journal");
    const ahead = lines.find((line: { ahead_until?: number }) => line.ahead_until !== undefined);
    assert.ok(ahead && ahead.kind === "started" && ahead.ahead_until > s.time.now() + 80_000_000, JSON.stringify(ahead));
    assert.equal(ahead.misdated?.length, 1, "the note");
    assert.deepEqual(lines.filter((line: { kind: string; at: number }) => line.kind === "alarm" && line.at > s.time.now()), []);

    const told = s.box.got.length;
    await ring(s.watch, s.broker, s.time);
    await until("its mail comes", async () => {
      await soon(s);
      return s.box.got.slice(told).some((got) => /carbon dioxide/.test(got.mail.subject ?? ""));
    }, 60_000);
    // What was kept while it was wrong is neither drawn, when its time comes, nor does a start see it.
    await s.watch.end();
    await s.watch.up();
    assert.equal(await clockKnown(s.watch), true);
    s.time.go(87_000);
    await until("it is the day after", async () => (await s.watch.get("/api/caves")).head.now > begun + 86_400_000);
    assert.deepEqual((await s.watch.get("/api/journal")).lines.filter((line: { ahead_until?: number }) => line.ahead_until !== undefined).length, 1);
    await s.watch.end();
  });

  test("a hundred alarms at once are a few mails that name them all", { timeout: 600_000 }, async (t) => {
    const s = await scene(t, await Mailbox.start());
    const topics = Array.from({ length: 100 }, (_, n) => `gas/${n + 1}`);
    for (const [n, topic] of topics.entries()) await hangGas(s.watch, topic, { new: { kind: "room", name: `Room ${n + 1}` } });
    await s.watch.did(keeper("IH", 1));
    await ring(s.watch, s.broker, s.time, topics);
    await soon(s);
    await s.box.has(1);
    await until("all of them are told", async () => {
      await soon(s);
      return (await log(s.watch)).every((row) => row.state === "sent" || row.state === "folded");
    }, 60_000);
    const text = s.box.got.map((got) => `${got.mail.subject}\n${got.mail.text}`).join("\n");
    for (let n = 1; n <= 100; ++n) assert.match(text, new RegExp(`Room ${n}\\b`), `Room ${n}`);
    assert.ok(s.box.got.length <= 5, `${s.box.got.length} mails`);
    await s.watch.end();
  });
});

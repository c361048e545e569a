// Notices through the whole program: a real mail server with TLS, a real web server, a real broker; what arrives is
// parsed by a library that knows nothing of ours. The wall clock is moved by hand.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { writeFileSync } from "node:fs";
import { Broker } from "../support/broker.ts";
import { alarms, clockKnown, hangGas, nudge, ring } from "../support/gas.ts";
import { Hook } from "../support/hook.ts";
import { enterWheel } from "../support/keeping.ts";
import { Mailbox, ownCertificate, type Got } from "../support/mailbox.ts";
import { run } from "../support/running.ts";
import { Time, missing } from "../support/time.ts";
import { rindwatch } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

const rings = (got: Got) => got.mail.headers.get("x-rindwatch") === "alarm";
const lists = (got: Got) => got.mail.headers.get("x-rindwatch") === "round";

/** A keeper without lists and quiet hours, so that nothing but alarms comes, at any hour. */
const keeper = (name: string, rank: number, more: Record<string, unknown> = {}) => ({
  kind: "hearing", name, rank, mail: [`${name.toLowerCase()}@cave.example`], list: "never", quiet: null, ...more,
});

const log = async (watch: Watch): Promise<any[]> => (await watch.get("/api/notices")).log;

/** The mails of this kind, once one came; the clock goes on by as much as lies between two letters to one keeper. */
const comes = ({ watch, time, box }: { watch: Watch; time: Time; box: Mailbox }, what: (got: Got) => boolean): Promise<Got[]> =>
  until("the mail is there", async () => {
    const those = box.got.filter(what);
    if (those.length > 0) return those;
    time.go(31);
    await nudge(watch);
    return false;
  }, 60_000);

describe("mail", { skip: missing }, () => {
  test("by STARTTLS with a password: what rings, since when, what to do first, a link; in two parts and good headers", { timeout: 200_000 }, async (t) => {
    const time = new Time();
    const broker = await Broker.start();
    const box = await Mailbox.start({ tls: "starttls", user: "watch", password: "käse" });
    const watch = await Watch.start({
      brokerPort: broker.port, env: time.env,
      settings: { mail: box.settings, notices: ['page = "http://cave.example:8417/"'] },
    });
    t.after(() => watch.end("SIGKILL"));
    await hangGas(watch);
    await watch.did(keeper("IH", 1));
    await watch.did(keeper("TR", 2));
    const [alarm] = await ring(watch, broker, time, ["gas/1"], 6_000);
    time.go(5);
    await nudge(watch);
    const [got] = await box.has(1, (one) => rings(one) && one.to[0] === "ih@cave.example");
    assert.ok(got && alarm);
    assert.deepEqual([got.to, got.from, got.secure, got.user], [["ih@cave.example"], "watch@cave.example", true, "watch"]);
    assert.match(got.mail.subject!, /^Time to act: Cellar carbon dioxide high since \d\d:\d\d/);
    assert.match(got.mail.text!, /From 5000 ppm: out, door open\./);
    assert.doesNotMatch(got.mail.text!, /Nobody has taken it/);
    assert.match(got.mail.text!, /First\n +1 +Door open, and stay out\./);
    const link = `http://cave.example:8417/alarms/${encodeURIComponent(alarm.id)}`;
    assert.ok(got.mail.text!.includes(link), got.mail.text);
    assert.ok((got.mail.html as string).includes(`href="${link}"`));
    assert.match(got.mail.html as string, /<li[^>]*>Door open, and stay out\.<\/li>/);
    assert.match(got.mail.messageId!, /^<[^@<>\s]+@cave\.example>$/);
    assert.ok(Math.abs(got.mail.date!.getTime() - time.now()) < 600_000, "its date is the watch's");
    assert.equal(got.mail.headers.get("auto-submitted"), "auto-generated");
    for (const line of got.raw.split("\r\n")) assert.ok(line.length <= 998 && /^[\x20-\x7e\t]*$/.test(line), line);

    // Gas calls all at once; whoever was called hears who took it.
    const [later] = await comes({ watch, time, box }, (one) => rings(one) && one.to[0] === "tr@cave.example");
    assert.match(later!.mail.subject!, /^Time to act: /);
    await watch.did({ kind: "take", alarm: alarm.id, keeper: "TR" });
    const taken = await comes({ watch, time, box }, (one) => /TR took it/.test(one.mail.subject ?? ""));
    assert.deepEqual(taken[0]!.to, ["ih@cave.example"]);
    await until("each of them is written down as sent", async () => (await log(watch)).every((row) => row.state === "sent" || row.state === "folded"));
    await watch.end();
  });

  test("by TLS from the first byte, and in clear only where that was asked for", { timeout: 200_000 }, async (t) => {
    for (const tls of ["tls", "none"] as const) {
      const box = await Mailbox.start({ tls });
      const watch = await Watch.start({ settings: { mail: box.settings } });
      t.after(() => watch.end("SIGKILL"));
      await watch.did(keeper("", 1, { mail: ["ih@cave.example"] }));
      const answer = await watch.ask({
        method: "POST", path: "/api/notices/test", headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ way: "mail", address: "ih@cave.example" }),
      });
      assert.equal((answer.json as any).outcome, "sent", answer.text);
      const [got] = await box.has(1);
      assert.equal(got!.secure, tls === "tls");
      assert.equal(got!.mail.subject, "A test from the cave");
      await watch.end();
    }
  });

  const tries: [string, (box: Mailbox) => string[], RegExp][] = [
    ["a wrong password", (box) => [...box.settings.filter((l) => !l.startsWith("password")), 'password = "wrong"'], /refused user or password: 535/],
    ["a certificate that nobody vouches for", (box) => box.settings.filter((l) => !l.startsWith("ca")), /certificate is not believed/],
    ["TLS asked of a port that begins in clear", (box) => [...box.settings.filter((l) => !l.startsWith("security")), 'security = "tls"'], /no secure connection came about/],
    ["a server that is not there", (box) => [...box.settings.filter((l) => !l.startsWith("port")), "port = 1"], /nobody answers at this port/],
    ["a name that nobody knows", (box) => [...box.settings.filter((l) => !l.startsWith("server")), 'server = "mail.invalid"'], /nobody knows this name/],
  ];
  for (const [name, settings, said] of tries)
    test(`a test message says in the keeper's words what is wrong: ${name}`, { timeout: 100_000 }, async (t) => {
      const box = await Mailbox.start({ user: "watch", password: "right" });
      const watch = await Watch.start({ settings: { mail: settings(box) } });
      t.after(() => watch.end("SIGKILL"));
      await watch.did(keeper("IH", 1));
      const answer = await watch.ask({
        method: "POST", path: "/api/notices/test", headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ way: "mail", address: "ih@cave.example" }),
      });
      assert.equal(answer.status, 200);
      assert.equal((answer.json as any).outcome, "not sent");
      assert.match((answer.json as any).what, said);
      assert.equal(box.got.length, 0);
      await watch.end();
    });

  test("nothing goes out in clear to a server that speaks no TLS", { timeout: 100_000 }, async (t) => {
    const box = await Mailbox.start({ tls: "none" });
    const watch = await Watch.start({ settings: { mail: box.settings.map((l) => (l.startsWith("security") ? 'security = "starttls"' : l)) } });
    t.after(() => watch.end("SIGKILL"));
    await watch.did(keeper("IH", 1));
    const answer = await watch.ask({
      method: "POST", path: "/api/notices/test", headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ way: "mail", address: "ih@cave.example" }),
    });
    assert.match((answer.json as any).what, /speaks no STARTTLS/);
    assert.equal(box.got.length, 0);
    await watch.end();
  });
});

test("the morning list: the words of the terminal, at its hour, once over restarts and a clock that is set back", { skip: missing, timeout: 200_000 }, async (t) => {
  const time = new Time();
  const box = await Mailbox.start();
  const broker = await Broker.start();
  const watch = await Watch.start({ brokerPort: broker.port, env: time.env, settings: { mail: box.settings } });
  t.after(() => watch.end("SIGKILL"));
  await watch.connected();
  await enterWheel(watch);
  await watch.did(keeper("IH", 1, { list: "daily", morning: "06:30", evening: null }));
  // To the next half past six in Vienna.
  const clock = new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Vienna", hour: "2-digit", minute: "2-digit" }).format(new Date(time.now()));
  const [hours = 0, minutes = 0] = clock.split(":").map(Number);
  time.go((((6 * 60 + 31 - hours * 60 - minutes + 1440) % 1440) || 1440) * 60);
  await nudge(watch);
  time.go(5);
  await nudge(watch);
  const [got] = await box.has(1, lists);
  const printed = (await run(rindwatch, ["round", "--config", watch.file], { env: time.env })).out;
  const [subject, ...body] = printed.split("\n");
  assert.equal(`Subject: ${got!.mail.subject}`, subject);
  // All but the minute at which it was made.
  const words = (text: string) => text.replace(/, \d\d:\d\d\n/, "\n").trim();
  assert.ok(words(got!.mail.text!).includes(words(body.slice(1).join("\n"))), `${got!.mail.text}\n---\n${printed}`);
  await watch.end();
  await watch.up();
  time.go(-1800);
  await until("it sees that the clock went back", async () => (await clockKnown(watch)) === false);
  time.go(3600);
  await until("it sees that the clock is right", async () => (await clockKnown(watch)) === true);
  await nudge(watch);
  assert.equal((await box.has(1, lists)).length, 1);
  time.go(86_400);
  await nudge(watch);
  time.go(40);
  await nudge(watch);
  await box.has(2, lists);
  await watch.end();
});

describe("webhooks", { skip: missing }, () => {
  test("JSON to one, a template to another, over TLS; a test message too", { timeout: 200_000 }, async (t) => {
    const time = new Time();
    const own = ownCertificate();
    const broker = await Broker.start();
    const plain = await Hook.start(), secret = await Hook.start(own);
    const watch = await Watch.prepared({ brokerPort: broker.port, env: time.env });
    t.after(() => watch.end("SIGKILL"));
    writeFileSync(watch.file, `${await import("node:fs").then((fs) => fs.readFileSync(watch.file, "utf8"))}
[[webhook]]
name = "phone"
url = "${plain.url}"
[[webhook]]
name = "bell"
url = "${secret.url}"
body = "{subject} -> {link} ({hearer})"
headers = ["Authorization: Bearer abc"]
ca = "${own.file}"
`);
    await watch.up();
    await hangGas(watch);
    await watch.did({ ...keeper("IH", 1), mail: [], webhooks: ["phone", "bell"] });
    await ring(watch, broker, time);
    time.go(5);
    await nudge(watch);
    await until("both were called", () => plain.calls.length > 0 && secret.calls.length > 0);
    const [call] = plain.calls;
    assert.equal(call!.method, "POST");
    assert.equal(call!.headers["content-type"], "application/json");
    const told = JSON.parse(call!.body);
    assert.deepEqual([told.kind, told.severity, told.cave, told.hearer, told.trial], ["rings", "urgent", "Cellar", "IH", false]);
    assert.equal(call!.headers["rindwatch-notice"], told.id);
    assert.match(secret.calls[0]!.body, /^Urgent: Cellar carbon dioxide high .* -> http:\/\/.*\/alarms\/.* \(IH\)$/);
    assert.equal(secret.calls[0]!.headers["authorization"], "Bearer abc");
    const answer = await watch.ask({
      method: "POST", path: "/api/notices/test", headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ way: "webhook", address: "phone" }),
    });
    assert.equal((answer.json as any).outcome, "sent", answer.text);
    await watch.end();
  });
});

test("the broker holds the alarms, the round, a bell and that the watch is alive", { skip: missing, timeout: 200_000 }, async (t) => {
  const time = new Time();
  const broker = await Broker.start();
  const watch = await Watch.start({ brokerPort: broker.port, env: time.env });
  t.after(() => watch.end("SIGKILL"));
  await enterWheel(watch);
  await hangGas(watch);
  const round = await until("the round is there", async () => {
    const told = JSON.parse((await broker.receive("rindwatch/round")).payload);
    return told.lines.length > 0 && told;
  });
  assert.equal(typeof round.sentence, "string");
  assert.equal((await broker.receive("rindwatch/alive")).payload, "1");
  const [alarm] = await ring(watch, broker, time);
  await until("the bell rings", async () => (await broker.receive("rindwatch/bell")).payload === "1");
  const told = await until("the alarm is told", async () => {
    const { alarms: all } = JSON.parse((await broker.receive("rindwatch/alarms")).payload);
    return all.length > 0 && all;
  });
  assert.deepEqual([told[0].id, told[0].untaken], [alarm!.id, true]);
  await watch.did({ kind: "take", alarm: alarm!.id });
  await until("the bell is still", async () => (await broker.receive("rindwatch/bell")).payload === "0");
  await watch.end("SIGKILL");
  await until("the last will says that it is gone", async () => (await broker.receive("rindwatch/alive")).payload === "0");
});

test("an address of the keeper's choice hears that the watch is well, and nothing once it is not", { skip: missing, timeout: 100_000 }, async (t) => {
  const time = new Time();
  const hook = await Hook.start();
  const watch = await Watch.start({ env: time.env, settings: { ping: [`url = "${hook.url}"`, "minutes = 5"] } });
  t.after(() => watch.end("SIGKILL"));
  await until("the first ping", () => hook.calls.length === 1);
  assert.deepEqual([hook.calls[0]!.method, hook.calls[0]!.body], ["GET", ""]);
  time.go(301);
  await nudge(watch);
  await until("the next", () => hook.calls.length === 2, 40_000);
  await watch.end("SIGKILL");
  assert.equal(hook.calls.length, 2);
});

const wrong: [string, string, RegExp][] = [
  ["no sender", '[mail]\nserver = "mail.cave.example"\n', /\[mail\] from should be a mail address/],
  ["a sender that is none", '[mail]\nserver = "m"\nfrom = "me"\n', /line 3: \[mail\] from should be a mail address in quotes .*, found .*me/],
  ["a security that nobody knows", '[mail]\nserver = "m"\nsecurity = "ssl"\nfrom = "a@b"\n', /line 3: \[mail\] security should be "starttls", "tls" or "none", found .*ssl/],
  ["a server with a path", '[mail]\nserver = "smtp://m/x"\nfrom = "a@b"\n', /line 2: \[mail\] server should be a name or address/],
  ["a webhook without a name", '[[webhook]]\nurl = "http://x/"\n', /line 1: \[webhook\] name should be a name of its own/],
  ["a webhook to no address", '[[webhook]]\nname = "a"\nurl = "file:///etc/passwd"\n', /line 3: \[webhook\] url should be an address that begins with https/],
  ["two webhooks of one name", '[[webhook]]\nname = "a"\nurl = "http://x/"\n[[webhook]]\nname = "a"\nurl = "http://y/"\n', /line 5: \[webhook\] name should be a name that no other webhook has/],
  ["a webhook in single brackets", '[webhook]\nname = "a"\n', /write \[\[webhook\]\] in double brackets/],
  ["a header that ends its line", '[[webhook]]\nname = "a"\nurl = "http://x/"\nheaders = ["A: b\\r\\nC: d"]\n', /line 4: \[webhook\] headers should be a list/],
  ["a page without a scheme", '[notices]\npage = "cave.example"\n', /line 2: \[notices\] page should be an address/],
  ["a ping every second day", '[ping]\nurl = "http://x/"\nminutes = 2880\n', /line 3: \[ping\] minutes should be a whole number from 1 to 1440/],
];
for (const [name, text, expected] of wrong)
  test(`${name} is said in one sentence, with its line`, async () => {
    const watch = await Watch.prepared();
    writeFileSync(watch.file, text);
    const result = await run(rindwatch, ["check", "--config", watch.file], { milliseconds: 20_000 });
    assert.equal(result.status, 1, result.out + result.err);
    assert.match(result.err.trim().split("\n").at(-1)!, expected);
  });

test("a trial sends to nobody and shows what would have gone", { timeout: 300_000 }, async () => {
  const { temporaryFolder } = await import("../support/cleanup.ts");
  const { freePort } = await import("../support/ports.ts");
  const { Running } = await import("../support/running.ts");
  const { ask } = await import("../support/http.ts");
  const port = await freePort();
  const trial = new Running(rindwatch, ["try", "--folder", temporaryFolder(), "--port", String(port), "--days", "5"]);
  await until("the trial prints its page", () => trial.ending || trial.out.includes("The page:"), 200_000);
  assert.equal(trial.ending, undefined, trial.said);
  const page = (await ask({ port, path: "/api/notices" })).json as any;
  assert.equal(page.sends, false);
  assert.equal(page.hearers.length, 1);
  assert.ok(page.log.length >= 4, "a list for each morning");
  assert.ok(page.log.every((row: any) => row.state === "shown" || row.state === "folded"), JSON.stringify(page.log));
  assert.ok(page.log.some((row: any) => row.kind === "morning" && row.subject.startsWith("Trial: ")));
  const one = (await ask({ port, path: `/api/notices/${page.log[0].number}` })).json as any;
  assert.ok(one.text.length > 50);
  assert.equal((await trial.end("SIGINT")).status, 0, trial.said);
});

test("an alarm that was set aside asks again when its time is over", { skip: missing, timeout: 100_000 }, async (t) => {
  const time = new Time();
  const broker = await Broker.start();
  const box = await Mailbox.start();
  const watch = await Watch.start({ brokerPort: broker.port, env: time.env, settings: { mail: box.settings } });
  t.after(() => watch.end("SIGKILL"));
  await hangGas(watch);
  await watch.did(keeper("IH", 1));
  const [alarm] = await ring(watch, broker, time);
  time.go(5);
  await nudge(watch);
  await box.has(1, rings);
  await watch.did({ kind: "aside", alarm: alarm!.id, until: Math.round(time.now() + 1_800_000) });
  const before = box.got.length;
  for (let minute = 0; minute < 28; ++minute) {
    time.go(60);
    await broker.publish("gas/1", '{"co2":20000}');
    await nudge(watch);
  }
  assert.equal(box.got.length, before, "it is quiet while it is set aside");
  await until("it asks again", async () => {
    time.go(60);
    await broker.publish("gas/1", '{"co2":20000}');
    await nudge(watch);
    return box.got.length > before;
  }, 40_000);
  assert.ok((await alarms(watch)).length > 0);
  await watch.end();
});

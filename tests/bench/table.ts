// The figures of a release build on this machine, each with how it was taken. tests/bench/run.sh starts it.
import { execFileSync } from "node:child_process";
import { readFileSync, statSync } from "node:fs";
import { availableParallelism } from "node:os";
import path from "node:path";
import { Broker } from "../support/broker.ts";
import { temporaryFolder } from "../support/cleanup.ts";
import { ask } from "../support/http.ts";
import { enterWheel, hangProbe } from "../support/keeping.ts";
import { Running } from "../support/running.ts";
import { rindwatch, root } from "../support/tree.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";

const messages = Number(process.argv[2] ?? 100_000);
const rounds = 3;
const mqttRate = path.join(root, "build/everyday/bin/mqtt-rate");

const median = (values: number[]) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
const rows: [string, string, string][] = [];
const row = (what: string, figure: string, how: string) => rows.push([what, figure, how]);
const thousands = (value: number) => `${(value / 1000).toFixed(1)} k`;

/** One number of /metrics. */
async function metric(watch: Watch, name: RegExp): Promise<number> {
  const { text } = await watch.ask({ path: "/metrics" });
  const line = text.split("\n").find((one) => !one.startsWith("#") && name.test(one));
  if (!line) throw new Error(`/metrics has no ${name}`);
  return Number(line.split(" ").at(-1));
}

/** Messages a second of a subscriber that counts and does nothing else. */
async function bareRate(port: number): Promise<number> {
  const bare = new Running(mqttRate, ["bare", String(port), "bench/#", String(messages)]);
  await until("the bare subscriber is ready", () => bare.out.includes("READY"));
  await flood(port);
  await bare.finished();
  return messages / Number(bare.out.trim().split("\n").at(-1));
}

/** Messages a second that the watch keeps and acknowledges: two readings each. */
async function keptRate(watch: Watch, port: number): Promise<number> {
  const kept = () => metric(watch, /^rindwatch_readings_kept_total\b/);
  const before = await kept();
  const started = performance.now();
  const flooding = flood(port);
  await until("every message is kept", async () => (await kept()) >= before + 2 * messages, 300_000);
  const seconds = (performance.now() - started) / 1000;
  await flooding;
  return messages / seconds;
}

async function flood(port: number): Promise<void> {
  const flooding = new Running(mqttRate, ["flood", String(port), "bench/box1", String(messages)]);
  const { status } = await flooding.finished();
  if (status !== 0) throw new Error(flooding.said);
}

async function rates(): Promise<void> {
  const broker = await Broker.start({ lines: ["log_type error"] });
  const watch = await Watch.start({ brokerPort: broker.port, settings: { broker: ['discover = ""'] } });
  const { cave } = await enterWheel(watch);
  await hangProbe(watch, cave, "bench/box1");
  const bare: number[] = [], kept: number[] = [];
  for (let round = 0; round < rounds; ++round) {
    bare.push(await bareRate(broker.port));
    kept.push(await keptRate(watch, broker.port));
  }
  const how = `${messages} messages of two channels, QoS 1, median of ${rounds}, in turns`;
  row("kept and acknowledged, messages/s", thousands(median(kept)), how);
  row("bare paho subscriber, messages/s", thousands(median(bare)), "the same run");
  row("ratio", (median(kept) / median(bare)).toFixed(2), "");
  await watch.end();
  row(`start to serving after ${thousands(2 * messages * rounds)} readings`, await startTime(watch), "median of 5, spawn to /health 200");
}

async function startTime(watch: Watch): Promise<string> {
  const taken: number[] = [];
  for (let i = 0; i < 5; ++i) {
    const started = performance.now();
    watch.launch();
    for (;;) {
      const status = await ask({ port: watch.port, path: "/health" }).then((answer) => answer.status, () => 0);
      if (status === 200) break;
      if (performance.now() - started > 60_000) throw new Error(`it does not start: ${watch.running.said}`);
    }
    taken.push(performance.now() - started);
    await watch.end();
  }
  return `${median(taken).toFixed(0)} ms`;
}

async function small(): Promise<void> {
  const watch = await Watch.prepared();
  row("start to serving, empty database", await startTime(watch), "median of 5, spawn to /health 200");
  const broker = await Broker.start();
  const idle = await Watch.start({ brokerPort: broker.port });
  await enterWheel(idle);
  await until("it is connected", async () => (await idle.get("/api/arriving")).connected);
  await new Promise((resolve) => setTimeout(resolve, 5000));
  const memory = (field: string) => {
    const line = readFileSync(`/proc/${idle.running.pid}/status`, "utf8").split("\n").find((one) => one.startsWith(field))!;
    return `${(Number(line.replace(/\D/g, "")) / 1024).toFixed(1)} MiB`;
  };
  row("resident memory, idle", memory("VmRSS"), "VmRSS of /proc/PID/status, 5 s after the start, one wheel");
  row("of it anonymous", memory("RssAnon"), "RssAnon");
  row("threads", String(readFileSync(`/proc/${idle.running.pid}/status`, "utf8").match(/Threads:\s*(\d+)/)![1]), "");
  await pageWeight(idle.port);
  await idle.end();
  const stripped = path.join(temporaryFolder(), "rindwatch");
  execFileSync("strip", ["-o", stripped, rindwatch]);
  row("stripped size", `${(statSync(stripped).size / 1024 / 1024).toFixed(2)} MiB`, "strip; the page is inside");
}

/** The page and what it names, as they travel. */
async function pageWeight(port: number): Promise<void> {
  const fetched = async (target: string) => {
    const plain = await ask({ port, path: target });
    const packed = await ask({ port, path: target, headers: { "Accept-Encoding": "gzip, br" } });
    return { text: plain.text, bytes: Number(packed.headers["content-length"] ?? Buffer.byteLength(packed.text)) };
  };
  const page = await fetched("/");
  const named = [...page.text.matchAll(/(?:src|href)="(\/?[^":#]+\.(?:js|css|svg|woff2|png|webmanifest))"/g)].map((found) => found[1]!);
  let bytes = page.bytes;
  for (const target of new Set(named)) bytes += (await fetched(target.startsWith("/") ? target : `/${target}`)).bytes;
  row("page weight, compressed", `${(bytes / 1024).toFixed(1)} KiB`, `GET / and the ${new Set(named).size} files that it names, Accept-Encoding: gzip, br`);
}

await small();
await rates();
const width = Math.max(...rows.map(([what]) => what.length));
const second = Math.max(...rows.map(([, figure]) => figure.length));
const processor = readFileSync("/proc/cpuinfo", "utf8").match(/model name\s*:\s*(.*)/)?.[1] ?? process.arch;
console.log(`${availableParallelism()} x ${processor}\n`);
for (const [what, figure, how] of rows) console.log(`${what.padEnd(width)}  ${figure.padStart(second)}  ${how}`);

// A mosquitto of the test's own, on a free port of the loopback; never the one that a system may run on 1883.
import { writeFileSync } from "node:fs";
import path from "node:path";
import { connect } from "node:net";
import { temporaryFolder } from "./cleanup.ts";
import { freePort } from "./ports.ts";
import { Running, run } from "./running.ts";
import { InVain, until } from "./until.ts";

export interface BrokerOptions {
  /** Keeps sessions and queued messages on disk over a restart. */
  persistent?: boolean;
  /** Further lines of its configuration. */
  lines?: string[];
}

export class Broker {
  private running: Running | undefined;

  private constructor(
    readonly port: number,
    private readonly folder: string,
    private readonly options: BrokerOptions,
  ) {}

  static async start(options: BrokerOptions = {}): Promise<Broker> {
    for (let attempt = 0; ; ++attempt) {
      const broker = await Broker.stopped(options);
      try {
        await broker.up();
        return broker;
      } catch (error) {
        if (attempt === 4) throw error;
      }
    }
  }

  /** A broker that has its port and settings but does not run yet. */
  static async stopped(options: BrokerOptions = {}): Promise<Broker> {
    return new Broker(await freePort(), temporaryFolder(), options);
  }

  async up(): Promise<void> {
    const file = path.join(this.folder, "mosquitto.conf");
    writeFileSync(
      file,
      [
        `listener ${this.port} 127.0.0.1`,
        "allow_anonymous true",
        // Started as root it would turn into a user who may not write here.
        ...(process.getuid?.() === 0 ? ["user root"] : []),
        "max_queued_messages 0",
        "log_dest stdout",
        "log_type all",
        "connection_messages true",
        `persistence ${this.options.persistent ? "true" : "false"}`,
        ...(this.options.persistent ? [`persistence_location ${this.folder}/`, "autosave_interval 1"] : []),
        ...(this.options.lines ?? []),
        "",
      ].join("\n"),
    );
    const running = new Running("mosquitto", ["-c", file], {
      env: { PATH: `${process.env["PATH"]}:/usr/sbin:/sbin` },
    });
    this.running = running;
    await until(`mosquitto listens on ${this.port}`, async () => {
      if (running.ending) throw new InVain(`mosquitto ended: ${running.said}`);
      return serves(this.port);
    });
  }

  /** What it logged since it came up: every packet, as mosquitto words it. */
  get log(): string {
    return this.running?.said ?? "";
  }

  async down(signal: NodeJS.Signals = "SIGTERM"): Promise<void> {
    await this.running?.end(signal);
    this.running = undefined;
  }

  /** Publishes by mosquitto_pub, as a probe would; returns when the broker has acknowledged. */
  async publish(
    topic: string,
    payload: string | Buffer,
    options: { qos?: 0 | 1; retain?: boolean } = {},
  ): Promise<void> {
    const result = await run(
      "mosquitto_pub",
      [...this.address(), "-q", String(options.qos ?? 1), ...(options.retain ? ["-r"] : []), "-t", topic, payload.length === 0 ? "-n" : "-s"],
      { input: payload },
    );
    if (result.status !== 0) throw new Error(`mosquitto_pub: ${result.err}`);
  }

  /** Publishes each text as a message of its own over one connection, in order, at QoS 1. */
  async publishEach(topic: string, payloads: string[]): Promise<void> {
    const result = await run("mosquitto_pub", [...this.address(), "-q", "1", "-t", topic, "-l"], {
      input: payloads.map((text) => `${text}\n`).join(""),
    });
    if (result.status !== 0) throw new Error(`mosquitto_pub: ${result.err}`);
  }

  /** The next message of a topic filter, retained ones included. */
  async receive(filter: string, seconds = 15): Promise<{ topic: string; payload: string }> {
    const result = await run("mosquitto_sub", [
      ...this.address(), "-q", "1", "-t", filter, "-C", "1", "-W", String(seconds), "-F", "%t %p",
    ]);
    if (result.status !== 0) throw new Error(`nothing arrived on ${filter} within ${seconds} s: ${result.err}`);
    const [topic = "", ...payload] = result.out.replace(/\n$/, "").split(" ");
    return { topic, payload: payload.join(" ") };
  }

  private address(): string[] {
    return ["-h", "127.0.0.1", "-p", String(this.port)];
  }
}

/** Whether it closes a connection of ours, so that its loop runs: mosquitto forgets a signal that comes before that. */
function serves(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1", () => socket.end());
    socket.setTimeout(1_000, () => resolve((socket.destroy(), false)));
    socket.once("error", () => resolve(false));
    socket.once("close", (failed) => resolve(!failed));
    socket.resume();
  });
}

// `rindwatch serve` on a folder of the test's own.
import { randomBytes } from "node:crypto";
import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import assert from "node:assert/strict";
import { temporaryFolder } from "./cleanup.ts";
import { ask, type Answer, type Ask } from "./http.ts";
import { OpenApi } from "./openapi.ts";
import { freePort } from "./ports.ts";
import { Running, type Ending } from "./running.ts";
import { rindwatch } from "./tree.ts";
import { InVain, until } from "./until.ts";

export interface WatchOptions {
  /** Where it listens for messages; none: a port where no broker is. */
  brokerPort?: number;
  /** Where its files lie; a temporary folder unless given. */
  folder?: string;
  /** The keeper's zone; Vienna unless given. */
  zone?: string;
  /** Further lines of sections: { log: ['level = "debug"'] }. */
  settings?: Record<string, string[]>;
  env?: NodeJS.ProcessEnv;
  /** What runs it, such as ["faketime", "..."]. */
  under?: string[];
}

/** One description for all tests of a process. */
let description: OpenApi | undefined;

export class Watch {
  running!: Running;

  private constructor(
    readonly folder: string,
    readonly port: number,
    private readonly options: WatchOptions,
  ) {}

  /** Configured, not started. */
  static async prepared(options: WatchOptions = {}): Promise<Watch> {
    const folder = options.folder ?? temporaryFolder();
    mkdirSync(folder, { recursive: true });
    const watch = new Watch(folder, await freePort(), options);
    const brokerPort = options.brokerPort ?? (await freePort());
    const sections: Record<string, string[]> = {
      listen: [`port = ${watch.port}`],
      broker: [`port = ${brokerPort}`],
      home: [`zone = "${options.zone ?? "Europe/Vienna"}"`],
    };
    for (const [section, lines] of Object.entries(options.settings ?? {}))
      sections[section] = [...(sections[section] ?? []), ...lines];
    writeFileSync(
      watch.file,
      Object.entries(sections)
        .map(([section, lines]) => `[${section}]\n${lines.join("\n")}\n`)
        .join("\n"),
    );
    return watch;
  }

  /** Configured, started and serving. */
  static async start(options: WatchOptions = {}): Promise<Watch> {
    const watch = await Watch.prepared(options);
    await watch.up();
    return watch;
  }

  get file(): string {
    return path.join(this.folder, "rindwatch.toml");
  }
  get database(): string {
    return path.join(this.folder, "rindwatch.db");
  }

  /** Starts the program without waiting for it. */
  launch(): Running {
    const [command = "", ...args] = [...(this.options.under ?? []), rindwatch, "serve", "--config", this.file];
    this.running = new Running(command, args, this.options.env ? { env: this.options.env } : {});
    return this.running;
  }

  async up(): Promise<void> {
    const running = this.launch();
    await until("rindwatch serves", async () => {
      if (running.ending) throw new InVain(`rindwatch ended with ${running.ending.status}: ${running.said}`);
      return (await ask({ port: this.port, path: "/health" })).status === 200;
    });
  }

  /** Waits until the broker has it; what was published before that is backlog. */
  async connected(): Promise<void> {
    await until("the watch is connected to the broker", async () => (await this.get("/api/arriving")).connected, 60_000);
  }

  end(signal: NodeJS.Signals = "SIGTERM"): Promise<Ending> {
    return this.running.end(signal);
  }

  /** One request; what is under /api/ is held against the description. */
  async ask(request: Omit<Ask, "port">): Promise<Answer> {
    const answer = await ask({ port: this.port, ...request }).catch(async (error: Error) => {
      // A program that broke says why only when it has ended.
      const ending = await Promise.race([this.running.ended, new Promise((resolve) => setTimeout(resolve, 500))]);
      throw new Error(`${error.message}; the program ${ending ? `ended: ${JSON.stringify(ending)}` : "goes on"}: ${this.running.said}`);
    });
    if (request.path.startsWith("/api/")) {
      description ??= new OpenApi();
      assert.deepEqual(description.faults(request.method ?? "GET", request.path, answer), []);
    }
    return answer;
  }

  /** A place of the page; anything but 200 fails. */
  async get<T = any>(target: string): Promise<T> {
    const answer = await this.ask({ path: target });
    assert.equal(answer.status, 200, `${target}: ${answer.text}`);
    return answer.json as T;
  }

  /** Sends an act as a phone does. An id and the instant of the tap are added where they are missing. */
  async act(body: Record<string, unknown>, headers: Record<string, string> = {}): Promise<Answer> {
    return this.send({ id: newId(), tapped_at: Date.now(), ...body }, headers);
  }

  /** Sends these bytes, or this value as JSON, to /api/acts. */
  async send(body: unknown, headers: Record<string, string> = {}): Promise<Answer> {
    return this.ask({
      method: "POST",
      path: "/api/acts",
      headers: { "Content-Type": "application/json", "Sent-At": String(Date.now()), ...headers },
      body: typeof body === "string" ? body : JSON.stringify(body),
    });
  }

  /** An act that must be taken. */
  async did<T = any>(body: Record<string, unknown>): Promise<T> {
    const answer = await this.act(body);
    assert.equal(answer.status, 200, `${JSON.stringify(body)}: ${answer.text}`);
    description ??= new OpenApi();
    const sent = { id: newId(), tapped_at: 0, ...body };
    assert.deepEqual(description.requestFaults("POST", "/api/acts", sent), []);
    return answer.json as T;
  }
}

/** 128 random bits as a phone makes them. */
export const newId = (): string => randomBytes(16).toString("hex");

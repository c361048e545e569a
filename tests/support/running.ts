// A program that runs beside the test: its output is kept, its end can be awaited, and it never outlives the test.
import { spawn, type ChildProcess } from "node:child_process";
import type { Socket } from "node:net";
import { killAtExit } from "./cleanup.ts";
import { until } from "./until.ts";

export interface Ending {
  status: number | null;
  signal: NodeJS.Signals | null;
}

export class Running {
  readonly child: ChildProcess;
  readonly ended: Promise<Ending>;
  out = "";
  err = "";
  ending: Ending | undefined;

  constructor(command: string, args: string[], options: { cwd?: string; env?: NodeJS.ProcessEnv } = {}) {
    // The kernel kills it should this process be killed without a chance to clean up.
    this.child = spawn("/usr/bin/setpriv", ["--pdeathsig", "KILL", "--", command, ...args], {
      stdio: ["pipe", "pipe", "pipe"],
      ...options,
      env: { ...process.env, ...options.env },
    });
    killAtExit(this.child);
    // What still runs when the tests are through must not hold up the end of their process.
    this.child.unref();
    for (const stream of [this.child.stdin, this.child.stdout, this.child.stderr]) (stream as Socket).unref();
    this.child.stdin!.on("error", () => {
      // It may end before it read everything; the ending tells.
    });
    this.child.stdout!.setEncoding("utf8").on("data", (text: string) => (this.out += text));
    this.child.stderr!.setEncoding("utf8").on("data", (text: string) => (this.err += text));
    this.ended = new Promise((resolve, reject) => {
      this.child.once("error", reject);
      this.child.once("close", (status, signal) => resolve((this.ending = { status, signal })));
    });
    this.ended.catch(() => undefined);
  }

  get pid(): number {
    return this.child.pid!;
  }

  /** Everything it printed so far. */
  get said(): string {
    return this.out + this.err;
  }

  kill(signal: NodeJS.Signals): void {
    this.child.kill(signal);
  }

  /** Waits for the end, however long it takes. */
  async finished(): Promise<Ending> {
    const alive = setInterval(() => undefined, 1000);
    try {
      return await this.ended;
    } finally {
      clearInterval(alive);
    }
  }

  /** Sends the signal and waits for the end. */
  async end(signal: NodeJS.Signals = "SIGTERM", milliseconds = 20_000): Promise<Ending> {
    this.kill(signal);
    return until(`${signal} ends ${this.child.spawnargs.join(" ")}`, () => this.ending, milliseconds);
  }
}

/** Runs to the end and gives back what it printed and how it ended. */
export async function run(
  command: string,
  args: string[],
  options: { cwd?: string; env?: NodeJS.ProcessEnv; input?: string | Buffer; milliseconds?: number } = {},
): Promise<{ out: string; err: string } & Ending> {
  const { input, milliseconds = 60_000, ...rest } = options;
  const running = new Running(command, args, rest);
  running.child.stdin!.end(input ?? "");
  const timer = setTimeout(() => running.kill("SIGKILL"), milliseconds);
  try {
    const ending = await running.finished();
    return { out: running.out, err: running.err, ...ending };
  } finally {
    clearTimeout(timer);
  }
}

// A wall clock that a test moves: libfaketime shifts what the program reads, while its monotonic clock runs on.
import { existsSync, readdirSync, renameSync, writeFileSync } from "node:fs";
import path from "node:path";
import { temporaryFolder } from "./cleanup.ts";

function library(): string | undefined {
  for (const folder of readdirSync("/usr/lib").map((name) => `/usr/lib/${name}/faketime`)) {
    const file = path.join(folder, "libfaketimeMT.so.1");
    if (existsSync(file)) return file;
  }
  return undefined;
}

export const missing = library() ? false : "faketime is not there";

export class Time {
  private readonly file = path.join(temporaryFolder(), "shift");
  private shift = 0;

  constructor() {
    this.set();
  }
  /** Seconds on, or back. */
  go(seconds: number): void {
    this.shift += seconds;
    this.set();
  }
  now(): number {
    return Date.now() + this.shift * 1000;
  }
  get env(): NodeJS.ProcessEnv {
    return {
      LD_PRELOAD: library(),
      FAKETIME_TIMESTAMP_FILE: this.file,
      FAKETIME_NO_CACHE: "1",
      FAKETIME_DONT_FAKE_MONOTONIC: "1",
    };
  }
  /** Replaced as a whole: the program reads it at any moment. */
  private set(): void {
    writeFileSync(`${this.file}.new`, `${this.shift >= 0 ? "+" : "-"}${Math.abs(this.shift)}\n`);
    renameSync(`${this.file}.new`, this.file);
  }
}

// What a test file leaves behind when it ends, however it ends: nothing. Every file runs in a process of its own.
import type { ChildProcess } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";

const children = new Set<ChildProcess>();
const undoings: (() => void)[] = [];

/** Undone last first when the process exits; must not wait for anything. */
export function atExit(undo: () => void): void {
  undoings.push(undo);
}

/** Killed when the process exits, unless it ended before. */
export function killAtExit(child: ChildProcess): void {
  children.add(child);
  child.once("exit", () => children.delete(child));
}

/** A folder of this test alone, removed at the end. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(path.join(tmpdir(), "rindwatch-test-"));
  atExit(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

process.on("exit", () => {
  for (const child of children) child.kill("SIGKILL");
  for (const undo of undoings.reverse()) {
    try {
      undo();
    } catch (error) {
      console.error("cleaning up:", error);
    }
  }
});
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.once(signal, () => process.exit(1));

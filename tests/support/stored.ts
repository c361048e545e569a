// A look into the database from outside, for the tests that doubt the program's own word. Debian's sqlite3 asks.
import { run } from "./running.ts";

/** The rows of a question, each an object; the program may be running. */
export async function stored<Row>(database: string, question: string): Promise<Row[]> {
  const result = await run("sqlite3", ["-readonly", "-json", "-cmd", ".timeout 5000", database, question]);
  if (result.status !== 0) throw new Error(`${question}: ${result.err}`);
  return result.out.trim() === "" ? [] : (JSON.parse(result.out) as Row[]);
}

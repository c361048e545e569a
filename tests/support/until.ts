// Waiting for something that another process does, with a deadline; a fixed sleep is never right.

const step = 25;

/** Thrown while asking: what is awaited can no longer come, so that waiting on is in vain. */
export class InVain extends Error {}

/** Asks until the answer is neither undefined, null nor false, and gives it back; fails with what was awaited. */
export async function until<T>(
  what: string,
  ask: () => Promise<T | undefined | null | false> | T | undefined | null | false,
  milliseconds = 20_000,
): Promise<T> {
  const deadline = Date.now() + milliseconds;
  let last: unknown;
  for (;;) {
    try {
      const answer = await ask();
      if (answer !== undefined && answer !== null && answer !== false) return answer as T;
      last = answer;
    } catch (error) {
      if (error instanceof InVain) throw error;
      last = error;
    }
    if (Date.now() > deadline) throw new Error(`waited ${milliseconds} ms in vain: ${what} (last: ${String(last)})`);
    await new Promise((resolve) => setTimeout(resolve, step));
  }
}

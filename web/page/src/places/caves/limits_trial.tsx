// "With these limits the last three months would have rung 4 times instead of 31": asked of the house, which works it
// out from what it kept. That takes a while, so it is asked for by a tap and says that it is at work.
import { useEffect, useState } from "preact/hooks";
import type { ApiError, LimitsTrial, TriedLimits } from "../../api";
import { t } from "../../words";

const kLook = 1_000; // ms between two looks

type State = { asking: boolean; result?: LimitsTrial; why?: string };

async function answerOf<T>(path: string, init?: RequestInit): Promise<T> {
  const response = await fetch(path, { cache: "no-store", ...init });
  const body = (await response.json()) as T | ApiError;
  if (!response.ok) throw new Error((body as ApiError).error.what);
  return body as T;
}

async function runTrial(cave: number, limits: TriedLimits, signal: AbortSignal): Promise<LimitsTrial> {
  const { trial } = await answerOf<{ trial: number }>(`/api/caves/${cave}/limits/trials`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(limits), signal });
  for (;;) {
    const found = await answerOf<LimitsTrial>(`/api/limits/trials/${trial}`, { signal });
    if (found.done) return found;
    await new Promise((resolve) => setTimeout(resolve, kLook));
    signal.throwIfAborted?.();
  }
}

interface BarProps { cave: number; limits: TriedLimits | undefined; ends: string; write: () => void; leave: () => void }

/** What was changed stands on the foot: tried, written or left; above it what the trial came to, and what ends with it. */
export function TrialBar({ cave, limits, ends, write, leave }: BarProps) {
  const key = JSON.stringify(limits);
  const [wanted, setWanted] = useState<{ key: string; turn: number }>({ key: "", turn: 0 });
  const [state, setState] = useState<State>({ asking: false });
  useEffect(() => {
    if (wanted.key !== key || !limits) return setState({ asking: false });
    const stop = new AbortController();
    setState({ asking: true });
    runTrial(cave, limits, stop.signal).then(
      (result) => setState({ asking: false, result }),
      (error: Error) => !stop.signal.aborted && setState({ asking: false, why: error.message }));
    return () => stop.abort();
  }, [wanted, key]);
  const why = state.result?.why ?? state.why;
  const said = state.asking ? t("limits.trying") : state.result && !state.result.why ? state.result.sentence : (why !== undefined ? t("limits.not tried", { why }) : ends ? "" : t("limits.deed.low"));
  return (
    <div class={`deed two trial ${limits ? "three" : ""}`}>
      <span class="of" role="status">{said} {ends && <b>{ends}</b>}</span>
      {limits && <button type="button" disabled={state.asking} onClick={() => setWanted({ key, turn: wanted.turn + 1 })}>{t("limits.try")}</button>}
      <button type="button" onClick={write}>{t("limits.deed")}</button>
      <button type="button" onClick={leave}>{t("limits.leave")}</button>
    </div>
  );
}

// What a change of a plan would do, asked of the house; it keeps nothing.
import { useEffect, useState } from "preact/hooks";
import type { ApiError, PlanEdit, PlanPreview } from "../../api";

export interface Asked {
  plan: string;
  version: number;
  wheel?: number | undefined;
  edits?: PlanEdit[];
  text?: string;
}
export interface Previewed { preview?: PlanPreview; error?: string; asking: boolean }

const kGather = 300; // ms: several taps are one asking

function why({ error }: ApiError): string {
  return [error.field, error.what, error.do].filter(Boolean).join(": ");
}

async function askPreview(asked: Asked, signal: AbortSignal): Promise<Previewed> {
  const response = await fetch("/api/plans/preview", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(asked), signal });
  const body = (await response.json()) as PlanPreview | ApiError;
  return "error" in body ? { error: why(body), asking: false } : { preview: body, asking: false };
}

/** The newest preview of what is asked; none while there is nothing to ask. */
export function usePreview(asked: Asked | undefined): Previewed {
  const key = asked ? JSON.stringify(asked) : "";
  const [found, setFound] = useState<Previewed>({ asking: false });
  useEffect(() => {
    if (!asked) return setFound({ asking: false });
    const stop = new AbortController();
    setFound((f) => ({ ...f, asking: true }));
    const timer = setTimeout(() => {
      askPreview(asked, stop.signal).then(setFound, () => !stop.signal.aborted && setFound({ error: "", asking: false }));
    }, kGather);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [key]);
  return found;
}

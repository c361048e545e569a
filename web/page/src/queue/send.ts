// One sending of one act, and what came of it.
import type { Act, AckedAct, ApiError, Instant } from "../api";
import { t } from "../words";

export type Outcome =
  | { kind: "acked"; ack: AckedAct }
  | { kind: "refused"; why: string }  // it will never be taken as it is
  | { kind: "later"; why: string }    // the house is there but cannot write
  | { kind: "away" };                 // no answer

export type Send = (act: Act, sent_at: Instant) => Promise<Outcome>;

const kPatience = 20_000; // ms; then the sending counts as not answered and is tried again

function inWords(error: Partial<ApiError["error"]> | undefined, status: number): string {
  if (status === 409) return t("refused.409");
  const parts = [t("refused.plain", { what: error?.what ?? String(status) })];
  if (error?.field && error.expected) {
    parts.push(t("refused.field", { field: error.field, expected: error.expected, found: error.found ?? "–" }));
  }
  if (error?.do) parts.push(error.do);
  return parts.join(" ");
}

/** What an answer means for the act: 200 counted; 400, 409, 413, 422 never will be; all else may be tried again. */
export async function judge(response: Response): Promise<Outcome> {
  const body: unknown = await response.json().catch(() => undefined);
  if (response.ok) {
    // Another host's welcome page answers 200 too: only an acknowledgement counts.
    const ack = body as AckedAct | undefined;
    return ack && typeof ack.id === "string" ? { kind: "acked", ack } : { kind: "away" };
  }
  const error = (body as ApiError | undefined)?.error;
  if ([400, 409, 413, 422].includes(response.status)) return { kind: "refused", why: inWords(error, response.status) };
  return { kind: "later", why: error?.what ?? t("refused.store") };
}

export const sendOverHttp: Send = async (act, sent_at) => {
  const giveUp = new AbortController();
  const timer = setTimeout(() => giveUp.abort(), kPatience);
  try {
    const response = await fetch("/api/acts", {
      method: "POST",
      headers: { "Content-Type": "application/json", "Sent-At": String(sent_at) },
      body: JSON.stringify(act),
      signal: giveUp.signal,
    });
    return await judge(response);
  } catch {
    return { kind: "away" };
  } finally {
    clearTimeout(timer);
  }
};

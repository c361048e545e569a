// One sending of one act, and what came of it.
import type { Act, AckedAct, ApiError, Instant } from "../api";
import { t } from "../words";

export type Outcome =
  | { kind: "acked"; ack: AckedAct }
  | { kind: "refused"; why: string }  // it will never be taken as it is
  | { kind: "stuck"; why: string }    // the house stumbles over this one; others may be taken meanwhile
  | { kind: "later"; why: string }    // the house is there but cannot write: no act would be taken
  | { kind: "away" };                 // no answer

export type Send = (act: Act, sent_at: Instant) => Promise<Outcome>;

const kPatience = 20_000; // ms; then the sending counts as not answered and is tried again

const kRefused = [409, 413, 422];           // the act itself is not sound
const kLater = [408, 429, 502, 503, 504];   // nobody there who could write

/** A refusal in the daemon's words. */
function inWords(error: Partial<ApiError["error"]> | undefined, status: number): string {
  if (status === 409) return t("refused.409");
  const parts = [t("refused.plain", { what: error?.what ?? String(status) })];
  // The sentence mostly says what was found.
  if (error?.field && error.expected && !(error.found && parts[0]!.includes(error.found))) {
    parts.push(t("refused.field", { field: error.field, expected: error.expected, found: error.found ?? "–" }));
  }
  if (error?.do) parts.push(error.do);
  return parts.join(" ");
}

/** What stands in the way of one act, in the house's words or by the number of its answer. */
function stumbled(error: Partial<ApiError["error"]> | undefined, status: number): string {
  return t("refused.stuck", { what: [error?.what ?? t("refused.number", { number: status }), error?.do].filter(Boolean).join(" ") });
}

/**
 * What an answer means for the act. 200: it counts. 409, 413, 422: it never will be taken as it is. 503 and its like: no
 * act is taken just now. All else (400, 403, 415, 500 ...) is about this sending: a fault in the house, a house that was
 * set up otherwise, another house; it may be put right, and must not hold back the other acts until then.
 */
export async function judge(response: Response): Promise<Outcome> {
  const body: unknown = await response.json().catch(() => undefined);
  if (response.ok) {
    // Another host's welcome page answers 200 too: only an acknowledgement counts.
    const ack = body as AckedAct | undefined;
    return ack && typeof ack.id === "string" ? { kind: "acked", ack } : { kind: "away" };
  }
  const error = (body as ApiError | undefined)?.error;
  if (kRefused.includes(response.status)) return { kind: "refused", why: inWords(error, response.status) };
  if (kLater.includes(response.status)) return { kind: "later", why: error?.what ?? t("refused.store") };
  return { kind: "stuck", why: stumbled(error, response.status) };
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

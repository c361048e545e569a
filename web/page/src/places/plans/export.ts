// A plan as a plain file, out of the book and into it.
import type { PlanText } from "../../api";

/** Hands the file to the phone as a download. */
export function exportPlan(plan: PlanText): void {
  const url = URL.createObjectURL(new Blob([plan.text], { type: "application/toml" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = `${plan.id}-${plan.version}.toml`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** What a plan's file calls itself, as far as a look at its lines tells; the house reads it whole. */
export function namedIn(text: string): { id: string; version: number } | undefined {
  const id = /^\s*id\s*=\s*"([^"]+)"/m.exec(text)?.[1];
  const version = /^\s*version\s*=\s*(\d+)/m.exec(text)?.[1];
  return id === undefined ? undefined : { id, version: version === undefined ? 1 : Number(version) };
}

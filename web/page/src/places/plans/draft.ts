// The plan that is open on this phone, with the changes that are not signed and the wheel whose days are reckoned.
import type { PlanEdit } from "../../api";
import { Cell } from "../../cell";

export interface OpenPlan {
  id: string;
  version: number;
  wheel?: number | undefined;   // whose next 30 days are shown
  edits: PlanEdit[];
}

export const open = new Cell<OpenPlan>({ id: "", version: 0, edits: [] });

const is = (plan: { id: string; version: number }) => open.value.id === plan.id && open.value.version === plan.version;

/** Opens a plan; what was changed in it and not signed is still there, of another plan it is dropped. */
export function openPlan(plan: { id: string; version: number }, wheel?: number): void {
  open.set({ id: plan.id, version: plan.version, wheel: wheel ?? (is(plan) ? open.value.wheel : undefined), edits: is(plan) ? open.value.edits : [] });
}

export function say(edits: PlanEdit[]): void {
  open.set({ ...open.value, edits });
}

export const dropEdits = (): void => say([]);

export function reckonFor(wheel: number): void {
  open.set({ ...open.value, wheel });
}

// What the keeper has said of a wheel so far, and the act it becomes. Pure.
import type { CareKind, Day, EnterAct, PlanOffer, QualifyingRule, StartWord, WhereNow } from "../../api";
import { addDays, daysBetween } from "../../days";

export interface EnterDraft {
  plan?: PlanOffer;
  made?: Day;
  where?: { where: WhereNow; word: string };
  grams?: number;
  count: number;
  lot: string;
  shelf: string;
  rule?: QualifyingRule | undefined;   // typed for the law: it locks the release
  starts: { start: StartWord; day: Day; reckoned: boolean }[];
  last: Partial<Record<CareKind, Day>>;
}

/** Whom it suits, and whether the law that is typed with it lets it go in time. In a new cave nobody lies yet, but the
    law asks all the same. Empty: too little was said. */
export function fitPath({ plan, made, where, rule }: EnterDraft): string {
  if (!plan || !made || !where) return "";
  const cave = "cave" in where.where ? `&cave=${where.where.cave}` : "";
  return `/api/fit?plan=${encodeURIComponent(plan.id)}${cave}&made=${made}${rule ? `&rule=${encodeURIComponent(JSON.stringify(rule))}` : ""}`;
}

export const kEmpty: EnterDraft = { count: 1, lot: "", shelf: "", starts: [], last: {} };

/** As many taps enter it: of a wheel that was not made today it is asked what went before. */
export const stepCount = (made: Day, today: Day): number => (made === today ? 4 : 5);

/** The usual length before a part begins, in whole days. */
function usual(part: PlanOffer["parts"][number]): number | undefined {
  const { usual_low: low, usual_high: high } = part;
  if (low === undefined && high === undefined) return undefined;
  return Math.round(((low ?? high!) + (high ?? low!)) / 2);
}

const inBox = (where: WhereNow, kinds: Map<number, string>) => ("new" in where ? where.new.kind : kinds.get(where.cave)) !== "counter";

/** Later parts that may lie behind a wheel of this age which lies where it was said to lie, each with the day that the
    plan's usual length gives. The counter is where a wheel dries: nothing later has begun there. */
export function proposedStarts(plan: PlanOffer, made: Day, today: Day, where: WhereNow, kinds: Map<number, string>): EnterDraft["starts"] {
  if (!inBox(where, kinds)) return [];
  const found: EnterDraft["starts"] = [];
  let day = made;
  for (const part of plan.parts) {
    const days = usual(part);
    if (days === undefined) break;
    day = addDays(day, days);
    if (day > today) break;
    found.push({ start: part.start, day, reckoned: true });
  }
  return found;
}

/** The cares that it makes sense to ask "last done?" of: turning, and washing where the part that it is in asks for it. */
export function askedLast(plan: PlanOffer, starts: EnterDraft["starts"]): CareKind[] {
  const begun = new Set(starts.map((s) => s.start));
  const part = [...plan.parts].reverse().find((p) => begun.has(p.start));
  const asked: CareKind[] = part?.cares.includes("wash") ? ["turn", "wash"] : ["turn"];
  return asked.filter((kind) => plan.cares.includes(kind));
}

export type LastWord = "today" | "yesterday" | "some" | "unknown";

/** "Some days ago" is taken as three, within the wheel's life: enough to ask the care soon. */
export function lastDay(word: LastWord, today: Day, made: Day): Day | undefined {
  if (word === "unknown") return undefined;
  const back = word === "today" ? 0 : word === "yesterday" ? 1 : 3;
  const day = addDays(today, -Math.min(back, Math.max(0, daysBetween(made, today))));
  return day < made ? made : day;
}

const shelved = (where: WhereNow, shelf: string): WhereNow => (shelf.trim() ? { ...where, shelf: shelf.trim() } : where);

/** Boxes and counters have one place; rooms and fridges have shelves. */
export const hasShelves = (where: WhereNow, kinds: Map<number, string>): boolean => ["room", "fridge"].includes("new" in where ? where.new.kind : kinds.get(where.cave) ?? "");

export function actOf(draft: EnterDraft): Omit<EnterAct, never> | undefined {
  const { plan, made, where } = draft;
  if (!plan || !made || !where) return undefined;
  return {
    kind: "enter", plan: plan.id, made, count: draft.count, where: shelved(where.where, draft.shelf), starts: draft.starts,
    last: Object.entries(draft.last).map(([kind, day]) => ({ kind: kind as CareKind, day: day! })),
    ...(draft.grams === undefined ? {} : { grams: draft.grams }),
    ...(draft.lot.trim() ? { lot: draft.lot.trim() } : {}),
    ...(draft.rule ? { rule: draft.rule } : {}),
  };
}

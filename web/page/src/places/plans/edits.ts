// Changes of a plan on their way to being signed: gathered by what they are about, and laid over the plan. Pure.
import type { PlanCare, PlanEdit, PlanStage, PlanText } from "../../api";

/** A stage of a plan: its part, the road of a branch it is on, its place there. */
export interface StageAt { part: number; option?: string | undefined; stage: number }
export type Change = NonNullable<PlanEdit["set"]>;
export type Addition = NonNullable<PlanEdit["add"]>;

/** "1_keep on_0": for addresses. */
export const keyOf = (at: StageAt): string => [at.part, ...(at.option === undefined ? [] : [at.option]), at.stage].join("_");

export function atOf(key: string): StageAt | undefined {
  const [part, ...rest] = key.split("_");
  const stage = rest.pop();
  if (stage === undefined || Number.isNaN(Number(part)) || Number.isNaN(Number(stage))) return undefined;
  return { part: Number(part), stage: Number(stage), ...(rest.length > 0 ? { option: rest.join("_") } : {}) };
}

const stagesOf = (plan: PlanText, at: StageAt): PlanStage[] | undefined => {
  const part = plan.parts[at.part];
  return at.option === undefined ? part?.stages : part?.branch?.options.find((o) => o.name === at.option)?.stages;
};
export const stageOfPlan = (plan: PlanText, at: StageAt): PlanStage | undefined => stagesOf(plan, at)?.[at.stage];

/** All stages in the order of a life, with where they stand. */
export function stagesInOrder(plan: PlanText): { at: StageAt; stage: PlanStage }[] {
  return plan.parts.flatMap((part, p) => [
    ...part.stages.map((stage, s) => ({ at: { part: p, stage: s }, stage })),
    ...(part.branch?.options ?? []).flatMap((option) => option.stages.map((stage, s) => ({ at: { part: p, option: option.name, stage: s }, stage }))),
  ]);
}

const same = (edit: PlanEdit, at: StageAt, care: number | undefined) =>
  edit.part === at.part && edit.option === at.option && edit.stage === at.stage && edit.care === care && !edit.add;

const place = (at: StageAt, care?: number) => ({ part: at.part, stage: at.stage, ...(at.option === undefined ? {} : { option: at.option }), ...(care === undefined ? {} : { care }) });

const kCadences = ["every_days", "times_a_week", "on_day", "morning_and_evening"] as const;
const isCadence = (change: Change) => kCadences.some((key) => key in change);

/** Of two cadences the later said holds alone. */
function merged(before: Change, change: Change): Change {
  const kept = { ...before };
  if (isCadence(change)) for (const key of kCadences) delete kept[key];
  return { ...kept, ...change };
}

/** What is not a removal first, removals last and from the end, so that no place shifts under another. */
function ordered(edits: PlanEdit[]): PlanEdit[] {
  const rank = (e: PlanEdit) => (e.remove ? 2 : e.add ? 1 : 0);
  return [...edits].sort((a, b) => rank(a) - rank(b) || (a.remove && b.remove ? (b.care ?? 0) - (a.care ?? 0) : 0));
}

export function changed(edits: PlanEdit[], at: StageAt, care: number | undefined, change: Change): PlanEdit[] {
  const old = edits.find((e) => same(e, at, care));
  const next: PlanEdit = { ...(old ?? place(at, care)), set: merged(old?.set ?? {}, change) };
  return ordered([...edits.filter((e) => e !== old), next]);
}

export function explained(edits: PlanEdit[], at: StageAt, care: number | undefined, why: string): PlanEdit[] {
  return edits.map((e) => {
    if (!same(e, at, care)) return e;
    const { why: _why, ...rest } = e;
    return why.trim() ? { ...rest, why: why.trim() } : rest;
  });
}

/** Struck from the plan; asked again, it stands again. */
export function removed(edits: PlanEdit[], at: StageAt, care: number): PlanEdit[] {
  const old = edits.find((e) => same(e, at, care));
  const others = edits.filter((e) => e !== old);
  return old?.remove ? others : ordered([...others, { ...place(at, care), remove: true }]);
}

export const added = (edits: PlanEdit[], at: StageAt, add: Addition): PlanEdit[] => ordered([...edits, { ...place(at), add }]);
export const dropped = (edits: PlanEdit[], edit: PlanEdit): PlanEdit[] => edits.filter((e) => e !== edit);
export const editOf = (edits: PlanEdit[], at: StageAt, care: number | undefined): PlanEdit | undefined => edits.find((e) => same(e, at, care));
export const additionsOf = (edits: PlanEdit[], at: StageAt): PlanEdit[] =>
  edits.filter((e) => e.add !== undefined && e.part === at.part && e.option === at.option && e.stage === at.stage);

/** A care as it would be after its change. */
export function careAfter(care: PlanCare, edit: PlanEdit | undefined): PlanCare {
  const set = edit?.set;
  if (!set) return care;
  const next = { ...care };
  if (isCadence(set)) for (const key of kCadences) delete next[key];
  const { salt, ready: _0, temperature_band: _1, humidity_band: _2, temperature_target: _3, humidity_target: _4, last_day: _5, ...own } = set;
  Object.assign(next, own);
  if (salt) next.wash = { additions: [], note: "", ...care.wash, salt: { ...salt, source: edit?.why ?? care.wash?.salt.source ?? "" } };
  return next;
}

/** A stage as it would be after its own change; its cares are for `careAfter`. */
export function stageAfter(stage: PlanStage, edit: PlanEdit | undefined): PlanStage {
  const set = edit?.set;
  if (!set) return stage;
  const next = { ...stage };
  for (const key of ["temperature_band", "humidity_band", "temperature_target", "humidity_target"] as const) {
    const span = set[key];
    if (span) next[key] = { ...span, source: edit?.why ?? stage[key]?.source ?? "" };
  }
  if (set.last_day !== undefined) next.last_day = set.last_day;
  return next;
}

/** How often each kind is done in a span of days, the most frequent first. */
export function counts<K extends string>(days: { kinds: K[] }[]): { kind: K; count: number }[] {
  const sums = new Map<K, number>();
  for (const day of days) for (const kind of day.kinds) sums.set(kind, (sums.get(kind) ?? 0) + 1);
  return [...sums].map(([kind, count]) => ({ kind, count })).sort((a, b) => b.count - a.count);
}

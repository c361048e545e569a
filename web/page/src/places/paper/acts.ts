// What is typed back as acts: each line by itself, at the hour and by the keeper that stand on the paper. Pure.
import type { CareKind } from "../../api";
import type { ShownLine } from "../../house/overlay";
import { keeperDay } from "../../days";
import type { Draft } from "../../queue/entry";
import { stampOf } from "../../clock";
import { t } from "../../words";
import { isSettled } from "../round/sum";
import type { Said } from "./parse";

const shares = (a: CareKind[], b: CareKind[]) => a.some((k) => b.includes(k));

/** Wheels of the line that were not settled meanwhile, on another phone or by this very sheet. */
export function openOf(said: Said, present: ShownLine[]): number[] {
  if (said.row.kind !== "line") return said.row.question.wheels;
  const { kinds, wheels } = said.row.line;
  const settled = new Set(present.filter((l) => isSettled(l) && shares(l.kinds, kinds)).flatMap((l) => l.wheels));
  return wheels.filter((w) => !settled.has(w));
}

function answered(said: Said): Draft[] {
  if (said.row.kind !== "question") return [];
  const { question } = said.row;
  const shared = { kind: "answer" as const, wheels: question.wheels, ...signed(said) };
  if (said.answer === t("answer.not yet") || said.answer === t("answer.later")) return [];
  if (question.kind === "branch") return [{ ...shared, option: said.answer }];
  const to = question.where?.find((w) => w.cave_name === said.answer);
  return [{ ...shared, start: question.start ?? "dry", day: keeperDay(said.at), ...(to ? { move_to: { cave: to.cave } } : {}) }];
}

const signed = (said: Said) => ({ said_at: stampOf(said.at), ...(said.keeper ? { keeper: said.keeper } : {}) });

/** `open`: the wheels that are still to be signed. */
export function actsOf(said: Said, open: number[]): Draft[] {
  if (said.row.kind === "question") return answered(said);
  const left = said.left.filter((w) => open.includes(w));
  const wheels = open.filter((w) => !left.includes(w));
  if (wheels.length === 0) return [];
  return [{
    kind: "care", wheels, done: said.done, skipped: said.skipped,
    ...(said.skipped.length > 0 && said.reason ? { reason: said.reason } : {}),
    ...(left.length > 0 ? { left: { wheels: left, why: said.reason } } : {}),
    ...signed(said),
  }];
}

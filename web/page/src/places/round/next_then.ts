// What a care done today does to its next due day, as far as a plan's plain cadence tells. Pure.
import type { CareKind, Day, PlanText, Wheel } from "../../api";
import { addDays } from "../../days";
import { dayWord } from "../../parts/names";
import { t } from "../../words";

type Stage = PlanText["parts"][number]["stages"][number];

/** The stages of the wheel's way: those of each part and of the branch that it took. */
function stagesOf(plan: PlanText, wheel: Wheel): Stage[] {
  return plan.parts.flatMap((part) => [...part.stages, ...(part.branch?.options.filter((o) => o.name === (wheel.branch?.option ?? part.branch?.default_option)).flatMap((o) => o.stages) ?? [])]);
}

/** "next turn then Sunday, not Saturday"; nothing where the plan counts by the week, or nothing moves. */
export function nextThen(plan: PlanText | undefined, wheel: Wheel, kind: CareKind, today: Day): string {
  const stage = plan && stagesOf(plan, wheel).find((s) => s.name === wheel.stage);
  const care = stage?.cares.find((c) => c.kinds.includes(kind));
  if (!care?.every_days || care.kinds.length > 1) return "";
  const then = addDays(today, care.every_days);
  const was = wheel.next?.kinds.includes(kind) ? wheel.next.due : undefined;
  if (was === then) return "";
  const words = { care: t(`care.${kind}`), day: dayWord(then, today) };
  return was && was > today ? t("did.next then not", { ...words, was: dayWord(was, today) }) : t("did.next then", words);
}

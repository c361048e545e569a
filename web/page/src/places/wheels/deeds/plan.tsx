// Another plan: from the day of the change on; what was done keeps the plan that it was done under.
import { useState } from "preact/hooks";
import type { Plans } from "../../../api";
import { useAnswer } from "../../../house/answers";
import { queue } from "../../../house/acts";
import { Entry, EntryButton, GroupHead, WordButton } from "../../../parts/leaf";
import { go } from "../../../route";
import { t, whole } from "../../../words";
import { openPlan } from "../../plans/draft";
import { Which } from "../which";
import { DeedBook, type WheelProps } from "./of_wheel";

export function PlanDeed({ page, lot, leave }: WheelProps) {
  const plans = useAnswer<Plans>("/api/plans").value?.plans ?? [];
  const { wheel } = page;
  const [key, setKey] = useState<string>();
  const [chosen, setChosen] = useState([wheel.id]);
  const to = plans.find((p) => `${p.id} ${p.version}` === key);
  const tap = () => {
    if (!to) return;
    queue.add({ kind: "plan", wheels: chosen, plan: to.id, version: to.version });
    leave();
  };
  const open = () => {
    openPlan(wheel.plan, wheel.id);
    go(`/plans/${encodeURIComponent(wheel.plan.id)}/${wheel.plan.version}`);
  };
  const others = plans.filter((p) => p.id !== wheel.plan.id || p.version !== wheel.plan.version);
  return (
    <DeedBook page={page} title={t("plan.title")} verb={to ? to.family : t("plan.deed")} low={t("plan.low")} off={!to || chosen.length === 0} tap={tap}>
      <Entry m={<span class="note strong">{t("plan.now")}</span>}>
        <span class="word">{whole(wheel.family)}</span><span class="note block">{t("plan.version", { version: wheel.plan.version })}</span>
      </Entry>
      <WordButton tap={open}>{t("plan.open")}</WordButton>
      <GroupHead b={t("plan.other")} />
      {others.map((plan) => {
        const own = `${plan.id} ${plan.version}`;
        return (
          <EntryButton key={own} class={`pick ${own === key ? "on" : ""}`} pressed={own === key} tap={() => setKey(own)}>
            <span class="word">{whole(plan.family)}</span><span class="note">{t("plan.version", { version: plan.version })}</span>
          </EntryButton>
        );
      })}
      <Which of={lot} chosen={chosen} choose={setChosen} />
    </DeedBook>
  );
}

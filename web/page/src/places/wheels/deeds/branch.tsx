// Which way a wheel goes on, eaten young or kept: answered in the round, and to be changed here at any age, forwards only.
import { useState } from "preact/hooks";
import { queue } from "../../../house/acts";
import { Entry, EntryButton } from "../../../parts/leaf";
import { t } from "../../../words";
import { Which } from "../which";
import { DeedBook, type WheelProps } from "./of_wheel";

export function BranchDeed({ page, lot, leave }: WheelProps) {
  const { branch } = page.wheel;
  const [option, setOption] = useState<string>();
  const [chosen, setChosen] = useState([page.wheel.id]);
  const tap = () => {
    if (!option) return;
    queue.add({ kind: "answer", wheels: chosen, option });
    leave();
  };
  const same = lot.filter((w) => w.plan.id === page.wheel.plan.id && w.branch);
  return (
    <DeedBook page={page} title={t("branch.title")} verb={option ?? t("branch.deed")} low={t("branch.low")} off={!option || chosen.length === 0} tap={tap}>
      {!branch && <Entry><span class="note">{t("branch.none")}</span></Entry>}
      {branch?.options.map((one) => (
        <EntryButton key={one} class={`pick ${one === option ? "on" : ""}`} pressed={one === option} m={<span class="sign" />} tap={() => setOption(one)}>
          <span class="verb">{one}</span>
          {one === branch.option && <span class="note">{t(branch.default ? "branch.default" : "branch.now")}</span>}
        </EntryButton>
      ))}
      {branch && <Which of={same.length > 0 ? same : [page.wheel]} chosen={chosen} choose={setChosen} />}
    </DeedBook>
  );
}

// Split off: some wheels of a lot are a lot of their own from now on, and take their history along.
import { useState } from "preact/hooks";
import { queue } from "../../../house/acts";
import { Entry } from "../../../parts/leaf";
import { WriteLine } from "../../../parts/write";
import { many, t } from "../../../words";
import { Which } from "../which";
import { DeedBook, type WheelProps } from "./of_wheel";

export function SplitDeed({ page, lot, leave }: WheelProps) {
  const [chosen, setChosen] = useState([page.wheel.id]);
  const [name, setName] = useState("");
  const whole = chosen.length === lot.length;
  const off = name.trim() === "" || chosen.length === 0;
  const tap = () => {
    queue.add({ kind: "split", wheels: chosen, lot: name.trim() });
    leave();
  };
  return (
    <DeedBook page={page} title={t(lot.length > 1 ? "split.title" : "split.title.own")} verb={t("split.deed")}
              low={off ? t("split.low") : many("split.into", chosen.length, { lot: name.trim() })} off={off} tap={tap}>
      <Which of={lot} chosen={chosen} choose={setChosen} />
      <WriteLine id="lot" label={t("enter.lot")} hint={t("split.hint")} value={name} say={setName} most={20} />
      <Entry><span class="note">{t(whole && lot.length > 1 ? "split.whole" : "split.more")}</span></Entry>
    </DeedBook>
  );
}

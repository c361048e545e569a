// Held: a wheel, some, or the lot stay out of release, last in the round, until a keeper lets them go again.
import { useState } from "preact/hooks";
import { shortDate, keeperDay } from "../../../days";
import { queue } from "../../../house/acts";
import { Entry } from "../../../parts/leaf";
import { WriteLine } from "../../../parts/write";
import { t } from "../../../words";
import { Which } from "../which";
import { DeedBook, type WheelProps } from "./of_wheel";

export function HoldDeed({ page, lot, leave }: WheelProps) {
  const { held } = page.wheel;
  const [chosen, setChosen] = useState([page.wheel.id]);
  const [why, setWhy] = useState("");
  const tap = () => {
    queue.add({ kind: "hold", wheels: chosen, held: !held, why: why.trim() });
    leave();
  };
  const missing = chosen.length === 0 || (!held && why.trim() === "");
  return (
    <DeedBook page={page} title={t(held ? "hold.let go" : "hold.title")} verb={t(held ? "hold.let go.deed" : "hold.deed")}
              low={missing ? t("hold.why missing") : t(held ? "hold.let go.low" : "hold.low")} off={missing} tap={tap}>
      {held && <Entry m={shortDate(keeperDay(held.at))}><span class="hand">{held.why}</span></Entry>}
      <Which of={lot.filter((w) => !w.held === !held)} chosen={chosen} choose={setChosen} />
      <WriteLine id="why" label={t("hold.why")} hint={t(held ? "hold.let go.hint" : "hold.hint")} value={why} say={setWhy} />
      <Entry><span class="note">{t("hold.more")}</span></Entry>
    </DeedBook>
  );
}

// Gone: one wheel or so many of a lot, eaten, sold, given or lost. Their pages stay in the book.
import { useState } from "preact/hooks";
import { gone } from "../../../house/acts";
import { EntryButton, GroupHead } from "../../../parts/leaf";
import { joined, lotWord } from "../../../parts/names";
import { WriteLine } from "../../../parts/write";
import { go } from "../../../route";
import { t } from "../../../words";
import { Counted, Which } from "../which";
import { DeedBook, type WheelProps } from "./of_wheel";

const kWays = ["eaten", "sold", "given", "lost"] as const;

export function GoneDeed({ page, lot, leave }: WheelProps) {
  const [how, setHow] = useState<(typeof kWays)[number]>();
  const [to, setTo] = useState("");
  const [chosen, setChosen] = useState([page.wheel.id]);
  const [byCount, setByCount] = useState(false);
  const outward = how === "sold" || how === "given";
  const held = lot.filter((w) => w.held && chosen.includes(w.id)).length;
  const tap = () => {
    if (!how) return;
    gone(chosen, how, outward ? to.trim() : "");
    if (chosen.includes(page.wheel.id)) go("/wheels", true);
    else leave();
  };
  const low = joined(t("gone.count", { count: chosen.length, of: lot.length }), lotWord(page.wheel.lot), outward && to.trim(), held > 0 && t("gone.held", { count: held }));
  return (
    <DeedBook page={page} title={t(lot.length > 1 ? "gone.title.many" : "gone.title")} verb={how ? t(`gone.${how}`) : t("wheels.gone")}
              low={lot.length > 1 ? low : held > 0 ? t("gone.held", { count: held }) : t("gone.low")} off={!how || chosen.length === 0} tap={tap}>
      {lot.length > 1 && (
        <EntryButton class={`pick ${byCount ? "on" : ""}`} pressed={byCount} tap={() => { setByCount(!byCount); setChosen([page.wheel.id]); }}>
          <span class="word hand">{t("gone.by count", { lot: lotWord(page.wheel.lot) || t("gone.the lot") })}</span>
        </EntryButton>
      )}
      {byCount ? <Counted of={lot} chosen={chosen} choose={setChosen} /> : <Which of={lot} chosen={chosen} choose={setChosen} />}
      <GroupHead b={t("gone.how")} />
      {kWays.map((way) => (
        <EntryButton key={way} class={`pick ${way === how ? "on" : ""}`} pressed={way === how} m={<span class="sign" />} tap={() => setHow(way)}>
          <span class="verb">{t(`gone.${way}`)}</span>
        </EntryButton>
      ))}
      {outward && <WriteLine id="to" label={t("gone.to")} hint={t("gone.to.hint")} value={to} say={setTo} most={80} />}
    </DeedBook>
  );
}

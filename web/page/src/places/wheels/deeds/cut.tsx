// Cut: a part is eaten, sold or given; the rest goes on with its cut face.
import { useState } from "preact/hooks";
import { queue } from "../../../house/acts";
import { Cells } from "../../../parts/cells";
import { Entry, GroupHead } from "../../../parts/leaf";
import { WriteLine } from "../../../parts/write";
import { t } from "../../../words";
import { DeedBook, type WheelProps } from "./of_wheel";

const kLeft = [0.75, 0.5, 0.25] as const;
const kHow = ["eaten", "sold", "given", "tasted"] as const;

export const leftWord = (left: number): string =>
  left >= 1 ? t("cut.left.1") : left === 0.75 || left === 0.5 || left === 0.25 ? t(`cut.left.${left}`) : t("cut.left.percent", { percent: Math.round(left * 100) });

export function CutDeed({ page, leave }: WheelProps) {
  const [left, setLeft] = useState<number>();
  const [how, setHow] = useState<(typeof kHow)[number]>();
  const [to, setTo] = useState("");
  const possible = kLeft.filter((part) => part < page.wheel.left);
  const tap = () => {
    if (left === undefined || !how) return;
    queue.add({ kind: "cut", wheels: [page.wheel.id], left, how: to.trim() ? `${how}, ${to.trim()}` : how });
    leave();
  };
  return (
    <DeedBook page={page} title={t("cut.title")} verb={how ? t(`cut.${how}`) : t("cut.deed")} low={left === undefined ? t("cut.low") : t("cut.goes on", { left: leftWord(left) })}
              off={left === undefined || !how} tap={tap}>
      <GroupHead b={t("cut.left")} />
      {possible.length > 0 ? <Entry class="full tall"><Cells columns={3} choices={possible.map((part) => ({ value: part as number, word: leftWord(part) }))} chosen={left} choose={setLeft} /></Entry>
        : <Entry><span class="note">{t("cut.little")}</span></Entry>}
      <GroupHead b={t("cut.rest")} />
      <Entry class="full"><Cells choices={kHow.map((word) => ({ value: word, word: t(`cut.${word}`) }))} chosen={how} choose={setHow} /></Entry>
      {(how === "sold" || how === "given") && <WriteLine id="to" label={t("gone.to")} hint={t("gone.to.hint")} value={to} say={setTo} />}
      <Entry><span class="note">{t("cut.face")}</span></Entry>
    </DeedBook>
  );
}

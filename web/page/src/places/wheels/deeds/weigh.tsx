// A weighing: grams now, and how much that is less than at the first.
import { useState } from "preact/hooks";
import { weekdayDate } from "../../../days";
import { weight } from "../../../figures";
import { queue } from "../../../house/acts";
import { Entry, GroupHead } from "../../../parts/leaf";
import { figureOf, WriteLine } from "../../../parts/write";
import { t } from "../../../words";
import { gramsOf, lost } from "../scale";
import { DeedBook, type WheelProps } from "./of_wheel";

export function WeighDeed({ page, leave }: WheelProps) {
  const [text, setText] = useState("");
  const figure = figureOf(text);
  const grams = figure === undefined ? undefined : gramsOf(figure);
  const first = page.weighings[0]?.grams ?? page.wheel.grams;
  const less = lost(first, grams);
  const low = grams === undefined ? t("weigh.low") : less === undefined ? weight(grams) : t("weigh.less", { weight: weight(grams), percent: Math.round(less) });
  const tap = () => {
    if (grams === undefined) return;
    queue.add({ kind: "care", wheels: [page.wheel.id], done: ["weigh"], skipped: [], grams });
    leave();
  };
  return (
    <DeedBook page={page} title={t("weigh.title")} verb={t("cared.weigh")} low={low} off={grams === undefined} tap={tap}>
      <WriteLine id="grams" label={t("weigh.grams")} hint={t("weigh.hint")} value={text} say={setText} most={8} figure />
      {page.weighings.length > 0 && <GroupHead b={t("weigh.before")} />}
      {page.weighings.map((w) => <Entry key={w.at} m={weekdayDate(w.day)}><span class="word">{weight(w.grams)}</span></Entry>)}
    </DeedBook>
  );
}

// Moved: one wheel or several, to another cave, shelf and place on it.
import { useState } from "preact/hooks";
import type { Plans, WhereNow } from "../../../api";
import { useAnswer } from "../../../house/answers";
import { move } from "../../../house/acts";
import { GroupHead } from "../../../parts/leaf";
import { WherePicker } from "../../../parts/where";
import { t } from "../../../words";
import { FitAsked } from "../../enter/fit";
import { Which } from "../which";
import { DeedBook, type WheelProps } from "./of_wheel";
import { ShelfChoice } from "./shelf";

export function MoveDeed({ page, lot, leave }: WheelProps) {
  const plans = useAnswer<Plans>("/api/plans").value;
  const [to, setTo] = useState<{ where: WhereNow; word: string }>();
  const [shelf, setShelf] = useState("");
  const [chosen, setChosen] = useState([page.wheel.id]);
  const tap = () => {
    if (!to) return;
    move(chosen, { ...to.where, ...(shelf.trim() ? { shelf: shelf.trim() } : {}) });
    leave();
  };
  const low = to ? [to.word, shelf.trim()].filter(Boolean).join(", ") : t("move.low");
  return (
    <DeedBook page={page} title={t("move.title")} verb={t(chosen.length > 1 ? "move.deed.many" : "move.deed", { count: chosen.length })} low={low} off={!to || chosen.length === 0} tap={tap}>
      <Which of={lot} chosen={chosen} choose={setChosen} />
      <GroupHead b={t("move.to")} />
      <WherePicker slim caves={plans?.caves ?? []} chosen={to?.where} choose={(where, word) => setTo({ where, word })} />
      {to && "cave" in to.where && to.where.cave !== page.wheel.cave && (
        <FitAsked path={`/api/fit?plan=${encodeURIComponent(page.wheel.plan.id)}&cave=${to.where.cave}&made=${page.wheel.made}`} cave={to.word} />
      )}
      {to && <ShelfChoice cave={"cave" in to.where ? to.where.cave : undefined} shelf={shelf} say={setShelf} />}
    </DeedBook>
  );
}

// A remark on a wheel, or on its lot: seen, smelt, tasted. It stays in the journal and on the wheel's page.
import { useState } from "preact/hooks";
import { queue } from "../../../house/acts";
import { WriteText } from "../../../parts/write";
import { t } from "../../../words";
import { Which } from "../which";
import { DeedBook, type WheelProps } from "./of_wheel";

export function NoteDeed({ page, lot, leave }: WheelProps) {
  const [text, setText] = useState("");
  const [chosen, setChosen] = useState([page.wheel.id]);
  const off = text.trim() === "" || chosen.length === 0;
  const tap = () => {
    queue.add({ kind: "note", text: text.trim(), wheels: chosen });
    leave();
  };
  return (
    <DeedBook page={page} title={t("journal.note.title")} verb={t("journal.note.deed")} low={t("journal.note.low")} off={off} tap={tap}>
      <WriteText id="note" label={t("journal.note")} hint={t("journal.note.place")} value={text} say={setText} />
      <Which of={lot} chosen={chosen} choose={setChosen} />
    </DeedBook>
  );
}

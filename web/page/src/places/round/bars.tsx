// What stands on the foot of the round: the sum, or for ten seconds what was just signed and what can be done with it.
import { queue } from "../../house/acts";
import type { ShownLine } from "../../house/overlay";
import { DeedBar } from "../../parts/deed";
import { Entry } from "../../parts/leaf";
import { go } from "../../route";
import { many, t } from "../../words";
import { release, type Held } from "./held";
import { minutesWord, type Sum as Left } from "./sum";

const place = (key: string, more = "") => `/round/${encodeURIComponent(key)}${more}`;

/** "5 left", and the minutes where they are known. */
const leftWords = ({ left, minutes }: Left) => (minutes > 0 ? t("round.sum minutes", { count: left, minutes }) : t("round.sum", { count: left }));

export function UndoBar({ held, sum, line }: { held: Held; sum: Left; line: ShownLine | undefined }) {
  const undo = () => {
    queue.undo(held.act, held.key);
    release();
  };
  const several = line !== undefined && line.wheels.length > 1;
  const parts = line !== undefined && !several && line.kinds.length > 1;
  const earlier = line !== undefined || (held.question?.kind === "start" && !held.later); // of a choice between ways there is no earlier
  return (
    <DeedBar of={<><span>{held.of}</span><span>{leftWords(sum)}</span></>} label={t("round.bar")} count={several || parts ? 3 : earlier ? 2 : 1}>
      <button type="button" onClick={undo}>{t("round.undo")}</button>
      {several && <button type="button" onClick={() => go(place(held.key, "/not-all"))}>{t("round.not all")}</button>}
      {parts && <button type="button" onClick={() => go(place(held.key))}>{t("round.in part")}</button>}
      {earlier && <button type="button" onClick={() => go(place(held.key))}>{t("round.earlier")}</button>}
    </DeedBar>
  );
}

/** The same away from the round, where there is no line to say more of. */
export function UndoOnly({ held, about }: { held: Held | undefined; about: string }) {
  if (held?.key !== about) return null;
  const undo = () => {
    queue.undo(held.act, held.key);
    release();
  };
  return <DeedBar of={<span>{held.of}</span>} label={t("round.bar")} count={1}><button type="button" onClick={undo}>{t("round.undo")}</button></DeedBar>;
}

export function SumBar({ sum, questions }: { sum: Left; questions: number }) {
  if (sum.left === 0 && questions === 0) return null;
  return (
    <aside class="sumbar" aria-label={t("round.sum.label")}>
      <b>{sum.left > 0 && t("round.sum", { count: sum.left })}</b>
      <span class="note">{questions > 0 ? many("round.and", questions) : sum.changes > 0 && t("round.gloves counted")}</span>
      <b class="sumfig">{sum.minutes > 0 && t("minutes", { minutes: sum.minutes })}</b>
    </aside>
  );
}

/** The same below the lines, on paper and where two leaves lie open. */
export function Sum({ sum }: { sum: Left }) {
  if (sum.left === 0 || sum.minutes === 0) return null;
  return <Entry class="sum sum2 wide"><span class="note">{t("round.gloves left")}</span><b>{minutesWord(sum.minutes)}</b></Entry>;
}

// The days in which a plan's wheels are ready: a window, never a day, of the plan or of one road.
import { useState } from "preact/hooks";
import type { Figure, Span, StartWord } from "../../api";
import { span } from "../../figures";
import { WriteLine } from "../../parts/write";
import { t } from "../../words";
import { open, say } from "./draft";
import { changed, editOf, explained, type StageAt } from "./edits";
import { NumberSteps } from "./steps";

/** A window of years is not walked day by day. */
const stepOf = (days: number) => (days > 200 ? 10 : days > 60 ? 5 : 1);

/** A tap opens what can be changed. */
export function Ready({ ready, since, at }: { ready: Figure; since: StartWord; at: StageAt }) {
  const [editing, setEditing] = useState(false);
  const edit = editOf(open.value.edits, at, undefined);
  const after = edit?.set?.ready ?? ready;
  const was = edit?.set?.ready ? t("plans.was", { before: span(ready, 0) }) : "";
  const set = (next: Span) => say(changed(open.value.edits, at, undefined, { ready: next }));
  return (
    <>
      <button type="button" class="entry fig2" aria-expanded={editing} onClick={() => setEditing(!editing)}>
        <span class="m strong">{t("wheel.ready")}</span>
        <span class="b"><span class="word"><span class="tap">{t("plans.ready", { days: span(after, 0), since: t(`since.${since}`) })}</span></span>
          <span class="note block">{was && <>{was}. </>}{was && edit?.why ? <span class="hand">{edit.why}</span> : ready.source}</span></span>
      </button>
      {editing && (
        <section class="editor" aria-label={t("wheel.ready")}>
          <NumberSteps label={t("steps.from")} unit={t("unit.days.other")} value={after.low} step={stepOf(after.low)} least={1} most={3000} say={(low) => set({ low, high: Math.max(low, after.high) })} />
          <NumberSteps label={t("steps.to")} unit={t("unit.days.other")} value={after.high} step={stepOf(after.high)} least={1} most={3000} say={(high) => set({ low: Math.min(high, after.low), high })} />
          {edit && <WriteLine id={`why-ready-${at.option ?? ""}`} label={t("plans.why")} hint={t("plans.why.hint")} value={edit.why ?? ""} say={(text) => say(explained(open.value.edits, at, undefined, text))} />}
        </section>
      )}
    </>
  );
}

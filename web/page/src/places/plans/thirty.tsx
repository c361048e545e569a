// The thirty days of one wheel: what they are, what they would be, and for whom the change is meant.
import { useState } from "preact/hooks";
import type { PlanPage, PlanPreview, PreviewDay, Wheel, WheelStateWord } from "../../api";
import { Entry, EntryButton, WordButton } from "../../parts/leaf";
import { joined, lotWord } from "../../parts/names";
import { t } from "../../words";
import { reckonFor } from "./draft";
import { counts } from "./edits";
import { MonthPair, MonthScale } from "./month";
import type { Previewed } from "./preview";

const sumWords = (days: PreviewDay[]) => counts(days).map(({ kind, count }) => `${t(`care.${kind}`)} ${count}`).join(", ") || t("plans.nothing asked");

function Pair({ preview, wheel, state }: { preview: PlanPreview; wheel: Wheel | undefined; state: WheelStateWord }) {
  return (
    <>
      <Entry class="class pairhead" m={t("plans.30 days")}>
        <span>{t("plans.before")}<b>{sumWords(preview.before)}</b></span><span>{t("plans.after")}<b>{sumWords(preview.after)}</b></span>
      </Entry>
      <Entry class="full bare heavy" m={<MonthScale today={preview.head.day} age={wheel?.day} />}><MonthPair before={preview.before} after={preview.after} today={preview.head.day} state={state} /></Entry>
      {preview.changed.length > 0 && <Entry m={<span class="note strong">{t("plans.changed")}</span>}>{preview.changed.map((c) => <p key={c} class="note">{c}</p>)}</Entry>}
    </>
  );
}

/** Another wheel of those that follow the plan. */
function Wheels({ page, all, wheel }: { page: PlanPage; all: Wheel[]; wheel: Wheel | undefined }) {
  const [choosing, setChoosing] = useState(false);
  const seen = new Set<string>();
  const kinds = all.filter((w) => page.wheels.includes(w.id)).filter((w) => {
    const key = `${w.lot_id} ${w.stage} ${w.place}`;
    return !seen.has(key) && seen.add(key);
  });
  if (!wheel) return <Entry><span class="note">{t("plans.no wheel")}</span></Entry>;
  const words = joined(wheel.name, lotWord(wheel.lot), wheel.place);
  if (kinds.length < 2) return <Entry><span class="note">{t("plans.of wheel", { wheel: words })}</span></Entry>;
  if (!choosing) return <WordButton m={<span class="note">{t("plans.reckoned for")}</span>} tap={() => setChoosing(true)}>{words}</WordButton>;
  return <>{kinds.slice(0, 40).map((w) => <EntryButton key={w.id} class={`pick ${w.id === wheel.id ? "on" : ""}`} pressed={w.id === wheel.id} tap={() => { reckonFor(w.id); setChoosing(false); }}><span class="word">{joined(w.name, lotWord(w.lot), w.place)}</span><span class="note">{w.stage}</span></EntryButton>)}</>;
}

export function Thirty({ page, all, wheel, found, state }: { page: PlanPage; all: Wheel[]; wheel: Wheel | undefined; found: Previewed; state: WheelStateWord }) {
  return (
    <>
      <Wheels page={page} all={all} wheel={wheel} />
      {found.error !== undefined && <Entry class="trouble"><span class="strong">{found.error || t("plans.no word")}</span></Entry>}
      {(found.preview?.faults ?? []).map((f) => <Fault key={`${f.line} ${f.field}`} fault={f} />)}
      {found.preview && wheel && <Pair preview={found.preview} wheel={wheel} state={state} />}
    </>
  );
}

/** "line 12, humidity_band: low is above high" */
export function Fault({ fault }: { fault: PlanPreview["faults"][number] }) {
  return <Entry class="trouble" m={<span class="strong">{t("plans.line", { line: fault.line })}</span>}><span class="strong">{fault.field}</span><span class="note block">{fault.what}</span></Entry>;
}

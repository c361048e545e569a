// To vouch for days that no probe saw: with a name and a reason, and only where the typed rule allows it.
import { useState } from "preact/hooks";
import { daysBetween, longDate } from "../../../days";
import { queue } from "../../../house/acts";
import { Entry, EntryButton, GroupHead } from "../../../parts/leaf";
import { daySpan } from "../../../parts/names";
import { WriteLine } from "../../../parts/write";
import { many, t } from "../../../words";
import { DeedBook, type WheelProps } from "../deeds/of_wheel";
import { Which } from "../which";
import { runsOf } from "./weeks";

export function VouchDeed({ page, lot, leave }: WheelProps) {
  const q = page.wheel.qualifying;
  const runs = runsOf((q?.days ?? []).filter((d) => d.is === "unproven").map((d) => d.day));
  const [from, setFrom] = useState(runs.length === 1 ? runs[0]!.from : undefined);
  const [name, setName] = useState("");
  const [reason, setReason] = useState("");
  const [chosen, setChosen] = useState([page.wheel.id]);
  const run = runs.find((r) => r.from === from);
  const allowed = q?.rule.vouching === true;
  const off = !allowed || !run || name.trim() === "" || reason.trim() === "" || chosen.length === 0;
  const tap = () => {
    if (!run) return;
    queue.add({ kind: "vouch", wheels: chosen, from: run.from, to: run.to, name: name.trim(), reason: reason.trim() });
    leave();
  };
  const count = run ? daysBetween(run.from, run.to) + 1 : 0;
  return (
    <DeedBook page={page} title={t("vouch.title")} verb={t("vouch.deed")} low={run ? many("vouch.low", count, { days: spanWord(run) }) : t("vouch.which")} off={off} tap={tap}>
      {!allowed && <Entry><span class="note strong">{t("release.no vouching")}</span></Entry>}
      <GroupHead b={t("vouch.days")} />
      {runs.length === 0 && <Entry><span class="note">{t("vouch.none")}</span></Entry>}
      {runs.map((r) => (
        <EntryButton key={r.from} class={`pick ${r.from === from ? "on" : ""}`} pressed={r.from === from} m={<span class="sign" />} tap={() => setFrom(r.from)}>
          <span class="word">{r.from === r.to ? longDate(r.from) : spanWord(r)}</span>
        </EntryButton>
      ))}
      <WriteLine id="reason" label={t("release.reason")} hint={t("vouch.reason.hint")} value={reason} say={setReason} />
      <WriteLine id="name" label={t("release.name")} hint={t("release.name.hint")} value={name} say={setName} most={60} />
      <Which of={lot} chosen={chosen} choose={setChosen} />
      <Entry><span class="note">{t("vouch.more")}</span></Entry>
    </DeedBook>
  );
}

const spanWord = (r: { from: string; to: string }) => daySpan(r.from, r.to);

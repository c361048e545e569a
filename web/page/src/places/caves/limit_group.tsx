// One rule by which a cave is watched: told in words with its figures in them and where they come from; opened, each
// figure can be changed.
import { useState } from "preact/hooks";
import type { Alarm, AlarmWord } from "../../api";
import { now } from "../../clock";
import { Cells } from "../../parts/cells";
import { Entry, EntryButton, GroupHead, WordButton } from "../../parts/leaf";
import { many, t, type WordKey } from "../../words";
import { NumberSteps } from "../plans/steps";
import { endsWord, kKindOf, limitStep, limitWord, sourcesOf, toldIn, type Row } from "./limit_values";

interface RowProps { row: Row; value: number; say: (value: number) => void }

const shownUnit = ({ unit }: Row) => (unit === "share" ? "%" : unit === "K" ? "°" : unit === "o'clock" ? t("limits.oclock") : unit);

/** The figure with its steps. A share is shown and changed in per cent. */
function Steps({ row, value, say }: RowProps) {
  const by = row.unit === "share" ? 100 : 1;
  const spoken = row.unit === "min" || row.unit === "share" || row.unit === "o'clock";
  return (
    <NumberSteps label={spoken ? limitWord(row, value) : ""} value={by === 100 ? Math.round(value * by) : value} unit={shownUnit(row)}
                 step={limitStep(row, value) * by} least={row.least * by} most={row.most * by} say={(next) => say(next / by)} />
  );
}

function LimitRow({ row, value, say }: RowProps) {
  const [open, setOpen] = useState(false);
  const changed = value !== row.usual;
  return (
    <>
      <EntryButton class={`pick ${changed ? "on" : ""}`} m={<span class={changed ? "hand strong" : "strong"}>{limitWord(row, value)}</span>} tap={() => setOpen(!open)}>
        <span class="word">{t(`limit.${row.id}` as WordKey)}</span>
        {changed && <span class="note">{t("limits.usual", { value: limitWord(row, row.usual) })}</span>}
      </EntryButton>
      {open && (
        <>
          <Steps row={row} value={value} say={say} />
          <Entry>
            <p class="note">{t(`limit.${row.id}.low` as WordKey)}</p>
            <p class="note">{t("limits.bounds", { least: limitWord(row, row.least), most: limitWord(row, row.most), usual: limitWord(row, row.usual) })}</p>
            <p class="note">{t("limits.source", { source: row.source })}</p>
          </Entry>
          {changed && <WordButton tap={() => say(row.usual)}>{t("limits.usual again", { value: limitWord(row, row.usual) })}</WordButton>}
        </>
      )}
    </>
  );
}

/** A figure within a rule: in the keeper's ink, with what is usual, where it was changed. */
function Figure({ row, value }: { row: Row; value: number }) {
  if (value === row.usual) return <b>{limitWord(row, value)}</b>;
  return <><b class="hand">{limitWord(row, value)}</b> {t("limits.usual.so", { value: limitWord(row, row.usual) })}</>;
}

interface GroupProps {
  group: string;
  rows: Row[];
  valueOf: (row: Row) => number;
  say: (row: Row, value: number) => void;
  isOut: (kind: AlarmWord) => boolean;
  judge: (kind: AlarmWord, judged: boolean) => void;
  standsOf: (kind: AlarmWord) => Alarm | undefined;   // and ends where the kind is struck
}

/** What the rule says, then whence its figures are. Tapped, it opens. */
function Rule({ group, rows, valueOf, open, tap }: Pick<GroupProps, "group" | "rows" | "valueOf"> & { open: boolean; tap: () => void }) {
  return (
    <EntryButton tap={tap} opens={open}>
      <span class="said">{toldIn(group, rows).map((piece) => (typeof piece === "string" ? piece : <Figure key={piece.id} row={piece} value={valueOf(piece)} />))}</span>
      <span class="note block">{t("limits.source", { source: sourcesOf(rows).join("; ") })}</span>
      <span class="tap">{t(open ? "limits.leave figures" : "limits.change")}</span>
    </EntryButton>
  );
}

/** Gas is judged wherever it is measured; all else can be left unjudged in a cave. What would end by it is said before it
    is chosen; once it is, the bar on the foot says it. */
function Judged({ kind, out, judge, stands }: { kind: AlarmWord; out: boolean; judge: GroupProps["judge"]; stands: Alarm | undefined }) {
  return (
    <>
      <Entry class="full"><Cells chosen={out} choose={(next) => judge(kind, !next)} choices={[{ value: false, word: t("limits.judged") }, { value: true, word: t("limits.out") }]} /></Entry>
      <Entry>{stands && !out && <p class="word strong">{endsWord(stands, now())}</p>}<span class="note">{t("limits.out.low")}</span></Entry>
    </>
  );
}

export function LimitGroup({ group, rows, valueOf, say, isOut, judge, standsOf }: GroupProps) {
  const [open, setOpen] = useState(false);
  const changed = rows.filter((row) => valueOf(row) !== row.usual).length;
  const name = t(`limits.group.${group}` as WordKey);
  const kind = kKindOf[group];
  const out = kind !== undefined && isOut(kind);
  return (
    <section aria-label={name}>
      <GroupHead b={name} i={out ? t("limits.out") : changed === 0 ? t("limits.unchanged") : many("limits.changed", changed)} />
      <Rule group={group} rows={rows} valueOf={valueOf} open={open} tap={() => setOpen(!open)} />
      {open && rows.map((row) => <LimitRow key={row.id} row={row} value={valueOf(row)} say={(next) => say(row, next)} />)}
      {open && kind && <Judged kind={kind} out={out} judge={judge} stands={standsOf(kind)} />}
    </section>
  );
}

// By which limits a cave is watched: every one with its usual value, why it is so and where it comes from; each can be
// changed for this cave. Nothing holds until it is written.
import { useState } from "preact/hooks";
import type { AlarmWord, LimitsPage, Span } from "../../api";
import { queue } from "../../house/acts";
import { signed } from "../../house/keeper";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { unknownTo } from "../../house/overlay";
import { span } from "../../figures";
import { Book, Notices } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Entry, EntryButton, GroupHead, TitleHead, WordButton, WordLink } from "../../parts/leaf";
import { many, t, type WordKey } from "../../words";
import { NumberSteps, SpanSteps } from "../plans/steps";
import { Waiting } from "../waiting";
import { changes, grouped, limitStep, limitWord, overLimits, tried, typedOf, withSetting, type Row, type Typed } from "./limit_values";
import { TrialBar } from "./limits_trial";

type Say = (typed: Typed) => void;

interface BandProps { name: string; unit: string; step: number; least: number; most: number; typed: Span | undefined; inForce: Span | undefined; start: Span; say: (span: Span | undefined) => void }

/** What the cave is to keep: that of its wheels, or what a keeper typed. */
function BandRows({ name, unit, step, least, most, typed, inForce, start, say }: BandProps) {
  const digits = unit === "%" ? 0 : 1;
  return (
    <>
      <GroupHead b={name} i={t(typed ? "limits.typed" : "limits.of wheels")} />
      {typed ? <SpanSteps value={typed} unit={unit} step={step} least={least} most={most} say={say} />
        : <Entry><span class="word">{inForce ? `${span(inForce, digits)} ${unit}` : t("limits.no band")}</span>{inForce?.source && <span class="note block">{t("limits.source", { source: inForce.source })}</span>}</Entry>}
      <WordButton tap={() => say(typed ? undefined : { low: inForce?.low ?? start.low, high: inForce?.high ?? start.high })}>{t(typed ? "limits.band drop" : "limits.band type")}</WordButton>
    </>
  );
}

function LimitRow({ row, value, say }: { row: Row; value: number; say: (value: number) => void }) {
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
          <NumberSteps label={row.unit === "min" || row.unit === "share" || row.unit === "o'clock" ? limitWord(row, value) : ""} value={row.unit === "share" ? Math.round(value * 100) : value}
                       unit={row.unit === "share" ? "%" : row.unit === "K" ? "°" : row.unit === "o'clock" ? t("limits.oclock") : row.unit} step={row.unit === "share" ? 2 : limitStep(row, value)}
                       least={row.unit === "share" ? row.least * 100 : row.least} most={row.unit === "share" ? row.most * 100 : row.most}
                       say={(next) => say(row.unit === "share" ? next / 100 : next)} />
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

const kKinds: AlarmWord[] = ["too warm", "too cold", "too dry", "too damp", "condensation", "probe silent", "probe stuck", "probe wet", "probes disagree", "battery low", "plant weak", "door open", "power gone", "humidifier dry", "drain blocked"]; // gas is judged wherever it is measured

function OutOfService({ out, say }: { out: AlarmWord[]; say: (out: AlarmWord[]) => void }) {
  const toggled = (kind: AlarmWord) => (out.includes(kind) ? out.filter((k) => k !== kind) : [...out, kind]);
  return (
    <>
      <GroupHead b={t("limits.out")} i={out.length === 0 ? t("limits.out.none") : many("limits.out.some", out.length)} />
      <Entry><span class="note">{t("limits.out.low")}</span></Entry>
      {kKinds.map((kind) => (
        <EntryButton key={kind} class={`pick ${out.includes(kind) ? "on" : ""}`} pressed={out.includes(kind)} tap={() => say(toggled(kind))}>
          <span class="word">{out.includes(kind) ? <s>{t(`alarm.cry.${kind}`)}</s> : t(`alarm.cry.${kind}`)}</span>
        </EntryButton>
      ))}
    </>
  );
}

function Groups({ page, limits, say }: { page: LimitsPage; limits: Typed; say: Say }) {
  const value = (row: Row) => limits.settings[row.id] ?? row.usual;
  return (
    <>
      {grouped(page.rows).map(({ group, rows }) => (
        <section key={group} aria-label={t(`limits.group.${group}` as WordKey)}>
          <GroupHead b={t(`limits.group.${group}` as WordKey)} />
          {rows.map((row) => <LimitRow key={row.id} row={row} value={value(row)} say={(next) => say(withSetting(limits, row, next))} />)}
        </section>
      ))}
    </>
  );
}

/** A span, or none: then the field is left out. */
function withSpan(limits: Typed, key: "temperature" | "humidity", value: Span | undefined): Typed {
  const { [key]: _, ...rest } = limits;
  return value === undefined ? rest : { ...rest, [key]: value };
}

function write(cave: number, draft: Typed, written: Typed): void {
  const { temperature, humidity, ...watching } = draft;
  const changed = changes(draft, written);
  if (changed.spans) queue.add({ kind: "limits", cave, ...(temperature ? { temperature } : {}), ...(humidity ? { humidity } : {}) });
  if (changed.watching) queue.add({ kind: "watching", cave, ...watching });
}

function LimitsLeaf({ page }: { page: LimitsPage }) {
  const written = typedOf(page);
  const [draft, setDraft] = useState<Typed>();
  const limits = draft ?? written;
  const { spans, watching } = changes(limits, written);
  const changed = spans || watching;
  const deed = () => signed(() => {
    write(page.cave.id, limits, written);
    setDraft(undefined);
  });
  return (
    <Book place="caves" title={t("limits.title", { cave: page.cave.name })} class={changed ? "withdeed" : ""}
          foot={changed && <TrialBar cave={page.cave.id} limits={tried(limits, written, page.rows)} write={deed} leave={() => setDraft(undefined)} />}>
      <section class="leaf">
        <TitleHead title={t("limits.title", { cave: page.cave.name })} note={t("limits.low")} />
        <Notices />
        <BandRows name={t("channel.temperature")} unit="°C" step={0.5} least={-10} most={40} start={{ low: 10, high: 14 }}
                  typed={limits.temperature} inForce={page.band.temperature} say={(s) => setDraft(withSpan(limits, "temperature", s))} />
        <BandRows name={t("channel.humidity")} unit="%" step={1} least={0} most={100} start={{ low: 80, high: 90 }}
                  typed={limits.humidity} inForce={page.band.humidity} say={(s) => setDraft(withSpan(limits, "humidity", s))} />
        <GroupHead b={t("limits.ready")} />
        <Entry class="full"><Cells chosen={limits.ready_cheese} choose={(ready_cheese) => setDraft({ ...limits, ready_cheese })}
                                   choices={[{ value: false, word: t("limits.ready.no") }, { value: true, word: t("limits.ready.yes") }]} /></Entry>
        <Entry><span class="note">{t("limits.ready.low")}</span></Entry>
      </section>
      <section class="leaf">
        <Groups page={page} limits={limits} say={setDraft} />
        <OutOfService out={limits.off} say={(off) => setDraft({ ...limits, off })} />
        <WordLink href={`/caves/${page.cave.id}`}>{t("caves.page", { name: page.cave.name })}</WordLink>
      </section>
    </Book>
  );
}

export function LimitsPlace({ id }: { id: string }) {
  const path = `/api/caves/${id}/limits`;
  const answer = useAnswer<LimitsPage>(path);
  const entries = useEntries();
  if (!answer.value) return <Waiting place="caves" path={path} answer={answer} />;
  return <LimitsLeaf page={overLimits(answer.value, unknownTo(answer.asked_at, entries))} />;
}

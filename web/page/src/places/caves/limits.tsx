// By which limits a cave is watched, told as rules with their figures in them and where they come from; each figure can
// be changed for this cave. Nothing holds until it is written.
import { useState } from "preact/hooks";
import type { AlarmWord, LimitsPage, Span } from "../../api";
import { now } from "../../clock";
import { queue } from "../../house/acts";
import { signed } from "../../house/keeper";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { unknownTo } from "../../house/overlay";
import { span } from "../../figures";
import { Book, Notices } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Entry, GroupHead, TitleHead, WordButton, WordLink } from "../../parts/leaf";
import { opening, t } from "../../words";
import { SpanSteps } from "../plans/steps";
import { Waiting } from "../waiting";
import { LimitGroup } from "./limit_group";
import { changes, endsWord, grouped, overLimits, standsOf, tried, typedOf, withSetting, type Typed } from "./limit_values";
import { TrialBar } from "./limits_trial";

type Say = (typed: Typed) => void;

interface BandProps { name: string; unit: string; step: number; least: number; most: number; typed: Span | undefined; inForce: Span | undefined; start: Span; say: (span: Span | undefined) => void }

/** What the cave is to keep: that of its wheels, or what a keeper typed. */
function BandRows({ name, unit, step, least, most, typed, inForce, start, say }: BandProps) {
  const digits = unit === "%" ? 0 : 1;
  return (
    <>
      <GroupHead b={opening(name)} i={t(typed ? "limits.typed" : "limits.of wheels")} />
      {typed ? <SpanSteps value={typed} unit={unit} step={step} least={least} most={most} apart={step} say={say} />
        : <Entry><span class="word">{inForce ? `${span(inForce, digits)} ${unit}` : t("limits.no band")}</span>{inForce?.source && <span class="note block">{t("limits.source", { source: inForce.source })}</span>}</Entry>}
      <WordButton tap={() => say(typed ? undefined : { low: inForce?.low ?? start.low, high: inForce?.high ?? start.high })}>{t(typed ? "limits.band drop" : "limits.band type")}</WordButton>
    </>
  );
}

function Groups({ page, limits, say }: { page: LimitsPage; limits: Typed; say: Say }) {
  const judge = (kind: AlarmWord, judged: boolean) => say({ ...limits, off: [...limits.off.filter((k) => k !== kind), ...(judged ? [] : [kind])] });
  return (
    <>
      {grouped(page.rows).map((one) => (
        <LimitGroup key={one.group} {...one} valueOf={(row) => limits.settings[row.id] ?? row.usual} say={(row, next) => say(withSetting(limits, row, next))}
                    isOut={(kind) => limits.off.includes(kind)} judge={judge} standsOf={(kind) => standsOf(page, kind)} />
      ))}
    </>
  );
}

/** What no keeper sets: told once, below the figures that come about by it. */
function Method() {
  return (
    <section aria-label={t("limits.method")}>
      <GroupHead b={t("limits.method")} />
      {(["air", "learned", "event", "fixed"] as const).map((of) => <Entry key={of}><p class="word">{t(`limits.method.${of}`)}</p></Entry>)}
    </section>
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
  const ends = limits.off.filter((kind) => !written.off.includes(kind)).flatMap((kind) => standsOf(page, kind) ?? []);
  const deed = () => signed(() => {
    write(page.cave.id, limits, written);
    setDraft(undefined);
  });
  return (
    <Book place="caves" title={t("limits.title", { cave: page.cave.name })} class={changed ? "withdeed" : ""}
          foot={changed && <TrialBar cave={page.cave.id} limits={tried(limits, written, page.rows)} ends={ends.map((alarm) => endsWord(alarm, now())).join(" ")} write={deed} leave={() => setDraft(undefined)} />}>
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
        <Method />
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

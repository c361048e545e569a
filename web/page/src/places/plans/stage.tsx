// One stage of a plan: air, humidity, its days, its cares, each with its source; underlined is what a tap changes.
import { useState } from "preact/hooks";
import type { PlanStage, Span, WheelStateWord } from "../../api";
import { span } from "../../figures";
import { Book, Notices } from "../../parts/book";
import { Entry, GroupHead, TitleHead, WordButton } from "../../parts/leaf";
import { placeLook } from "../../parts/place";
import { WriteLine } from "../../parts/write";
import { back } from "../../route";
import { t } from "../../words";
import { AddCare, AddedCare, CareEntry } from "./care";
import { open, say } from "./draft";
import { added, additionsOf, changed, dropped, editOf, explained, removed, stageAfter, stageOfPlan, stagesInOrder, keyOf, type Change, type StageAt } from "./edits";
import { ForWhomCells, newestOf, PlanFoot, wheelsFor, type ForWhom } from "./foot";
import type { PlanParts } from "./plan";
import { NumberSteps, SpanSteps } from "./steps";
import { Thirty } from "./thirty";

type BandKey = "temperature_band" | "humidity_band";
type TargetKey = "temperature_target" | "humidity_target";

interface AirProps {
  name: string; unit: string; step: number; digits: number;
  before: PlanStage; after: PlanStage; band: BandKey; target: TargetKey;
  start: Span;
  why: string | undefined;
  change: (change: Change) => void;
}

/** The target is what the plan wants, the band what is tolerated around it. */
function Air({ name, unit, step, digits, before, after, band, target, start, why, change }: AirProps) {
  const [editing, setEditing] = useState(false);
  const figure = (of: Span | undefined) => (of ? `${span(of, digits)}\u00a0${unit}` : t("plans.no figure"));
  const was = figure(before[band]) === figure(after[band]) ? "" : t("plans.was", { before: figure(before[band]) });
  return (
    <>
      <button type="button" class="entry fig2" aria-expanded={editing} onClick={() => setEditing(!editing)}>
        <span class="m strong">{name}</span>
        <span class="b">
          <span class="word"><span class="tap">{figure(after[band])}</span></span>
          {after[target] && <span class="note block">{t("plans.wanted", { figure: figure(after[target]) })}</span>}
          <span class="note block">{was && <>{was}. </>}{was && why ? <span class="hand">{why}</span> : (after[band]?.source ?? "")}</span>
        </span>
      </button>
      {editing && (
        <section class="editor" aria-label={name}>
          <GroupHead b={t("plans.band")} />
          <SpanSteps value={after[band] ?? start} unit={unit} step={step} {...(unit === "%" ? { least: 0, most: 100 } : {})} say={(value) => change({ [band]: value })} />
          <GroupHead b={t("plans.target")} />
          <SpanSteps value={after[target] ?? start} unit={unit} step={step} {...(unit === "%" ? { least: 0, most: 100 } : {})} say={(value) => change({ [target]: value })} />
        </section>
      )}
    </>
  );
}

function Days({ before, after, change }: { before: PlanStage; after: PlanStage; change: (change: Change) => void }) {
  const [editing, setEditing] = useState(false);
  if (before.last_day === undefined) return <Entry class="fig2" m={<span class="strong">{t("plans.days")}</span>}><span class="word">{t("plans.from day", { day: before.first_day })}</span></Entry>;
  const was = before.last_day === after.last_day ? "" : t("plans.was", { before: before.last_day });
  return (
    <>
      <button type="button" class="entry fig2" aria-expanded={editing} onClick={() => setEditing(!editing)}>
        <span class="m strong">{t("plans.days")}</span>
        <span class="b"><span class="word"><span class="tap">{t("span", { low: before.first_day, high: after.last_day! })}</span></span>{was && <span class="note block">{was}</span>}</span>
      </button>
      {editing && <section class="editor" aria-label={t("plans.days")}><NumberSteps label={t("plans.last day")} value={after.last_day!} least={before.first_day} most={3000} say={(last_day) => change({ last_day })} /></section>}
    </>
  );
}

function Figures({ at, stage }: { at: StageAt; stage: PlanStage }) {
  const { edits } = open.value;
  const own = editOf(edits, at, undefined);
  const after = stageAfter(stage, own);
  const change = (next: Change) => say(changed(edits, at, undefined, next));
  const shared = { before: stage, after, change, why: own?.why };
  return (
    <>
      <Air {...shared} name={t("plans.air")} unit="°C" step={0.5} digits={1} band="temperature_band" target="temperature_target" start={{ low: 10, high: 14 }} />
      <Air {...shared} name={t("channel.humidity")} unit="%" step={1} digits={0} band="humidity_band" target="humidity_target" start={{ low: 80, high: 90 }} />
      <Days before={stage} after={after} change={change} />
      {own && <WriteLine id="why-stage" label={t("plans.why")} hint={t("plans.why.hint")} value={own.why ?? ""} say={(text) => say(explained(open.value.edits, at, undefined, text))} />}
    </>
  );
}

function CareList({ at, stage }: { at: StageAt; stage: PlanStage }) {
  const { edits } = open.value;
  return (
    <>
      <GroupHead b={t("wheels.cares")} />
      {stage.cares.map((care, i) => (
        <CareEntry key={i} id={String(i)} care={care} edit={editOf(edits, at, i)} first={stage.first_day} change={(next) => say(changed(open.value.edits, at, i, next))}
                   why={(text) => say(explained(open.value.edits, at, i, text))} remove={() => say(removed(open.value.edits, at, i))} />
      ))}
      {additionsOf(edits, at).map((edit, i) => <AddedCare key={i} edit={edit} drop={() => say(dropped(open.value.edits, edit))} />)}
      <AddCare first={stage.first_day} add={(care) => say(added(open.value.edits, at, care))} />
    </>
  );
}

export function StageLeaves({ page, all, wheel, found, at }: PlanParts & { at: StageAt }) {
  const [whom, setWhom] = useState<ForWhom>(page.wheels.length > 0 ? "all" : "none");
  const stage = stageOfPlan(page.plan, at);
  const { edits } = open.value;
  const own = `/plans/${encodeURIComponent(page.plan.id)}/${page.plan.version}`;
  const order = stagesInOrder(page.plan);
  const number = order.findIndex((s) => keyOf(s.at) === keyOf(at)) + 1;
  if (!stage) return <Book place="wheels" title={page.plan.family}><section class="leaf"><Entry class="head heavy"><h1 class="say">{t("house.lost")}</h1></Entry></section></Book>;
  const days = stage.last_day === undefined ? t("plans.from day", { day: stage.first_day }) : t("plans.days of", { from: stage.first_day, to: stage.last_day });
  return (
    <Book place="wheels" title={`${page.plan.family}: ${stage.name}`} class={edits.length > 0 ? "withdeed" : ""}
          foot={edits.length > 0 && <PlanFoot page={page} found={found} wheels={wheelsFor(whom, page, wheel, all)} leave={wheel && open.value.wheel ? `/wheels/${wheel.id}` : newestOf(page.plan.id)} />}>
      <section class="leaf">
        <TitleHead title={stage.name} note={t("plans.stage of", { number, count: order.length, days })}
                   m={<><span class={placeLook(page.plan.family.split(",")[0]!)}>{page.plan.family.split(",")[0]}</span>{t("plan.version", { version: edits.length > 0 ? page.plan.version + 1 : page.plan.version })}{edits.length > 0 && <>, {t("plans.not signed")}</>}</>} />
        <Notices />
        <Figures at={at} stage={stage} />
        {!stage.counts && <Entry><span class="note">{t("plans.does not count")}</span></Entry>}
        <CareList at={at} stage={stage} />
      </section>
      <section class="leaf">
        {edits.length > 0 && <Thirty page={page} all={all} wheel={wheel} found={found} state={stage.state as WheelStateWord} />}
        {edits.length > 0 && <ForWhomCells page={page} wheel={wheel} all={all} whom={whom} say={setWhom} />}
        {edits.length === 0 && <Entry><span class="note">{t("plans.tap")}</span></Entry>}
        <WordButton class="noprint" tap={() => back(own)}>{t("plans.whole")}</WordButton>
      </section>
    </Book>
  );
}

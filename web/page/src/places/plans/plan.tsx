// One plan, whole: its parts and what each counts from, the stages, the roads of a branch, cautions, versions.
import { useEffect, useState } from "preact/hooks";
import type { PlanEdit, PlanPage, Plans, PlanStage, Wheel, Wheels, WheelStateWord } from "../../api";
import { useCell } from "../../cell";
import { keeperDay, shortDate } from "../../days";
import { RindDrawing, pictureOf } from "../../draw/rinds";
import { Ring } from "../../draw/rings";
import { span } from "../../figures";
import { useAnswer } from "../../house/answers";
import { Book, Notices } from "../../parts/book";
import { Entry, EntryLink, GroupHead, TitleHead, WordButton, WordLink } from "../../parts/leaf";
import { careWords, joined } from "../../parts/names";
import { many, opening, t, whole } from "../../words";
import { Waiting } from "../waiting";
import { cadenceWord } from "./cadence";
import { open, openPlan } from "./draft";
import { atOf, keyOf, stageOfPlan, type StageAt } from "./edits";
import { exportPlan } from "./export";
import { ForWhomCells, newestOf, PlanFoot, wheelsFor, type ForWhom } from "./foot";
import { usePreview, type Previewed } from "./preview";
import { Ready } from "./ready";
import { StageLeaves } from "./stage";
import { Thirty } from "./thirty";

export interface PlanParts { page: PlanPage; all: Wheel[]; wheel: Wheel | undefined; found: Previewed }

/** A plan at its address; without a version the newest. */
export function PlanPlace({ id, version, stage }: { id: string; version: string | undefined; stage: string | undefined }) {
  const plans = useAnswer<Plans>("/api/plans");
  const number = version ?? plans.value?.plans.find((p) => p.id === id)?.version;
  if (number === undefined) return <Waiting place="wheels" path="/api/plans" answer={plans.value ? { ...plans, missing: true } : plans} />;
  return <Opened key={`${id} ${number}`} id={id} version={Number(number)} stage={stage} />;
}

function Opened({ id, version, stage }: { id: string; version: number; stage: string | undefined }) {
  const path = `/api/plans/${encodeURIComponent(id)}/${version}`;
  const answer = useAnswer<PlanPage>(path);
  const all = useAnswer<Wheels>("/api/wheels").value?.wheels ?? [];
  const draft = useCell(open);
  useEffect(() => openPlan({ id, version }), [id, version]);
  const page = answer.value;
  const wheel = all.find((w) => w.id === (draft.wheel ?? page?.wheels[0]));
  const mine = draft.id === id && draft.version === version;
  const found = usePreview(page && mine && draft.edits.length > 0 ? { plan: id, version, edits: draft.edits, ...(wheel ? { wheel: wheel.id } : {}) } : undefined);
  if (!page || !mine) return <Waiting place="wheels" path={path} answer={answer} />;
  const at = stage === undefined ? undefined : atOf(stage);
  return at ? <StageLeaves page={page} all={all} wheel={wheel} found={found} at={at} /> : <PlanLeaves page={page} all={all} wheel={wheel} found={found} />;
}

const air = (stage: PlanStage) => [stage.temperature_target ?? stage.temperature_band, stage.humidity_target ?? stage.humidity_band]
  .map((f, i) => f && `${span(f, i === 0 ? 1 : 0)}\u00a0${i === 0 ? "°C" : "%"}`).filter(Boolean).join(", ");

function StageLink({ page, at, stage }: { page: PlanPage; at: StageAt; stage: PlanStage }) {
  const isOfStage = (e: PlanEdit) => e.add || e.remove || e.care !== undefined || Object.keys(e.set ?? {}).some((key) => key !== "ready");
  const touched = open.value.edits.some((e) => e.part === at.part && e.option === at.option && e.stage === at.stage && isOfStage(e));
  const days = stage.last_day === undefined ? t("plans.from day", { day: stage.first_day }) : t("span", { low: stage.first_day, high: stage.last_day });
  return (
    <EntryLink class="stagelink" href={`/plans/${encodeURIComponent(page.plan.id)}/${page.plan.version}/${encodeURIComponent(keyOf(at))}`} m={<><span class="strong">{days}</span><span class="ringrow"><Ring state={stage.state} r={8} /></span></>}>
      <span class="word"><span class="tap">{stage.name}</span>{air(stage) && <span class="note">, {air(stage)}</span>}</span>
      {stage.cares.map((care, i) => <span key={i} class="note block">{careWords([...care.kinds, ...care.brings])} {cadenceWord(care)}</span>)}
      {touched && <span class="note block hand">{t("plans.not signed")}</span>}
    </EntryLink>
  );
}

function Part({ page, index }: { page: PlanPage; index: number }) {
  const part = page.plan.parts[index]!;
  const usual = part.usual_days ? t("plans.usual", { days: span(part.usual_days, 0) }) : "";
  return (
    <>
      <GroupHead m={t("plans.days")} b={opening(t("plans.counted from", { since: t(`since.${part.start}`) }))} />
      {part.question && <Entry><span class="note">{joined(`“${part.question}”`, usual)}</span></Entry>}
      {part.stages.map((stage, s) => <StageLink key={s} page={page} at={{ part: index, stage: s }} stage={stage} />)}
      {part.branch && (
        <>
          <Entry class="class" m={t("day.number", { day: part.branch.asked_from })}><b>{part.branch.question}</b></Entry>
          {part.branch.options.map((option) => (
            <div key={option.name}>
              <Entry><span class="verb small">{option.name}</span>{option.name === part.branch!.default_option && <span class="note block">{t("plans.default")}</span>}
                {option.stages.length === 0 && <span class="note block">{t("plans.as before")}</span>}</Entry>
              {option.ready && option.stages.length > 0 && <Ready ready={option.ready} since={page.plan.ready?.counted_from ?? "made"} at={{ part: index, option: option.name, stage: 0 }} />}
              {option.stages.map((stage, s) => <StageLink key={s} page={page} at={{ part: index, option: option.name, stage: s }} stage={stage} />)}
            </div>
          ))}
        </>
      )}
    </>
  );
}

function Versions({ page }: { page: PlanPage }) {
  if (page.versions.length < 2) return null;
  return (
    <>
      <GroupHead b={t("plans.versions")} />
      {page.versions.map((v) => (
        <EntryLink key={v.version} class={`pick ${v.version === page.plan.version ? "on" : ""}`} href={`/plans/${encodeURIComponent(page.plan.id)}/${v.version}`} m={v.at === undefined ? "" : shortDate(keeperDay(v.at))}>
          <span class="word">{t("plan.version", { version: v.version })}</span><span class="note">{joined(v.at === undefined ? t("plans.came with") : v.keeper, many("plans.follow", v.wheels))}</span>
        </EntryLink>
      ))}
    </>
  );
}

function firstState(page: PlanPage): WheelStateWord {
  const edit = open.value.edits[0];
  return (edit && stageOfPlan(page.plan, edit)?.state) || "ripening";
}

function PlanLeaves({ page, all, wheel, found }: PlanParts) {
  const { plan } = page;
  const [whom, setWhom] = useState<ForWhom>(page.wheels.length > 0 ? "all" : "none");
  const { edits } = open.value;
  const own = `/plans/${encodeURIComponent(plan.id)}/${plan.version}`;
  const kinds = plan.parts.flatMap((p) => [...p.stages, ...(p.branch?.options.flatMap((o) => o.stages) ?? [])]).flatMap((s) => s.cares).flatMap((c) => c.kinds);
  return (
    <Book place="wheels" title={t("plans.title", { family: plan.family })} class={edits.length > 0 ? "withdeed" : ""}
          foot={edits.length > 0 && <PlanFoot page={page} found={found} wheels={wheelsFor(whom, page, wheel, all)} leave={newestOf(plan.id)} />}>
      <section class="leaf">
        <TitleHead m={<RindDrawing picture={pictureOf({ id: plan.id, rind: plan.rind, cares: kinds })} />} title={whole(plan.family)}
                   note={joined(t("plan.version", { version: plan.version }), t(`rinds.${plan.rind}`), page.wheels.length > 0 && many("plans.follow", page.wheels.length))} />
        <Notices />
        {plan.ready && <Ready ready={plan.ready} since={plan.ready.counted_from} at={{ part: 0, stage: 0 }} />}
        {plan.parts.map((_, i) => <Part key={i} page={page} index={i} />)}
        {edits.length > 0 && <Thirty page={page} all={all} wheel={wheel} found={found} state={firstState(page)} />}
        {edits.length > 0 && <ForWhomCells page={page} wheel={wheel} all={all} whom={whom} say={setWhom} />}
      </section>
      <section class="leaf">
        {plan.cautions.length > 0 && <GroupHead b={t("wheels.cautions")} />}
        {plan.cautions.length > 0 && <Entry><ul class="plainlist note">{plan.cautions.map((c) => <li key={c}>{c}</li>)}</ul></Entry>}
        <Versions page={page} />
        <GroupHead class="noprint" b={t("wheels.acts")} />
        <WordLink class="noprint" href={`${own}/copy`}>{t("plans.copy")}</WordLink>
        <WordButton class="noprint" tap={() => exportPlan(plan)}>{t("plans.export")}</WordButton>
        <WordLink class="noprint" href="/plans">{t("plans.all")}</WordLink>
      </section>
    </Book>
  );
}

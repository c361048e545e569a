// One wheel: its life as a line, its cares, what comes next, cautions; and what can be done with it.
import { useState } from "preact/hooks";
import type { WheelPage } from "../../api";
import { hour, weekdayDate } from "../../days";
import { Ring } from "../../draw/rings";
import { weight } from "../../figures";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { Book, Notices } from "../../parts/book";
import { Entry, GroupHead, WordButton, WordLink } from "../../parts/leaf";
import { caredWords, careWords, countsWords, dateWord, joined, lotWord } from "../../parts/names";
import { Place } from "../../parts/place";
import { useCutOff } from "../../parts/troubles";
import { opening, t } from "../../words";
import { Waiting as WaitingWord } from "../round/line";
import { Waiting } from "../waiting";
import { Life } from "./life";

const kShown = 12;

function Head({ page }: { page: WheelPage }) {
  const { wheel } = page;
  const ready = wheel.ready ? t("wheels.ready", { from: dateWord(wheel.ready.from, page.head.day), to: dateWord(wheel.ready.to, page.head.day) }) : "";
  const made = joined(wheel.grams !== undefined && weight(wheel.grams), t("wheels.made", { day: dateWord(wheel.made, page.head.day) }));
  const stage = joined(wheel.stage || t(`wheel.${wheel.state}`), countsWords(wheel), wheel.past_plan && t("round.past"));
  return (
    <header class="entry head heavy">
      <div class="m"><Place place={wheel.place} ring={<Ring state={wheel.state} />} />{wheel.lot && <span class="note">{lotWord(wheel.lot)}</span>}</div>
      <div class="b">
        <div class="titlerow">
          <h1 class="name">{wheel.name}</h1>
          <span class="count">{wheel.age} <span class="unit">{t(wheel.age === 1 ? "unit.days.one" : "unit.days.other")}</span></span>
        </div>
        <p class="note">{opening(made)}. {ready}</p>
        <p class="note">{opening(stage)}.</p>
      </div>
    </header>
  );
}

function CareLine({ care }: { care: WheelPage["cares"][number] }) {
  const done = care.kinds.length > 0 ? caredWords(care.kinds) : "";
  const skipped = care.skipped.length > 0 ? `(${careWords(care.skipped)})` : "";
  const words = <>{joined(done, skipped)}</>;
  return (
    <div class="entry jl">
      <div class="m"><time>{weekdayDate(care.day)}</time>{care.keeper && <span class="hand">{care.keeper}</span>}</div>
      <div class="b">
        <span class="hand">{care.undone ? <s>{words}</s> : words}</span>
        <span class="note"> {joined(care.before_watch ? t("wheels.before") : hour(care.at), care.reason, care.undone && t("journal.undone"))}</span>
      </div>
    </div>
  );
}

/** Newest below, as in the journal; a long life folds its beginning. */
function Cares({ page }: { page: WheelPage }) {
  const [all, setAll] = useState(false);
  const cares = all ? page.cares : page.cares.slice(-kShown);
  if (page.cares.length === 0) return null;
  return (
    <>
      <GroupHead b={t("wheels.cares")} />
      {cares.length < page.cares.length && <WordButton class="noprint" tap={() => setAll(true)}>{t("wheels.older cares", { count: page.cares.length - cares.length })}</WordButton>}
      {cares.map((care) => <CareLine key={care.id + care.at} care={care} />)}
    </>
  );
}

/** What this phone has done with the wheel and the house has not answered. */
function Unsent({ id }: { id: number }) {
  const waiting = useEntries().some((e) => e.state === "waiting" && "wheels" in e.act && (e.act.wheels ?? []).includes(id));
  return waiting ? <Entry><WaitingWord /></Entry> : null;
}

export function WheelPlace({ id }: { id: string }) {
  const path = `/api/wheels/${id}`;
  const answer = useAnswer<WheelPage>(path);
  const cut = useCutOff();
  const page = answer.value;
  if (!page) return <Waiting place="wheels" path={path} answer={answer} />;
  const gone = page.wheel.state === "gone";
  return (
    <Book place="wheels" title={page.wheel.name}>
      <section class="leaf">
        <Head page={page} />
        {cut && <Entry class="trouble"><span class="strong">{cut}</span></Entry>}
        <Notices />
        <Unsent id={page.wheel.id} />
        <Life page={page} />
      </section>
      <section class="leaf">
        <Cares page={page} />
        {page.cautions.length > 0 && (
          <>
            <GroupHead b={t("wheels.cautions")} />
            <Entry><ul class="plainlist note">{page.cautions.map((c) => <li key={c}>{c}</li>)}</ul></Entry>
          </>
        )}
        {!gone && (
          <>
            <GroupHead class="noprint" b={t("wheels.acts")} />
            <WordLink class="noprint" href={`/wheels/${id}/did`}>{t("wheels.did")}</WordLink>
            <WordLink class="noprint" href={`/wheels/${id}/move`}>{t("wheels.move")}</WordLink>
            <WordLink class="noprint" href={`/wheels/${id}/gone`}>{t("wheels.gone")}</WordLink>
          </>
        )}
      </section>
    </Book>
  );
}

// One wheel: its life as a line, its cares, what comes next, cautions; and what can be done with it.
import { useState } from "preact/hooks";
import type { WheelPage, Wheels } from "../../api";
import { careHour, keeperDay, weekdayDate } from "../../days";
import { StateGlyph } from "../../draw/glyphs";
import { Ring } from "../../draw/rings";
import { span } from "../../figures";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { Book, Notices } from "../../parts/book";
import { Entry, EntryLink, GroupHead, WordButton } from "../../parts/leaf";
import { caredWords, careWords, countsWords, dateWord, dayWord, joined, lotWord } from "../../parts/names";
import { Place } from "../../parts/place";
import { useCutOff } from "../../parts/troubles";
import { opening, t, whole, type WordKey } from "../../words";
import { UndoOnly } from "../round/bars";
import { useHeld } from "../round/held";
import { Waiting as WaitingWord } from "../round/line";
import { Waiting } from "../waiting";
import { leftWord } from "./deeds/cut";
import { goneWords } from "./gone";
import { Life } from "./life";
import { outsideWords } from "./outside";
import { readyWords } from "./ready";
import { saidOf } from "./said";
import { weightWords } from "./weight";

const kShown = 12;

function Head({ page }: { page: WheelPage }) {
  const { wheel } = page;
  const today = page.head.day;
  const ready = wheel.gone ? "" : readyWords(wheel.ready, today);
  const made = joined(weightWords(page), t("wheels.made", { day: dateWord(wheel.made, today) }));
  const stage = wheel.gone ? goneWords(wheel.gone, today) : joined(wheel.stage || t(`wheel.${wheel.state}`), countsWords(wheel), wheel.past_plan && t("round.past"));
  return (
    <header class="entry head heavy">
      <div class="m"><Place place={wheel.gone ? "" : wheel.place} ring={<Ring state={wheel.state} {...saidOf(wheel)} />} />{wheel.lot && <span class="note">{lotWord(wheel.lot)}</span>}</div>
      <div class="b">
        <div class="titlerow">
          <h1 class="name">{whole(wheel.name)}</h1>
          <span class="count">{wheel.age} <span class="unit">{t(wheel.age === 1 ? "unit.days.one" : "unit.days.other")}</span></span>
        </div>
        <p class="note">{opening(made)}. {ready}</p>
        <p class="note">{opening(stage)}.</p>
      </div>
    </header>
  );
}

const bandWords = (wheel: WheelPage["wheel"]) => [wheel.own_band?.temperature && `${span(wheel.own_band.temperature)}\u00a0°C`, wheel.own_band?.humidity && `${span(wheel.own_band.humidity, 0)}\u00a0%`].filter(Boolean).join(", ");

/** What a keeper has said of it: held, marked, cut, a band of its own, the way it goes. */
function Said({ page }: { page: WheelPage }) {
  const { wheel } = page;
  const today = page.head.day;
  const day = (at: number) => dayWord(keeperDay(at), today);
  const { marks, left } = wheel;
  const said = [
    page.outside && <p key="outside" class="word bad outside"><StateGlyph state="out of band" side={page.outside.side} /> {outsideWords(page.outside, page.head.now)}</p>,
    // where a rule counts its days, it is said there, with the day
    wheel.state === "released" && !wheel.qualifying && <p key="released" class="word">{t("release.done")}</p>,
    wheel.held && <p key="held" class="word"><b>{t("wheels.held", { day: day(wheel.held.at), why: "" }).replace(/: ?$/, "")}</b>: <span class="hand">{wheel.held.why}</span></p>,
    ...marks.map((m) => <p key={m.act} class="word">{opening(t("wheels.mark", { what: t(`fault.${m.what}` as WordKey), day: day(m.at) }))}{m.look_again && <span class="note block strong">{t("wheels.look again", { day: dayWord(m.look_again, today) })}</span>}</p>),
    left < 1 && <p key="cut" class="word">{opening(wheel.cut_at === undefined ? t("wheels.left plain", { left: leftWord(left) }) : t("wheels.left", { left: leftWord(left), day: day(wheel.cut_at) }))}</p>,
    bandWords(wheel) && <p key="band" class="word">{opening(t("wheels.own band", { band: bandWords(wheel) }))}</p>,
    wheel.branch && <p key="branch" class="note">{opening(t("wheels.branch", { option: wheel.branch.option }))}</p>,
  ].filter(Boolean);
  return said.length > 0 ? <Entry class="heavy">{said}</Entry> : null;
}

/** The second clock: the days that count for the law. */
function Counted({ page }: { page: WheelPage }) {
  const { qualifying: q, id } = page.wheel;
  if (!q) return null;
  return (
    <EntryLink class="pick heavy" href={`/wheels/${id}/release`} m={<span class="note strong">{t("wheels.qualifying")}</span>}>
      <span class="word tap">{q.released ? t("wheels.released", { day: dayWord(keeperDay(q.released.at), page.head.day) }) : q.reached ? t("wheels.counted.reached", { of: q.of }) : t("wheels.counted", { counted: q.counted, of: q.of })}</span>
      {q.released?.override && <span class="note block"><span class="hand">{t("wheels.released.override", q.released.override)}</span></span>}
      {q.lawful_after_ready && !q.released && <span class="note strong">{t("wheels.after ready")}</span>}
    </EntryLink>
  );
}

/** What can be done with it, two to a row; each opens its own page. Shut, so that its life stands below its head. */
function Deeds({ page, alone }: { page: WheelPage; alone: boolean }) {
  const { wheel } = page;
  const [open, setOpen] = useState(false);
  const deeds: [string, string][] = [
    ["did", t("deeds.did")], ["weigh", t("deeds.weigh")], ["move", t("deeds.move")], ["hold", t(wheel.held ? "deeds.let go" : "deeds.hold")], ["cut", t("deeds.cut")], ["gone", t("deeds.gone")],
    ["note", t("deeds.note")], ["plan", t("deeds.plan")], ["band", t("deeds.band")], ["release", t("deeds.release")],
    ...(wheel.branch ? [["branch", t("deeds.branch")] as [string, string]] : []), ...(alone && !wheel.lot ? [] : [["lot", t("deeds.lot")] as [string, string]]),
  ];
  return (
    <>
      <button type="button" class="entry word1 noprint" aria-expanded={open} onClick={() => setOpen(!open)}><span class="m strong note">{t("wheels.acts")}</span><span class="b"><span class="tap">{t("wheels.acts.what")}</span></span></button>
      {open && <nav class="entry full noprint heavy" aria-label={t("wheels.acts")}>
        <span class="m" /><span class="b"><span class="cells c2">{deeds.map(([path, word]) => <a key={path} href={`/wheels/${wheel.id}/${path}`}>{word}</a>)}<a href={`/fault/wheels/${wheel.id}`}>{t("deeds.fault")}</a></span></span>
      </nav>}
    </>
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
        <span class="note"> {joined(care.before_watch ? t("wheels.before") : care.not_written ? t("wheels.not written") : careHour(care), care.reason, care.undone && t("journal.undone"))}</span>
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
  const all = useAnswer<Wheels>("/api/wheels").value;
  const cut = useCutOff();
  const held = useHeld();
  const page = answer.value;
  if (!page) return <Waiting place="wheels" path={path} answer={answer} />;
  const gone = page.wheel.gone !== undefined;
  const alone = (all?.wheels ?? []).filter((w) => w.lot_id === page.wheel.lot_id).length < 2;
  return (
    <Book place="wheels" title={page.wheel.name} class={held?.key === "did" ? "withdeed" : ""} foot={<UndoOnly held={held} about="did" />}>
      <section class="leaf">
        <Head page={page} />
        {cut && <Entry class="trouble"><span class="strong">{cut}</span></Entry>}
        <Notices />
        <Unsent id={page.wheel.id} />
        {!gone && <Deeds page={page} alone={alone} />}
        <Counted page={page} />
        <Said page={page} />
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
      </section>
    </Book>
  );
}

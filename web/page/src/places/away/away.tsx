// Away from ... to ...: the fewest visits that keep every wheel inside its windows, what happens with none, what to do
// before leaving; and the absence itself, written in the book.
import { useEffect, useState } from "preact/hooks";
import type { AwayPlan, Caves, Day } from "../../api";
import { Cell, useCell } from "../../cell";
import { addDays, daysBetween, weekdayDate } from "../../days";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { queue, sign } from "../../house/acts";
import { signed } from "../../house/keeper";
import { Book, Notices } from "../../parts/book";
import { Stepper } from "../../parts/cells";
import { DeedBar, Signed } from "../../parts/deed";
import { Entry, EntryButton, GroupHead, WordButton, WordLink } from "../../parts/leaf";
import { careWords, joined } from "../../parts/names";
import { go } from "../../route";
import { many, numberWord, opening, t } from "../../words";
import { useToday } from "../../house/today";
import { Waiting } from "../waiting";
import { AwayDrawing, AwayScale } from "./drawing";
import { blocksOf, columnsOf } from "./lanes";
import { visitMinutes } from "./minutes";

const kUsual = 7; // days
const kLongest = 60;
const kBack = 60;

export const awayPath = (from: Day, back: Day, caves: number[]) => `/api/away?from=${from}&back=${back}${caves.length > 0 ? `&caves=${caves.join(",")}` : ""}`;

export function AwayPlace() {
  const today = useToday();
  if (!today.day) return <Waiting place="round" path="/api/caves" answer={today.answer} />;
  return <Away today={today.day} />;
}

interface Span { from: Day; back: Day; caves: number[] }

/** What was last looked at: the sheet and a look at the round lead back to it. */
const span = new Cell<Span | undefined>(undefined);

function Away({ today }: { today: Day }) {
  const { from, back, caves } = useCell(span) ?? { from: addDays(today, 1), back: addDays(today, 1 + kUsual), caves: [] };
  const say = (more: Partial<Span>) => span.set({ from, back, caves, ...more });
  const path = awayPath(from, back, caves);
  const answer = useAnswer<AwayPlan>(path);
  // While the next span is asked for, the last one stays, so that "later" is not a jump.
  const [shown, setShown] = useState<AwayPlan>();
  useEffect(() => answer.value && setShown(answer.value), [answer.value]);
  const plan = answer.value ?? shown;
  if (!plan) return <Waiting place="round" path={path} answer={answer} />;
  const first = (day: Day) => {
    if (daysBetween(day, today) > kBack || daysBetween(day, back) > kLongest) return; // an absence may be marked afterwards too
    say({ from: day, ...(back <= day ? { back: addDays(day, 1) } : {}) });
  };
  const last = (day: Day) => day > from && daysBetween(from, day) <= kLongest && say({ back: day });
  const mark = () => {
    queue.add({ kind: "away", from, back, ...(caves.length > 0 ? { caves } : {}) });
    span.set(undefined);
    go("/away/marked");
  };
  const past = back <= today; // marked afterwards: there is nothing left to plan
  const sheet = `/away/${from}/${back}${caves.length > 0 ? `/${caves.join("-")}` : ""}`;
  return (
    <Book place="round" title={t("away.title")} class="withdeed"
          foot={<Signed><DeedBar label={t("plans.to sign")} count={past ? 1 : 2} of={<span>{t("away.of", { from: weekdayDate(from), back: weekdayDate(back) })}</span>}>
            {!past && <button type="button" onClick={() => go(sheet)}>{t("away.sheet")}</button>}<button type="button" onClick={mark}>{t("away.mark")}</button>
          </DeedBar></Signed>}>
      <section class="leaf">
        <header class="entry head heavy">
          <div class="m">{t("away.away")}<span class="day">{daysBetween(from, back)}</span>{t(daysBetween(from, back) === 1 ? "unit.days.one" : "unit.days.other")}</div>
          <div class="b">{past ? <h1 class="say">{t("away.past")}</h1> : <><h1 class="say"><span class="great">{sayVisits(plan)}</span></h1><p class="note">{minutesNote(plan)}</p></>}</div>
        </header>
        <Notices />
        <DayRow label={t("steps.from")} day={from} say={first} />
        <DayRow label={t("away.back")} day={back} say={last} />
        <CaveRows caves={caves} say={(next) => say({ caves: next })} />
        {answer.error && <Entry class="trouble"><span class="strong">{answer.error}</span></Entry>}
        {past && <WordLink href={`/returned/${from}/${back}`}>{t("away.what was")}</WordLink>}
        {!past && blocksOf(columnsOf(plan.lanes)).map((columns) => (
          <Entry key={columns[0]!.name} class="full bare heavy" m={<AwayScale plan={plan} />}><AwayDrawing plan={plan} columns={columns} /></Entry>
        ))}
        {!past && <Without plan={plan} />}
      </section>
      <section class="leaf">
        {!past && <><Before plan={plan} /><Visits plan={plan} /></>}
        <WordLink class="noprint" href="/away/marked">{t("away.marked")}</WordLink>
      </section>
    </Book>
  );
}

function sayVisits(plan: AwayPlan): string {
  if (plan.visits.length === 0) return t("away.none needed");
  return many("away.visits", plan.visits.length, { number: numberWord(plan.visits.length) });
}

function minutesNote(plan: AwayPlan): string {
  if (plan.visits.length === 0) return t("away.inside");
  return `${t("away.inside")} ${t("away.minutes", { minutes: visitMinutes(plan) })}`;
}

function DayRow({ label, day, say }: { label: string; day: Day; say: (day: Day) => void }) {
  return (
    <Entry class="full heavy" m={<span class="strong">{label}</span>}>
      <Stepper less={t("amend.sooner")} more={t("amend.later")} onLess={() => say(addDays(day, -1))} onMore={() => say(addDays(day, 1))}><b>{weekdayDate(day)}</b></Stepper>
    </Entry>
  );
}

/** Which caves nobody visits; shut where there is one. */
function CaveRows({ caves, say }: { caves: number[]; say: (caves: number[]) => void }) {
  const all = useAnswer<Caves>("/api/caves").value?.caves ?? [];
  const [open, setOpen] = useState(false);
  if (all.length < 2) return null;
  const names = caves.length === 0 ? t("away.all caves") : all.filter((c) => caves.includes(c.id)).map((c) => c.name).join(", ");
  if (!open) return <WordButton class="noprint" m={<span class="note strong">{t("away.from what")}</span>} tap={() => setOpen(true)}>{names}</WordButton>;
  const toggle = (id: number) => say(caves.includes(id) ? caves.filter((c) => c !== id) : [...caves, id]);
  return (
    <>
      <EntryButton class={`pick ${caves.length === 0 ? "on" : ""}`} pressed={caves.length === 0} tap={() => say([])}><span class="word">{t("away.all caves")}</span></EntryButton>
      {all.map((cave) => <EntryButton key={cave.id} class={`pick ${caves.includes(cave.id) ? "on" : ""}`} pressed={caves.includes(cave.id)} tap={() => toggle(cave.id)}><span class="word">{cave.name}</span></EntryButton>)}
    </>
  );
}

/** Who does without, and until when; and what happens if nobody comes. */
function Without({ plan }: { plan: AwayPlan }) {
  const until = new Map<Day, string[]>();
  for (const { place, until: day } of plan.without) until.set(day, [...(until.get(day) ?? []), place]);
  return (
    <>
      {plan.no_visit.length > 0 && (
        <Entry class="heavy" m={<span class="note strong">{t("away.without a visit")}</span>}>
          {plan.no_visit.map((n) => <p key={n.place + n.what} class="note"><b>{n.place}</b>: {n.what}</p>)}
        </Entry>
      )}
      {until.size > 0 && (
        <Entry class="heavy" m={<span class="note strong">{t("away.do without")}</span>}>
          {[...until].map(([day, places]) => <p key={day} class="note"><b>{places.join(", ")}</b>, {t("away.until", { day: weekdayDate(day) })}</p>)}
        </Entry>
      )}
    </>
  );
}

/** What is done before leaving is signed here, as any care. */
function Before({ plan }: { plan: AwayPlan }) {
  const entries = useEntries();
  if (plan.before.length === 0) return null;
  return (
    <>
      <GroupHead b={t("away.before")} />
      {plan.before.map((line) => {
        const key = `away ${plan.from} ${line.lid ? "lid" : line.kinds.join()} ${line.place}`;
        const done = entries.find((e) => e.about === key && e.state !== "refused");
        const verb = line.lid ? t("away.lid") : careWords(line.kinds);
        const tap = () => signed(() => {
          if (done) queue.undo(done.act.id);
          else if (line.lid) queue.add({ kind: "note", text: t("away.lid note", { place: line.place }), cave: line.cave }, key);
          else sign(line.wheels, line.kinds, key);
        });
        return (
          <EntryButton key={key} class="part" pressed={done !== undefined} tap={tap} m={done ? <span class="when">{t("text.done")}</span> : <span class="sign" />}>
            <span><span class="verb block">{done ? <s>{verb}</s> : verb}</span><span class="note">{joined(line.place, line.count > 1 && !line.lid && many("wheels.many", line.count))}</span></span>
            {line.minutes > 0 && <span class="note nowrap">{t("minutes", { minutes: Math.round(line.minutes) })}</span>}
          </EntryButton>
        );
      })}
    </>
  );
}

function Visits({ plan }: { plan: AwayPlan }) {
  return (
    <>
      {plan.visits.map((visit) => (
        <div key={visit.day} class="noprint">
          <GroupHead m={weekdayDate(visit.day)} b={t("away.visit")} i={t("minutes", { minutes: Math.round(visit.minutes) })} />
          {visit.lines.map((line, i) => (
            <Entry key={i} m={<span class="strong">{line.place}</span>}><span class="word">{opening(careWords(line.kinds))} {line.count > 1 ? line.count : ""}</span>{line.place !== line.cave_name && <span class="note">, {line.cave_name}</span>}</Entry>
          ))}
        </div>
      ))}
    </>
  );
}

// Ahead: which wheels are ready in which week, how long the days are, and from a wanted date back to the make date.
import { useState } from "preact/hooks";
import type { AheadPage, Day } from "../../api";
import { Cell, useCell } from "../../cell";
import { addDays, dayOfMonth, daysBetween, longDate, month, shortDate, weekdayDate } from "../../days";
import { Ring } from "../../draw/rings";
import { useAnswer } from "../../house/answers";
import { useToday } from "../../house/today";
import { Book, Notices } from "../../parts/book";
import { Cells, Stepper } from "../../parts/cells";
import { Entry, GroupHead, WordButton } from "../../parts/leaf";
import { dateWord, joined, kinOf, lotWord } from "../../parts/names";
import { many, t, whole } from "../../words";
import { Waiting } from "../waiting";
import { becoming, busiestOf, itemsOf, longest, outline, partedAt, scaleFor, type Item } from "./profile";

const kWeeks = 9;
const kYear = 52;
const kRoom = 38;  // px that the longest day reaches into the margin

/** How far, and for which day, a keeper last looked: a wheel's page leads back to it. */
const looked = new Cell<{ weeks: number; wanted?: Day }>({ weeks: kWeeks });

export function AheadPlace() {
  const today = useToday().day;
  const { weeks, wanted } = useCell(looked);
  const path = `/api/ahead?weeks=${weeks}${wanted ? `&wanted=${wanted}` : ""}`;
  const answer = useAnswer<AheadPage>(path);
  const [last, setLast] = useState<AheadPage>();
  const page = answer.value ?? last;
  if (!page) return <Waiting place="wheels" path={path} answer={answer} />;
  const want = (day: Day | undefined) => {
    setLast(page);
    looked.set({ weeks, ...(day ? { wanted: day } : {}) });
  };
  const stretch = (next: number) => {
    setLast(page);
    looked.set({ ...looked.value, weeks: next });
  };
  const day = today ?? page.head.day;
  return (
    <Book place="wheels" title={t("ahead.title")}>
      <section class="leaf">
        <header class="entry head heavy">
          <div class="m">{t("ahead.title")}<span class="day">{page.weeks.length}</span>{t("ahead.weeks")}</div>
          <div class="b"><h1 class="say">{sentence(page)}</h1><p class="note">{busiest(page)}</p></div>
        </header>
        <Notices />
        <Wanted today={day} wanted={wanted} want={want} />
        <GroupHead m={t("ahead.minutes")} b={t("ahead.ready")} />
        <Weeks page={page} />
        {page.weeks.length < kYear ? <WordButton class="noprint" tap={() => stretch(kYear)}>{t("ahead.year")}</WordButton> : <WordButton class="noprint" tap={() => stretch(kWeeks)}>{t("ahead.few")}</WordButton>}
      </section>
      <section class="leaf">{page.wanted ? <Back page={page} /> : <Entry class="head heavy wide" m=""><p class="say note">{t("ahead.want more")}</p></Entry>}</section>
    </Book>
  );
}

function sentence(page: AheadPage): string {
  const { wanted } = page;
  if (wanted) return joined(t("ahead.on", { day: shortDate(wanted.day), count: wanted.ready }), wanted.past > 0 && many("ahead.past", wanted.past)) + ".";
  const count = becoming(page.weeks, page.head.day);
  return count === 0 ? t("ahead.none") : many("ahead.become", count, { weeks: page.weeks.length });
}

const busiest = ({ busiest: most }: AheadPage) => (most ? t("ahead.busiest", { day: longDate(most.day), minutes: Math.round(most.minutes) }) : "");

function Wanted({ today, wanted, want }: { today: Day; wanted: Day | undefined; want: (day: Day | undefined) => void }) {
  if (!wanted) return <WordButton class="noprint" m={<span class="note strong">{t("ahead.want")}</span>} tap={() => want(addDays(today, 28))}>{t("ahead.want.do")}</WordButton>;
  const move = (by: number) => addDays(wanted, by) > today && want(addDays(wanted, by));
  return (
    <section class="noprint" aria-label={t("ahead.want")}>
      <Entry class="full" m={<span class="note strong">{t("ahead.want")}</span>}>
        <Stepper less={t("amend.sooner")} more={t("amend.later")} onLess={() => move(-1)} onMore={() => move(1)}><b>{weekdayDate(wanted)}</b> {month(wanted)}</Stepper>
      </Entry>
      <Entry class="full heavy"><Cells columns={3} choose={(by) => (by === 0 ? want(undefined) : move(by))} choices={[{ value: -7, word: t("ahead.week sooner") }, { value: 0, word: t("ahead.want.none") }, { value: 7, word: t("ahead.week later") }]} /></Entry>
    </section>
  );
}

interface EdgeProps { minutes: number[]; perMinute: number; label: string; monday?: Day }

/** The days of a row as the worn edge of the leaf; the longest is named. */
function Edge({ minutes, perMinute, label, monday }: EdgeProps) {
  const most = busiestOf(minutes);
  const middle = most ? ((most.index + 0.5) * 100) / minutes.length : 0;
  return (
    <>
      {monday && <span class="monday"><b>{dayOfMonth(monday)}</b> {month(monday)}</span>}
      <svg class="edge" viewBox="0 0 92 100" preserveAspectRatio="none" role="img" aria-label={label}>
        <path d={outline(minutes, 92, perMinute)} fill="var(--edge)" stroke="none" />
        <path d={outline(minutes, 92, perMinute)} fill="none" stroke="var(--ink)" stroke-width="1.6" vector-effect="non-scaling-stroke" />
      </svg>
      {most && <span class="most" style={{ top: monday ? `max(${middle}%, 24px)` : `${middle}%`, right: `${(most.minutes * perMinute + 8).toFixed(0)}px` }}>{Math.round(most.minutes)}</span>}
    </>
  );
}

function ItemLine({ item, today }: { item: Item; today: Day }) {
  const name = joined(`${item.count} ${kinOf(item.family, item.count)}`, lotWord(item.lot));
  const when = item.kind === "eat" ? <b>{t("ahead.eat by", { day: weekdayDate(item.at) })}</b>
    : item.kind === "young" ? (item.at <= today ? t("ahead.young now", { to: dateWord(item.to ?? item.at, today) }) : t("ahead.young", { day: weekdayDate(item.at) }))
    : item.to ? t("ahead.window", { from: item.at <= today ? t("ahead.now") : weekdayDate(item.at), to: dateWord(item.to, today) }) : item.at <= today ? t("ahead.now") : weekdayDate(item.at);
  return (
    <a class="rd" href={`/wheels/${item.wheels[0]}`}>
      <Ring state={item.kind === "eat" ? "holding" : "ready"} r={8} /><span><span class="word">{name}</span><span class="note block">{when}</span></span>
    </a>
  );
}

function Weeks({ page }: { page: AheadPage }) {
  const perMinute = scaleFor(longest(page.weeks), kRoom);
  const today = page.head.day;
  const label = (monday: Day, minutes: number[]) => t("ahead.edge", { day: shortDate(monday), minutes: minutes.map((m) => (m < 0 ? "–" : Math.round(m))).join(", ") });
  const row = (key: string, minutes: number[], items: Item[], monday: Day, named: boolean) => (
    <Entry key={key} class={`weekedge ${items.length === 0 ? "idle" : ""} ${minutes.length < 7 ? "partweek" : ""}`} m={<Edge minutes={minutes} perMinute={perMinute} label={label(monday, minutes)} {...(named ? { monday } : {})} />}>
      {items.map((item) => <ItemLine key={item.key} item={item} today={today} />)}
    </Entry>
  );
  return (
    <div class="weeks">
      {page.weeks.map((week) => {
        const parted = page.wanted && partedAt(week, page.wanted.day);
        if (!parted) return row(week.monday, week.minutes, itemsOf(week), week.monday, true);
        return (
          <div key={week.monday}>
            {row(`${week.monday} a`, week.minutes.slice(0, parted.days), parted.before, week.monday, true)}
            <div class="now wantedline"><b>{weekdayDate(page.wanted!.day)}</b></div>
            {parted.days < 7 && row(`${week.monday} b`, week.minutes.slice(parted.days), parted.after, addDays(week.monday, parted.days), false)}
          </div>
        );
      })}
    </div>
  );
}

/** From the wanted date back: when each family would have to be made. */
function Back({ page }: { page: AheadPage }) {
  const { day, make } = page.wanted!;
  const today = page.head.day;
  const sorted = [...make].sort((a, b) => Number(b.possible) - Number(a.possible) || (a.to < b.to ? -1 : 1));
  return (
    <>
      <Entry class="head heavy" m={<><span>{t("ahead.back")}</span><span class="day">{dayOfMonth(day)}</span>{month(day)}</>}><p class="say">{t("ahead.make by", { day: longDate(day) })}</p></Entry>
      {sorted.map((one) => (
        <Entry key={one.plan + one.from} m={<span class="place">{shortDate(one.to)}</span>}>
          <span class={`verb small ${one.possible ? "" : "dim"}`}>{whole(one.family)}</span>
          <span class="note block">{!one.possible ? t("ahead.too late", { days: daysBetween(one.to, day) })
            : joined(t("ahead.days before", { days: daysBetween(one.to, day) }), one.from < today ? t("ahead.from today") : one.from !== one.to && t("ahead.made from", { from: shortDate(one.from) }))}</span>
        </Entry>
      ))}
    </>
  );
}

// A wheel's life down the page: the line in the margin, what happened beside it. The texts are measured, and the scale
// stretches until they fit, so that nothing overlaps whatever the size of the letters.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import type { Day, WheelPage } from "../../api";
import { dateOf, daysBetween, keeperDay, shortDate } from "../../days";
import { StateGlyph, TurnedKey, WashedKey } from "../../draw/glyphs";
import { PlanLine, type LifeScale } from "../../draw/planline";
import { celsius, lasting, points, span, spoken } from "../../figures";
import { alarmWord } from "../../parts/alarm_words";
import { whatWord } from "../../parts/alarms";
import { caredWords, careWords, dateWord, dayWord, joined, lateWord } from "../../parts/names";
import { many, opening, t, whole } from "../../words";
import { datesOf, toldTogether, type Told } from "./excursions";
import { opensIn } from "./ready";
import { isBlind, isHumid, isOfAir } from "../../parts/kinds";

interface Piece { key: string; day: number; ahead: boolean; text: ComponentChildren }

const kTop = 14;
const kPast = 296;      // px that the past takes if its texts leave it
const kMostADay = 12;

type Stage = WheelPage["stages"][number];

const bandText = (s: Stage) => [s.target_temperature ? `${span(s.target_temperature)}\u00a0°C` : s.temperature && `${span(s.temperature)}\u00a0°C`,
  s.target_humidity ? `${span(s.target_humidity, 0)}\u00a0%` : s.humidity && `${span(s.humidity, 0)}\u00a0%`].filter(Boolean).join(", ");

/** ", 8 to 17 Dec", ", from 25 Apr, when you say so": when a stage to come begins. */
function whenAhead(s: Stage, today: Day): string {
  const days = s.to ? t("span", { low: dateWord(s.from, today), high: dateWord(s.to, today) }) : t("wheels.from", { day: dateWord(s.from, today) });
  return `, ${joined(days, s.on_word && t("wheels.on word"))}`;
}

/** "turned 14 times": what was done in a stage, by kinds. */
function doneIn(page: WheelPage, s: Stage): string {
  const sums = new Map<string, number>();
  for (const care of page.cares) {
    if (care.undone || care.day < s.from || (s.to && care.day > s.to)) continue;
    for (const kind of care.kinds) sums.set(caredWords([kind]), (sums.get(caredWords([kind])) ?? 0) + 1);
  }
  if (sums.size === 0 && s.to && s.to < keeperDay(page.entered)) return t("wheels.before");
  return [...sums].map(([cared, count]) => (count === 2 ? t("wheels.times twice", { cared }) : many("wheels.times", count, { cared }))).join(", ");
}

/** "too warm, 3 h 23 min", "without power 19 times, 6 h in all" */
function outWords(e: Told): string {
  const what = alarmWord(e);
  if (e.to === undefined) return what;
  if (e.count === 2) return t("wheels.excursions twice", { what, long: lasting(e.lasted) });
  return e.count > 2 ? t("wheels.excursions", { what, count: e.count, long: lasting(e.lasted) }) : t("wheels.excursion", { what, long: lasting(e.lasted) });
}

function outWhen(e: Told): string {
  const day = datesOf(e);
  return isOfAir(e.kind) ? t("wheels.extreme", { day, value: isHumid(e.kind) ? points(e.extreme) : celsius(e.extreme) }) : day;
}

function pieces(page: WheelPage): Piece[] {
  const { made, ready } = page.wheel;
  const today = page.head.day;
  const at = (day: string) => daysBetween(made, day);
  const stages = page.stages.map((s): Piece => {
    const ahead = s.from > today;
    const band = bandText(s);
    const opens = opensIn(ready, s, today);
    const does = ahead || s.cares.length === 0 ? s.cares.join(", ") : doneIn(page, s);
    return { key: `stage ${s.from} ${s.name}`, day: at(s.from), ahead, text: (
      <>
        <p class="word">{s.name}<span class="note">{ahead ? whenAhead(s, today) : band && `, ${t("wheels.wanted", { band })}`}</span></p>
        {s.family && <p class="note">{t("wheels.now by", { family: whole(s.family) })}</p>}
        {does && <p class="note">{does}</p>}
        {opens && <p class="note">{t("wheels.ready in", { day: dateWord(opens, today) })}</p>}
      </>
    ) };
  });
  const bad = toldTogether(page.excursions).map((e): Piece => ({ key: `out ${e.from}`, day: at(dateOf(e.from)), ahead: false, text: (
    <>
      <p class={isOfAir(e.kind) ? "word bad" : "word out"}>{(isOfAir(e.kind) || isBlind(e.kind)) && <StateGlyph state={isBlind(e.kind) ? "unknown" : "out of band"} side={e.kind === "too cold" || e.kind === "too dry" ? -1 : 1} />}
        {outWords(e)}</p>
      {(isOfAir(e.kind) || e.count > 1) && <p class="note">{outWhen(e)}{e.what && <>: <span class="hand">{whatWord(e.what)}</span></>}</p>}
      {e.uncounted && <p class="note strong">{t("alarm.uncounted", { days: spoken(e.uncounted.map(shortDate)) })}</p>}
    </>
  ) }));
  const left = page.not_done.map((n): Piece => ({ key: `not done ${n.due} ${n.kinds.join()}`, day: at(n.due), ahead: false, text: (
    <p class="note">{t("wheels.not done", { cares: careWords(n.kinds) })}</p>
  ) }));
  return [...stages, ...bad, ...left].sort((a, b) => a.day - b.day);
}

function NextLines({ page }: { page: WheelPage }) {
  if (page.next.length === 0) return <p class="note">{t("wheels.nothing next")}</p>;
  return (
    <>
      <p class="note strong">{t("wheels.next.head")}</p>
      {[...page.next].sort((a, b) => (a.due < b.due ? -1 : a.due > b.due ? 1 : 0)).map((n) => (
        <div key={n.due + n.kinds.join()} class="tab"><span class="verb">{careWords(n.kinds)}</span><span class="word">{n.due < page.head.day ? t("round.due", { day: lateWord(n.due, page.head.day) }) : opening(dayWord(n.due, page.head.day))}</span></div>
      ))}
    </>
  );
}

/** The least scale at which each text stands beside its day without touching the one before. */
function fit(items: Piece[], heights: number[], age: number): { perDay: number; tops: number[] } {
  let perDay = Math.min(kMostADay, kPast / Math.max(1, age));
  const past = items.map((item, i) => ({ item, height: heights[i] ?? 0 })).filter((p) => !p.item.ahead);
  const need = past.reduce((sum, p) => sum + p.height, 0);
  perDay = Math.max(perDay, need / Math.max(1, age));
  let floor = 0;
  const tops = past.map(({ item, height }) => {
    const top = Math.max(floor, kTop + item.day * perDay - 10);
    floor = top + height;
    return top;
  });
  return { perDay, tops };
}

interface Layout { scale: LifeScale; tops: number[]; next: number; key: number }

function layOut(items: Piece[], heights: number[], next: number, age: number): Layout {
  const { perDay, tops } = fit(items, heights, age);
  const lastPast = tops.length > 0 ? tops[tops.length - 1]! + (heights[tops.length - 1] ?? 0) : 0;
  const today = Math.max(kTop + age * perDay, lastPast + 2);
  const scale: LifeScale = { top: kTop, perDay: (today - kTop) / Math.max(1, age), today, future: [], end: 0 };
  let floor = today + 5 + next + 14;
  items.forEach((item, i) => {
    if (!item.ahead) return;
    scale.future.push(floor + 10);
    tops.push(floor);
    floor += (heights[i] ?? 0) + 12;
  });
  scale.end = Math.max(floor + 8, today + 60);
  return { scale, tops, next: today + 5, key: scale.end + 6 };
}

export function Life({ page }: { page: WheelPage }) {
  const box = useRef<HTMLElement>(null);
  const [layout, setLayout] = useState<Layout>();
  const items = pieces(page);
  const age = Math.max(1, page.wheel.age);
  useLayoutEffect(() => {
    const measure = () => {
      const of = (name: string) => [...(box.current?.querySelectorAll<HTMLElement>(name) ?? [])].map((e) => e.offsetHeight + 6);
      setLayout(layOut(items, of(".piece"), of(".upcoming")[0] ?? 0, age));
    };
    measure();
    addEventListener("resize", measure);
    return () => removeEventListener("resize", measure);
  }, [page]);
  const top = (px: number | undefined) => ({ top: `${px ?? 0}px` });
  return (
    <section class="life" ref={box} style={{ height: `${(layout?.key ?? 400) + 40}px` }}>
      {layout && <PlanLine page={page} scale={layout.scale} />}
      {items.map((item, i) => <div key={item.key} class="at piece" style={top(layout?.tops[i])}>{item.text}</div>)}
      <div class="today" style={top(layout?.scale.today)} />
      <div class="at upcoming" style={top(layout?.next)}><NextLines page={page} /></div>
      <p class="at note key" style={top(layout?.key)}><TurnedKey />{t("wheels.key.turned")}<WashedKey />{joined(t("wheels.key.washed"))}</p>
    </section>
  );
}

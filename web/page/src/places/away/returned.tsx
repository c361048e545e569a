// While you were away: what was done, what nobody visited (away, not late), how the caves kept, what rang.
import type { Returned } from "../../api";
import { dateOf, daysBetween, hour, shortDate, weekdayDate } from "../../days";
import { StateGlyph } from "../../draw/glyphs";
import { between, celsius, lasting, points, span } from "../../figures";
import { useAnswer } from "../../house/answers";
import { alarmWord } from "../../parts/alarm_words";
import { whatWord } from "../../parts/alarms";
import { Book, Notices } from "../../parts/book";
import { Entry, GroupHead, WordLink } from "../../parts/leaf";
import { caredWords, careWords, joined } from "../../parts/names";
import { many, opening, t } from "../../words";
import { isBlind, isHumid, isOfAir } from "../../parts/kinds";
import { Waiting } from "../waiting";

export function ReturnedPlace({ from, back }: { from: string; back: string }) {
  const path = `/api/returned?from=${from}&back=${back}`;
  const answer = useAnswer<Returned>(path);
  const page = answer.value;
  if (!page) return <Waiting place="round" path={path} answer={answer} />;
  const days = daysBetween(page.from, page.back);
  return (
    <Book place="round" title={t("returned.title")}>
      <section class="leaf">
        <header class="entry head heavy">
          <div class="m">{t("away.away")}<span class="day">{days}</span>{t(days === 1 ? "unit.days.one" : "unit.days.other")}</div>
          <div class="b"><h1 class="name">{t("returned.title")}</h1><p class="note">{t("away.of", { from: weekdayDate(page.from), back: weekdayDate(page.back) })}. {said(page)}</p></div>
        </header>
        <Notices />
        <NotVisited page={page} />
        <Caves page={page} />
      </section>
      <section class="leaf">
        <Done page={page} />
        {page.questions > 0 && <Entry><span class="word">{many("round.questions", page.questions)}</span></Entry>}
        <WordLink href="/">{t("round.to round")}</WordLink>
      </section>
    </Book>
  );
}

const said = (page: Returned) => opening(joined(page.done.length > 0 ? many("returned.done", page.done.length) : t("returned.nothing done"), page.not_visited.length > 0 && many("returned.not visited", page.not_visited.length))) + ".";

function NotVisited({ page }: { page: Returned }) {
  if (page.not_visited.length === 0) return <Entry><span class="note">{t("returned.none waits")}</span></Entry>;
  return (
    <>
      <GroupHead b={t("returned.nobody came")} i={t("returned.away")} />
      {page.not_visited.map((line, i) => (
        <Entry key={i} m={<span class="strong">{line.place}</span>}>
          <span class="verb small">{careWords(line.kinds)}{line.count > 1 ? ` ${line.count}` : ""}</span><span class="note block">{t("returned.due", { day: weekdayDate(line.due) })}</span>
        </Entry>
      ))}
      <Entry><span class="note">{t("returned.not late")}</span></Entry>
    </>
  );
}

function Caves({ page }: { page: Returned }) {
  return (
    <>
      {(page.caves.length > 0 || page.alarms.length > 0) && <GroupHead b={t("returned.caves")} />}
      {page.caves.map((cave) => (
        <Entry key={cave.cave} m={<span class="strong">{cave.name}</span>}>
          <span class="word">{cave.low === undefined || cave.high === undefined ? t("returned.no reading") : `${span({ low: cave.low, high: cave.high })}\u00a0°C`}</span>
          {cave.unknown_hours > 0 && <span class="note block">{t("returned.unknown", { long: lasting(cave.unknown_hours * 3_600_000) })}</span>}
        </Entry>
      ))}
      {page.alarms.map((alarm) => (
        <Entry key={alarm.from} m={<><span class="strong">{shortDate(dateOf(alarm.from))}</span><span class="note block">{hour(alarm.from)}</span></>}>
          <span class={isOfAir(alarm.kind) ? "word bad glyphed" : "word glyphed"}><StateGlyph state={isBlind(alarm.kind) ? "unknown" : "out of band"} side={alarm.kind === "too cold" || alarm.kind === "too dry" ? -1 : 1} /> {t("alarm.title", { cave: alarm.cave_name, what: alarmWord(alarm) })}</span>
          <span class="note block">{joined(alarm.to !== undefined && between(alarm.from, alarm.to), isOfAir(alarm.kind) && t("alarm.reached", { value: isHumid(alarm.kind) ? points(alarm.extreme) : celsius(alarm.extreme) }), alarm.what && t("returned.it was", { what: whatWord(alarm.what) }))}</span>
        </Entry>
      ))}
    </>
  );
}

function Done({ page }: { page: Returned }) {
  if (page.done.length === 0) return null;
  return (
    <>
      <GroupHead b={t("returned.was done")} />
      {page.done.map((line, i) => (
        <Entry key={i} class="jl" m={<time>{shortDate(dateOf(line.at))}</time>}>
          <span class="hand">{caredWords(line.kinds)}{line.count > 1 ? ` ${line.count}` : ""}</span>, {line.place} <span class="note">{joined(hour(line.at), line.keeper)}</span>
        </Entry>
      ))}
    </>
  );
}

// The absences that are written in the book.
import type { Settings } from "../../api";
import { shortDate, weekdayDate } from "../../days";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { unknownTo } from "../../house/overlay";
import { queue } from "../../house/acts";
import { signed } from "../../house/keeper";
import { Book, Notices } from "../../parts/book";
import { Entry, WordLink } from "../../parts/leaf";
import { dayWord } from "../../parts/names";
import { opening, t } from "../../words";
import { Waiting } from "../waiting";

/** The absences that are written in the book: to be struck while they lie ahead, to be looked back on afterwards. */
export function MarkedPlace() {
  const answer = useAnswer<Settings>("/api/settings");
  const entries = useEntries();
  if (!answer.value) return <Waiting place="round" path="/api/settings" answer={answer} />;
  const { day } = answer.value.head;
  const marked = [...answer.value.away].sort((a, b) => (a.from < b.from ? 1 : -1));
  const waiting = unknownTo(answer.asked_at, entries).filter((e) => e.act.kind === "away" && !marked.some((m) => m.act === e.act.id));
  const struck = (act: string) => entries.some((e) => e.act.kind === "undo" && e.act.of === act && e.state !== "refused");
  return (
    <Book place="round" title={opening(t("away.marked"))}>
      <section class="leaf">
        <header class="entry head heavy"><div class="m" /><div class="b"><h1 class="name">{opening(t("away.marked"))}</h1><p class="note">{t("away.marked.low")}</p></div></header>
        <Notices />
        {waiting.map((e) => e.act.kind === "away" && <Entry key={e.act.id} m={shortDate(e.act.from)}><span class="hand">{t("away.of", { from: weekdayDate(e.act.from), back: weekdayDate(e.act.back) })}, {t("round.waiting")}</span></Entry>)}
        {marked.length === 0 && waiting.length === 0 && <Entry><span class="note">{t("away.none marked")}</span></Entry>}
        {marked.map((m) => (
          <Entry key={m.act} m={<span class="strong">{shortDate(m.from)}</span>}>
            <p class="word">{struck(m.act) ? <s>{t("away.back on", { day: dayWord(m.back, day) })}</s> : t("away.back on", { day: dayWord(m.back, day) })}</p>
            <span class="pairwords">
              {m.from <= day && <a class="tap back" href={`/returned/${m.from}/${m.back < day ? m.back : day}`}>{t("away.while")}</a>}
              {!struck(m.act) && <button type="button" class="tap back" onClick={() => signed(() => queue.undo(m.act))}>{t("away.strike")}</button>}
            </span>
          </Entry>
        ))}
        <WordLink href="/away">{t("away.another")}</WordLink>
      </section>
    </Book>
  );
}

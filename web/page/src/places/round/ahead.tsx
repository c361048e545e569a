// What comes next, and what may be done today although it is due later.
import type { Round } from "../../api";
import { hour, weekdayDate } from "../../days";
import { sign } from "../../house/acts";
import { useEntries } from "../../house/hooks";
import { signed } from "../../house/keeper";
import { Entry, EntryButton, GroupHead } from "../../parts/leaf";
import { caredWords, careWords, joined, lotWord } from "../../parts/names";
import { t } from "../../words";
import { Waiting } from "./line";
import { hold } from "./held";
import { laterToday } from "./sentence";
import { lineMinutes } from "./sum";

interface NextLine { when: string; place: string; verb: string; count: number; low: string }

/** Later today, else the next days with work as far as the house says them. */
export function nextLines(round: Round): NextLine[] {
  if (round.next && (laterToday(round) || round.coming.length === 0)) {
    const { day, from, lines } = round.next;
    const when = !laterToday(round) ? weekdayDate(day) : from === undefined ? t("round.ahead.evening") : hour(from);
    return lines.map((line) => ({ when, place: line.place, verb: careWords(line.kinds), count: line.count, low: line.place }));
  }
  return round.coming.flatMap(({ day, lines }) => lines.map((line) => ({
    when: weekdayDate(day), place: line.place, verb: careWords(line.kinds), count: line.count, low: joined(line.place, lotWord(line.lot), lineMinutes(line.minutes)),
  })));
}

const kShown = 8;

export function Next({ round }: { round: Round }) {
  const lines = nextLines(round).slice(0, kShown);
  if (lines.length === 0) return null;
  const many = new Set(lines.map((l) => l.when)).size > 1;
  return (
    <>
      <GroupHead m={t("round.next.head")} b={t(laterToday(round) ? "round.ahead.today" : many ? "round.ahead.days" : "round.ahead.next")} />
      {lines.map((line, i) => (
        <Entry key={`${line.when} ${line.low} ${line.verb}`} class="nxt" m={<span class="place">{lines[i - 1]?.when === line.when ? "" : line.when}</span>}>
          <span class="top"><span class="verb">{line.verb}</span><span class="count">{line.count}</span></span>
          <span class="low">{line.low}</span>
        </Entry>
      ))}
    </>
  );
}

/** Cares in their window: done early they count. */
export function Early({ round }: { round: Round }) {
  const entries = useEntries();
  const offers = round.open.filter((o) => o.wheels.length > 0);
  return (
    <>
      {offers.map((offer, i) => {
        const key = `early ${offer.place} ${offer.kinds.join()} ${offer.wheels.join()}`;
        const done = entries.find((e) => e.about === key && e.state !== "refused" && e.act.kind === "care"
          && !entries.some((u) => u.act.kind === "undo" && u.act.of === e.act.id));
        const words = t("round.may", { place: offer.place, cared: caredWords(offer.kinds) });
        const tap = () => signed(() => {
          const entry = sign(offer.wheels, offer.kinds, key);
          hold(key, `${offer.place} ${caredWords(offer.kinds)}`, entry.act.id);
        });
        const m = i === 0 ? <span class="strong">{t("round.early")}</span> : undefined;
        if (done) return <Entry key={key} class={`word1 ${done.state === "waiting" ? "unsent" : ""}`} m={m}><s>{words}</s> {done.state === "waiting" && <Waiting />}</Entry>;
        return <EntryButton key={key} class="word1 noprint" m={m} tap={tap}><span class="tap">{words}</span></EntryButton>;
      })}
    </>
  );
}

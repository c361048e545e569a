// What comes next, and what may be done today although it is due later.
import type { Round } from "../../api";
import { hour, weekdayDate } from "../../days";
import { sign } from "../../house/acts";
import { useEntries } from "../../house/hooks";
import { Entry, EntryButton, GroupHead } from "../../parts/leaf";
import { caredWords, careWords } from "../../parts/names";
import { t } from "../../words";
import { Waiting } from "./line";
import { hold } from "./held";
import { laterToday } from "./sentence";

export function Next({ round }: { round: Round }) {
  if (!round.next) return null;
  const { day, from, lines } = round.next;
  const when = !laterToday(round) ? weekdayDate(day) : from === undefined ? t("round.ahead.evening") : hour(from);
  return (
    <>
      <GroupHead m={t("round.next.head")} b={t(laterToday(round) ? "round.ahead.today" : "round.ahead.next")} />
      {lines.map((line) => (
        <Entry key={line.place + line.kinds.join()} class="nxt" m={<span class="place">{when}</span>}>
          <span class="top"><span class="verb">{careWords(line.kinds)}</span><span class="count">{line.count}</span></span>
          <span class="low">{line.place}</span>
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
        const tap = () => {
          const entry = sign(offer.wheels, offer.kinds, key);
          hold(key, `${offer.place} ${caredWords(offer.kinds)}`, entry.act.id);
        };
        const m = i === 0 ? <span class="strong">{t("round.early")}</span> : undefined;
        if (done) return <Entry key={key} class={`word1 ${done.state === "waiting" ? "unsent" : ""}`} m={m}><s>{words}</s> {done.state === "waiting" && <Waiting />}</Entry>;
        return <EntryButton key={key} class="word1" m={m} tap={tap}><span class="tap">{words}</span></EntryButton>;
      })}
    </>
  );
}

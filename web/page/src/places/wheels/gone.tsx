// The wheels that left, the last first: when, how, to whom. Their pages stay in the book.
import type { Day, GoneWheels, Leaving } from "../../api";
import { keeperDay } from "../../days";
import { useAnswer } from "../../house/answers";
import { Book, Notices } from "../../parts/book";
import { Entry, EntryLink, TitleHead, WordButton } from "../../parts/leaf";
import { dateWord, dayWord, joined, lotWord } from "../../parts/names";
import { opening, t } from "../../words";
import { howWord } from "../journal/decided";
import { Waiting } from "../waiting";
import { useState } from "preact/hooks";

const kPath = "/api/gone";
const kAtOnce = 60;

/** "sold yesterday, to the market" */
export const goneWords = (gone: Leaving, today: Day): string =>
  joined(t("wheels.gone.how", { how: howWord(gone.how), day: dayWord(keeperDay(gone.at), today) }), gone.to && t("journal.gone.to", { to: gone.to }));

export function GonePlace() {
  const answer = useAnswer<GoneWheels>(kPath);
  const [shown, setShown] = useState(kAtOnce);
  const page = answer.value;
  if (!page) return <Waiting place="wheels" path={kPath} answer={answer} />;
  const today = page.head.day;
  return (
    <Book place="wheels" title={t("wheels.gone.title")}>
      <section class="leaf">
        <TitleHead title={t("wheels.gone.title")} note={t("wheels.gone.low")} />
        <Notices />
        {page.wheels.length === 0 && <Entry><span class="note">{t("wheels.gone.none")}</span></Entry>}
        {page.wheels.slice(0, shown).map((wheel) => (
          <EntryLink key={wheel.id} class="pick" href={`/wheels/${wheel.id}`} m={<span class="note">{dateWord(keeperDay(wheel.gone.at), today)}</span>}>
            <span class="word tap">{wheel.name}</span>
            <span class="note block">{opening(joined(goneWords(wheel.gone, today), lotWord(wheel.lot)))}</span>
          </EntryLink>
        ))}
        {page.wheels.length > shown && <WordButton tap={() => setShown(shown + kAtOnce)}>{t("wheels.older cares", { count: page.wheels.length - shown })}</WordButton>}
      </section>
    </Book>
  );
}

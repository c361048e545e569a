// The journal: newest below, at the thumb; "older" brings the page before; a note is written at the foot.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Journal, JournalLine } from "../../api";
import { instantOfStamp } from "../../clock";
import { hour } from "../../days";
import { useAnswer } from "../../house/answers";
import { note, queue } from "../../house/acts";
import { useEntries, useTick } from "../../house/hooks";
import { unknownTo } from "../../house/overlay";
import type { Entry as Kept } from "../../queue/entry";
import { Book, Notices } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, TitleHead, WordButton } from "../../parts/leaf";
import { actWords } from "../../parts/refused";
import { useCutOff } from "../../parts/troubles";
import { back, go } from "../../route";
import { opening, t } from "../../words";
import { Waiting as WaitingWord } from "../round/line";
import { Waiting } from "../waiting";
import { JournalLines } from "./line";

export const kJournalPath = "/api/journal";

/** What this phone has tapped and the journal does not hold yet. */
function Unsent({ entries }: { entries: Kept[] }) {
  return (
    <>
      {entries.map((entry) => (
        <div key={entry.act.id} class="entry jl">
          <div class="m"><time>{hour(instantOfStamp(entry.act.said_at ?? entry.act.tapped_at))}</time></div>
          <div class="b"><span class="hand">{opening(actWords(entry.act))}</span> {entry.state === "waiting" && <WaitingWord />}</div>
        </div>
      ))}
    </>
  );
}

/** Pages before the newest, loaded as they are asked for. */
function useOlder(newest: Journal | undefined) {
  const [older, setOlder] = useState<{ lines: JournalLine[]; more: boolean }>();
  const [busy, setBusy] = useState(false);
  const height = useRef<number | undefined>(undefined);
  const first = older?.lines[0] ?? newest?.lines[0];
  const more = older?.more ?? newest?.older ?? false;
  const load = async () => {
    if (!first || busy) return;
    setBusy(true);
    try {
      const response = await fetch(`/api/journal?before=${first.position}`);
      const page = (await response.json()) as Journal;
      height.current = document.documentElement.scrollHeight;
      setOlder({ lines: [...page.lines, ...(older?.lines ?? [])], more: page.older });
    } catch {
      // Cut off: the word stays there to be tapped again.
    }
    setBusy(false);
  };
  // What is read stays under the eye while older lines come in above it.
  useLayoutEffect(() => {
    if (height.current === undefined) return;
    scrollBy(0, document.documentElement.scrollHeight - height.current);
    height.current = undefined;
  }, [older]);
  return { lines: older?.lines ?? [], more, load };
}

export function JournalPlace() {
  const answer = useAnswer<Journal>(kJournalPath);
  const entries = useEntries();
  const cut = useCutOff();
  useTick();
  const page = answer.value;
  const older = useOlder(page);
  const opened = useRef(false);
  useEffect(() => {
    if (!page || opened.current) return;
    opened.current = true;
    scrollTo(0, document.documentElement.scrollHeight);
  }, [page]);
  if (!page) return <Waiting place="journal" path={kJournalPath} answer={answer} />;
  const have = new Set(older.lines.map((l) => l.position));
  const lines = [...older.lines, ...page.lines.filter((l) => !have.has(l.position))];
  const unsent = unknownTo(answer.asked_at, entries);
  return (
    <Book place="journal" title={t("place.journal")} class="withwrite"
          foot={<aside class="write" aria-label={t("journal.note.title")}><span /><a href="/journal/note" class="tap">{t("journal.note")}</a></aside>}>
      <section class="leaf">
        <h1 class="sr">{t("place.journal")}</h1>
        {older.more && <WordButton class="noprint" tap={() => void older.load()}>{t("journal.older")}</WordButton>}
        {lines.length === 0 && <Entry>{t("journal.empty")}</Entry>}
        <JournalLines lines={lines} now={page.head.now} />
        <Unsent entries={unsent} />
        {cut && <Entry class="trouble"><span class="strong">{cut}</span></Entry>}
        <Notices />
      </section>
    </Book>
  );
}

export function NotePlace() {
  const [text, setText] = useState("");
  const field = useRef<HTMLTextAreaElement>(null);
  useEffect(() => field.current?.focus(), []);
  const write = () => {
    if (!text.trim()) return;
    note(text.trim());
    if (queue.entries.value.length > 0) back("/journal");
    else go("/journal", true);
  };
  return (
    <Book place="journal" title={t("journal.note.title")} class="withdeed"
          foot={<Deed verb={t("journal.note.deed")} low={t("journal.note.low")} tap={write} off={!text.trim()} />}>
      <section class="leaf">
        <TitleHead title={t("journal.note.title")} />
        <Entry class="write1" m={<label for="note">{t("journal.note")}</label>}>
          <textarea id="note" ref={field} class="field" maxLength={2000} placeholder={t("journal.note.place")} value={text} onInput={(e) => setText(e.currentTarget.value)} />
        </Entry>
      </section>
    </Book>
  );
}

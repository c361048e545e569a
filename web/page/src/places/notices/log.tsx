// What went out, newest on top: to whom, and what became of it; one notice with its text.
import { useState } from "preact/hooks";
import type { Notice, NoticesPage, NoticeText } from "../../api";
import { dateOf, hour, weekdayDate } from "../../days";
import { useAnswer } from "../../house/answers";
import { clockWord } from "../../parts/alarm_words";
import { Book } from "../../parts/book";
import { Entry, EntryLink, GroupHead, TitleHead, WordButton, WordLink } from "../../parts/leaf";
import { t } from "../../words";
import { Waiting } from "../waiting";

export function stateWords(notice: Notice): string {
  switch (notice.state) {
    case "waiting": {
      const word = notice.tries > 0 ? t("notices.state.waiting", { tries: notice.tries }) : t("notices.state.waiting new");
      return notice.next_at === undefined ? word : `${word}, ${t("notices.again at", { time: clockWord(notice.next_at, notice.at) })}`;
    }
    case "refused": {
      const word = t("notices.state.refused", { tries: notice.tries });
      return notice.next_at === undefined ? word : `${word}, ${t("notices.again at", { time: clockWord(notice.next_at, notice.at) })}`;
    }
    case "sent": return t("notices.state.sent", { time: clockWord(notice.done_at ?? notice.at, notice.at) });
    default: return t(`notices.state.${notice.state}`);
  }
}

const toWords = ({ hearer, address }: Notice) => (hearer ? t("notices.log.to", { name: hearer, address }) : t("notices.log.to you", { address }));

function Row({ notice }: { notice: Notice }) {
  return (
    <EntryLink class="posted" href={`/notices/${notice.number}`} m={<><b>{hour(notice.at)}</b><span class="note">{weekdayDate(dateOf(notice.at))}</span></>}>
      <span class="word">{notice.subject}</span>
      <span class="low">{toWords(notice)}</span>
      <span class="low strong">{stateWords(notice)}</span>
      {notice.why && notice.state !== "sent" && <span class="low">{notice.why}</span>}
    </EntryLink>
  );
}

export function Log({ page }: { page: NoticesPage }) {
  const [older, setOlder] = useState<{ log: Notice[]; more: boolean }>();
  const have = new Set(page.log.map((n) => n.number));
  const log = [...page.log, ...(older?.log ?? []).filter((n) => !have.has(n.number))];
  const load = async () => {
    const last = log.at(-1);
    if (!last) return;
    try {
      const next = (await (await fetch(`/api/notices?before=${last.number}`)).json()) as NoticesPage;
      setOlder({ log: [...(older?.log ?? []), ...next.log], more: next.more });
    } catch {
      // Cut off: the word stays there to be tapped again.
    }
  };
  return (
    <>
      <GroupHead b={t("notices.log")} />
      {log.length === 0 && <Entry><span class="note">{t("notices.log.empty")}</span></Entry>}
      {log.map((notice) => <Row key={notice.number} notice={notice} />)}
      {(older?.more ?? page.more) && <WordButton tap={() => void load()}>{t("notices.log.older")}</WordButton>}
    </>
  );
}

export function NoticePlace({ number }: { number: string }) {
  const path = `/api/notices/${encodeURIComponent(number)}`;
  const answer = useAnswer<NoticeText>(path);
  if (!answer.value) return <Waiting place="caves" path={path} answer={answer} />;
  const notice = answer.value;
  return (
    <Book place="caves" title={t("notices.letter")}>
      <section class="leaf">
        <TitleHead title={notice.subject} note={toWords(notice)} />
        <Entry class="posted" m={<b>{hour(notice.at)}</b>}><span class="strong">{stateWords(notice)}</span>{notice.why && <span class="low">{notice.why}</span>}</Entry>
        <pre class="letter">{notice.narrow}</pre>
        {notice.alarm && <WordLink href={`/alarms/${encodeURIComponent(notice.alarm)}`}>{t("notice.see")}</WordLink>}
        <WordLink href="/notices">{t("notices.title")}</WordLink>
      </section>
    </Book>
  );
}

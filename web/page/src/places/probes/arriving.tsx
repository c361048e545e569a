// The topics that are arriving, each with a live sample; tap one to say what it is and where it hangs.
import { useEffect } from "preact/hooks";
import type { Arriving, ArrivingTopic } from "../../api";
import { hour } from "../../days";
import { ask, useAnswer } from "../../house/answers";
import { useTick } from "../../house/hooks";
import { Book, Notices } from "../../parts/book";
import { Entry, EntryLink, TitleHead } from "../../parts/leaf";
import { t } from "../../words";
import { Waiting } from "../waiting";

export const kArrivingPath = "/api/arriving";
const kAskAgain = 3_000;

/** Asks again while the component is open: samples are live. */
export function useArriving() {
  const answer = useAnswer<Arriving>(kArrivingPath);
  useEffect(() => {
    const timer = setInterval(() => void ask(kArrivingPath), kAskAgain);
    return () => clearInterval(timer);
  }, []);
  return answer;
}

/** A topic's slashes are written twice over: no server reads an address with one inside a part of it. */
const topicPath = (topic: string) => `/probes/${encodeURIComponent(encodeURIComponent(topic))}`;

function routedWords(topic: ArrivingTopic): string {
  if (!topic.routed) return "";
  const { probe, cave_name } = topic.routed;
  return cave_name ? t("probes.known.in", { probe, cave: cave_name }) : t("probes.known", { probe });
}

function TopicBody({ topic }: { topic: ArrivingTopic }) {
  return (
    <>
      <span class="topic">{topic.topic}</span>
      <span class="note sample block">{topic.sample}</span>
      {topic.routed && <span class="note block">{routedWords(topic)}</span>}
    </>
  );
}

export function ArrivingPlace() {
  const answer = useArriving();
  useTick();
  const page = answer.value;
  if (!page) return <Waiting place="caves" path={kArrivingPath} answer={answer} />;
  const topics = [...page.topics].sort((a, b) => Number(a.routed !== undefined) - Number(b.routed !== undefined) || a.topic.localeCompare(b.topic));
  // The house says of its broker what is wrong and what to do, below.
  const told = page.head.troubles.some((trouble) => trouble.kind === "broker");
  return (
    <Book place="caves" title={t("probes.title")}>
      <section class="leaf">
        <TitleHead title={t("probes.title")} note={page.connected ? t("probes.say") : !told && t("probes.no broker", { broker: page.broker })} />
        <Notices />
        {topics.length === 0 && <Entry>{t("probes.none")}{page.connected && <p class="note">{t("probes.none.low", { broker: page.broker })}</p>}</Entry>}
        {topics.map((topic) => (
          topic.routed
            ? <Entry key={topic.topic} m={<time class="note">{hour(topic.at)}</time>}><TopicBody topic={topic} /></Entry>
            : <EntryLink key={topic.topic} class="pick" href={topicPath(topic.topic)} m={<time>{hour(topic.at)}</time>}><TopicBody topic={topic} /></EntryLink>
        ))}
      </section>
    </Book>
  );
}

// What stands above the lines: the sentence, what to bring, days without a line, who signs.
import type { Alarm, Bring, Day, Round } from "../../api";
import { addDays, daysBetween, weekdayDate } from "../../days";
import { queue } from "../../house/acts";
import { iAm, signed } from "../../house/keeper";
import { Cells } from "../../parts/cells";
import { Entry } from "../../parts/leaf";
import { useCutOff } from "../../parts/troubles";
import { many, t, unbroken } from "../../words";
import { bringsNothing, toolWords, washParts } from "./bring";
import { hold } from "./held";
import { alarmFirst, great, nextWords } from "./sentence";
import type { Sum } from "./sum";

interface SentenceProps { round: Round; sum: Sum; lines: number; questions: number; waits: number; alarms: Alarm[]; others: { keeper: string; left: number }[] }

/** A sentence of two parts breaks between them, never inside. */
const Parts = ({ text }: { text: string }) => <>{text.split(/(?<=,) /).map((part) => <><span key={part} class="inline">{part}</span> </>)}</>;

export function Sentence({ round, sum, lines, questions, waits, alarms, others }: SentenceProps) {
  const cut = useCutOff();
  // What was put off today is not done.
  const short = sum.left === 0 && waits > 0;
  const next = short ? "" : nextWords(round, sum.left);
  const first = short ? t("round.done short") : great(round, sum, lines);
  const alarm = alarmFirst(alarms);
  return (
    <h1 class="say">
      {alarm && <span class="great">{alarm}</span>}
      {first && <span class={alarm ? undefined : "great"}><Parts text={first} /></span>}
      {short && <span>{many("round.can wait", waits)}</span>}
      {questions > 0 && <span>{many("round.questions", questions)}</span>}
      {others.map(({ keeper, left }) => <span key={keeper}>{t("share.has", { keeper, count: left })}</span>)}
      {next && <span>{next}</span>}
      <span>{cut || unbroken(round.besides ?? "")}</span>
    </h1>
  );
}

export function BringRow({ bring, forAll = false }: { bring: Bring; forAll?: boolean }) {
  if (bringsNothing(bring)) return null;
  const tools = toolWords(bring);
  const washes = washParts(bring.washes);
  return (
    <Entry class="heavy bring" m={<><span class="note strong">{t("bring")}</span>{forAll && <span class="note block">{t("bring.for all")}</span>}</>}>
      <span class="note">
        {washes.map((w, i) => <>{i > 0 && "; "}{w.times && `${w.times} `}<b>{w.strong}</b> {w.rest}</>)}
        {washes.length > 0 && tools && "; "}{tools}
        {bring.two_people && <>{(washes.length > 0 || tools) && ". "}<b>{t("bring.two people")}</b></>}
      </span>
    </Entry>
  );
}

/** Nobody wrote a line for days: two words settle the past, and none is needed to go on. */
export function Quiet({ since, today }: { since: Day; today: Day }) {
  const to = addDays(today, -1);
  const days = daysBetween(since, today);
  const margin = days >= 5 && days <= 9 ? t("quiet.week") : days === 1 ? t("quiet.day") : t("quiet.days");
  const settle = (how: "away" | "all fine") => signed(() => {
    const entry = queue.add({ kind: "past", how, from: since, to }, "past");
    hold("past", t(how === "away" ? "quiet.was away" : "quiet.was fine"), entry.act.id);
  });
  return (
    <Entry class="full tall heavy noprint" m={<span class="strong">{margin}</span>}>
      <Cells choices={[{ value: "away" as const, word: t("quiet.away") }, { value: "all fine" as const, word: t("quiet.fine") }]} choose={settle} />
    </Entry>
  );
}

/** `since` is the first day without a line; said is the last one with one. */
export const quietWords = (since: Day) => t("quiet.since", { day: weekdayDate(addDays(since, -1)) });

/** Asked once on each phone where there are several keepers. */
export function WhoSigns({ keepers }: { keepers: string[] }) {
  return (
    <Entry class="full tall heavy noprint" m={<span class="strong">{t("keeper.who")}</span>}>
      <Cells columns={keepers.length > 2 ? 3 : 2} choices={keepers.map((name) => ({ value: name, word: name }))} choose={iAm} />
    </Entry>
  );
}

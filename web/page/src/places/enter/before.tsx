// A wheel made before today: what was last done, and where a later part of its plan has begun, on which day. All of it
// is preset, so that one tap enters it; all of it can be changed with one.
import { useState } from "preact/hooks";
import type { CareKind, Day, StartWord } from "../../api";
import { daysBetween, longDate, shortDate } from "../../days";
import { Cells } from "../../parts/cells";
import { Entry, GroupHead, WordButton } from "../../parts/leaf";
import { Month } from "../../parts/month";
import { many, opening, t } from "../../words";
import { askedLast, lastDay, type EnterDraft, type LastWord } from "./draft";
import { StepHead, type Say } from "./steps";

function LastRow({ kind, draft, today, say }: { kind: CareKind; draft: EnterDraft; today: Day; say: Say }) {
  const [word, setWord] = useState<LastWord>("unknown");
  const choose = (next: LastWord) => {
    setWord(next);
    const { [kind]: _, ...others } = draft.last;
    const day = lastDay(next, today, draft.made!);
    say({ last: day ? { ...others, [kind]: day } : others });
  };
  const words: { value: LastWord; word: string }[] = [
    { value: "today", word: t("day.today") }, { value: "yesterday", word: t("day.yesterday") },
    { value: "some", word: t("enter.some") }, { value: "unknown", word: t("enter.dont") },
  ];
  return (
    <>
      <GroupHead b={t("enter.last", { cared: t(`cared.${kind}`) })} />
      <Entry class="full"><Cells choices={words} chosen={word} choose={choose} /></Entry>
    </>
  );
}

/** The day that the plan's usual length gives, marked as reckoned until the keeper says another. */
function StartRow({ start, draft, today, say }: { start: StartWord; draft: EnterDraft; today: Day; say: Say }) {
  const [month, setMonth] = useState(false);
  const chosen = draft.starts.find((s) => s.start === start);
  const set = (day: Day | undefined) => {
    const others = draft.starts.filter((s) => s.start !== start);
    say({ starts: day ? [...others, { start, day, reckoned: false }].sort((a, b) => (a.day < b.day ? -1 : 1)) : others });
    setMonth(false);
  };
  return (
    <>
      <GroupHead b={opening(t("enter.part", { start: t(`start.${start}`) }))} />
      <Entry m={chosen && <span class="place">{shortDate(chosen.day)}</span>}>
        <span class="word">{chosen ? longDate(chosen.day) : t("enter.part.not")}</span>
        {chosen && <span class="note"> {t(chosen.reckoned ? "enter.part.reckoned" : "enter.part.seen")}</span>}
      </Entry>
      {month ? <Month today={today} chosen={chosen?.day} earliest={draft.made!} choose={set} />
        : <Entry class="full"><Cells choices={[{ value: "other", word: t("enter.part.change") }, { value: "not", word: t("enter.part.not") }]}
                                     chosen={chosen ? undefined : "not"} choose={(v) => (v === "other" ? setMonth(true) : set(undefined))} /></Entry>}
    </>
  );
}

export function BeforeStep({ draft, today, starts, say, again }: { draft: EnterDraft; today: Day; starts: StartWord[]; say: Say; again: () => void }) {
  const age = many("days", daysBetween(draft.made!, today));
  return (
    <>
      <StepHead step={5} made={draft.made} today={today} note={t("enter.before.low", { family: draft.plan!.family, day: longDate(draft.made!), age })} />
      {starts.map((start) => <StartRow key={start} start={start} draft={draft} today={today} say={say} />)}
      {askedLast(draft.plan!, draft.starts).map((kind) => <LastRow key={kind} kind={kind} draft={draft} today={today} say={say} />)}
      <WordButton tap={again}>{t("enter.start over")}</WordButton>
    </>
  );
}

// A question in the round: no sign line, since it is never late; its answers in cells or rows.
import { useState } from "preact/hooks";
import type { Day, StartWord, WhereNow } from "../../api";
import { Ring } from "../../draw/rings";
import { queue } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import type { Plans } from "../../api";
import type { ShownQuestion } from "../../house/overlay";
import { EntryButton, Entry } from "../../parts/leaf";
import { Cells, type Choice } from "../../parts/cells";
import { WherePicker } from "../../parts/where";
import { joined, kinOf, lotWord } from "../../parts/names";
import { many, t } from "../../words";
import { Waiting } from "./line";
import { hold } from "./held";

const kKey = "not-yet";

/** Questions put off on this phone: asked again on the next day. */
function putOff(): Record<string, Day> {
  try {
    return JSON.parse(localStorage.getItem(kKey) ?? "{}") as Record<string, Day>;
  } catch {
    return {};
  }
}

export const isPutOff = (key: string, today: Day) => putOff()[key] === today;

function putOffNow(key: string, today: Day): void {
  const kept = Object.fromEntries(Object.entries(putOff()).filter(([, day]) => day === today));
  try {
    localStorage.setItem(kKey, JSON.stringify({ ...kept, [key]: today }));
  } catch {
    // It is asked again when the page is opened anew.
  }
}

function answer(question: ShownQuestion, start: StartWord, to?: WhereNow): void {
  const entry = queue.add({ kind: "answer", wheels: question.wheels, start, ...(to ? { move_to: to } : {}) }, question.key);
  hold(question.key, `${question.place} ${t(`start.${start}`)}`, entry.act.id);
}

function choose(question: ShownQuestion, option: string): void {
  const entry = queue.add({ kind: "answer", wheels: question.wheels, option }, question.key);
  hold(question.key, `${question.place} ${option}`, entry.act.id);
}

function Ask({ question, note }: { question: ShownQuestion; note?: string }) {
  const count = many("wheels.count", question.wheels.length, { family: kinOf(question.family, question.wheels.length) });
  return (
    <div class="entry ques" data-key={question.key}>
      <div class="m">
        <span class={`place ${question.place.length > 4 ? "long" : ""} ${question.place.length > 9 ? "wrap" : ""}`}>
          {question.place}{question.place.length < 7 && <Ring state={question.wheel_state} />}
        </span>
      </div>
      <div class="b">
        <span class="verb">{question.answered ? <s>{question.text}</s> : question.text}</span>
        <span class="note">{note ?? joined(lotWord(question.lot), count, t("day.number", { day: question.day }))}</span>
      </div>
    </div>
  );
}

/** A start: yes or not yet; where the yes is a move, also where to. */
function StartCells({ question, today, later }: { question: ShownQuestion; today: Day; later: () => void }) {
  const [elsewhere, setElsewhere] = useState(false);
  const start = question.start ?? "dry";
  const moves = question.where !== undefined || start === "entered box" || start === "entered cave";
  const yes: Choice<WhereNow | "yes" | "new">[] = moves
    ? [...(question.where ?? []).map((w) => ({ value: { cave: w.cave } as WhereNow, word: t("answer.into", { cave: w.cave_name }) })),
       { value: "new" as const, word: t("answer.new box") }]
    : [{ value: "yes" as const, word: start === "dry" ? t("answer.dry") : t("answer.yes") }];
  const choices: Choice<WhereNow | "yes" | "new" | "not yet">[] = [...yes, { value: "not yet" as const, word: t("answer.not yet") }];
  const tap = (value: WhereNow | "yes" | "new" | "not yet") => {
    if (value === "not yet") {
      putOffNow(question.key, today);
      later();
    } else if (value === "new") setElsewhere(true);
    else answer(question, start, value === "yes" ? undefined : value);
  };
  if (elsewhere) return <Elsewhere question={question} start={start} />;
  return (
    <Entry class="full tall heavy" m={<span class="note">{t("round.asked again")}</span>}>
      <Cells choices={choices} choose={tap} columns={choices.length > 2 ? 1 : 2} />
    </Entry>
  );
}

function Elsewhere({ question, start }: { question: ShownQuestion; start: StartWord }) {
  const plans = useAnswer<Plans>("/api/plans").value;
  return (
    <>
      <Entry class="class" m=""><b>{t("answer.to where")}</b></Entry>
      <WherePicker caves={plans?.caves ?? []} choose={(to) => answer(question, start, to)} />
    </>
  );
}

function BranchRows({ question, today, later }: { question: ShownQuestion; today: Day; later: () => void }) {
  return (
    <>
      {(question.options ?? []).map((option) => (
        <EntryButton key={option} class="choice" tap={() => choose(question, option)}><span class="word hand">{option}</span></EntryButton>
      ))}
      <EntryButton class="choice" tap={() => { putOffNow(question.key, today); later(); }}>
        <span class="word hand">{t("answer.later")}</span><span class="note">{t("answer.later.low")}</span>
      </EntryButton>
    </>
  );
}

export function Question({ question, today, later }: { question: ShownQuestion; today: Day; later: () => void }) {
  if (question.answered) {
    const word = question.kind === "start" ? t(`start.${question.answered.word as StartWord}`) : question.answered.word;
    return (
      <div class={question.answered.waiting ? "unsent" : ""}>
        <Ask question={question} note={word} />
        <Entry class="heavy">{question.answered.waiting && <Waiting />}</Entry>
      </div>
    );
  }
  return (
    <>
      <Ask question={question} />
      {question.kind === "start" ? <StartCells question={question} today={today} later={later} /> : <BranchRows question={question} today={today} later={later} />}
    </>
  );
}

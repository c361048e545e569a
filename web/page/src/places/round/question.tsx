// A question in the round: no sign line, since it is never late; its answers in cells or rows.
import { useRef, useState } from "preact/hooks";
import type { Day, Settings, StartWord, WhereNow } from "../../api";
import { Ring } from "../../draw/rings";
import { queue } from "../../house/acts";
import { cellOf, useAnswer } from "../../house/answers";
import type { Plans } from "../../api";
import type { ShownQuestion } from "../../house/overlay";
import { kSettingsPath, signed } from "../../house/keeper";
import type { Draft } from "../../queue/entry";
import { Entry, WordButton } from "../../parts/leaf";
import { Cells, type Choice } from "../../parts/cells";
import { Place } from "../../parts/place";
import { WherePicker } from "../../parts/where";
import { dateWord, joined, kinOf, lotWord, whichDay } from "../../parts/names";
import { many, t } from "../../words";
import { Waiting } from "./line";
import { hold, type Held } from "./held";

type Tapped = { question: ShownQuestion; height: number };

/** Writes what was tapped and keeps the question in its place; where nobody has signed yet, it is asked first who does. */
function say(tapped: Tapped, draft: Draft, what: string, later = false): void {
  const { question, height } = tapped;
  signed(() => {
    const entry = queue.add(draft, question.key);
    hold(question.key, t("round.said", { place: question.place, what }), entry.act.id, { height, question, ...(later ? { later } : {}) });
  });
}

const answer = (tapped: Tapped, start: StartWord, to?: WhereNow): void =>
  say(tapped, { kind: "answer", wheels: tapped.question.wheels, start, ...(to ? { move_to: to } : {}) }, startedWord(tapped.question, start, to));

const choose = (tapped: Tapped, option: string): void => say(tapped, { kind: "answer", wheels: tapped.question.wheels, option }, option);

/** Asked again tomorrow, on every phone. */
function putOff(tapped: Tapped): void {
  const { wheels, text, start } = tapped.question;
  say(tapped, { kind: "later", wheels, question: text, ...(start ? { start } : {}) }, laterWord(tapped.question), true);
}

function takeBack({ key, answered }: ShownQuestion): void {
  const id = answered!.entry.act.id;
  signed(() => queue.undo(id, key));
}

/** "into Box 2", where it is said into which; else "into the box", "dry". */
function startedWord(question: ShownQuestion, start: StartWord, to: WhereNow | undefined): string {
  const cave = to && "cave" in to ? to.cave : undefined;
  const known = question.where?.find((w) => w.cave === cave)?.cave_name ?? cellOf<Plans>("/api/plans").value.value?.caves.find((c) => c.id === cave)?.name;
  if (!to || !known) return t(`start.${start}`);
  return t("start.into", { place: joined(known, "shelf" in to && to.shelf) });
}

const laterWord = ({ kind }: ShownQuestion) => t(kind === "start" ? "answer.not yet" : "answer.later");
const laterLow = ({ kind }: ShownQuestion) => t(kind === "start" ? "round.asked again" : "answer.later.low");

/** "Usually 2 to 3 days." or, of a branch, from when to when it is ready if it is eaten young. */
function expectation({ usual, ready }: ShownQuestion, today: Day): string {
  if (usual) return t(usual.low === usual.high ? "question.usual one" : "question.usual", { ...usual });
  if (!ready) return "";
  const to = dateWord(ready.to, today);
  return ready.from <= today ? t("question.ready now", { to }) : t("question.ready", { from: dateWord(ready.from, today), to });
}

function Ask({ question, today, note }: { question: ShownQuestion; today: Day; note?: string }) {
  const count = many("wheels.count", question.wheels.length, { family: kinOf(question.family, question.wheels.length) });
  return (
    <div class="entry ques" data-key={question.key}>
      <div class="m">
        <Place place={question.place} ring={<Ring state={question.wheel_state} />} />
      </div>
      <div class="b">
        <span class="verb">{question.answered && !question.answered.later ? <s>{question.text}</s> : question.text}</span>
        <span class="note">{note ?? [joined(lotWord(question.lot), count, whichDay(question)), expectation(question, today)].filter(Boolean).join(". ")}</span>
      </div>
    </div>
  );
}

interface AskedProps { question: ShownQuestion; height: () => number }

/** The answers in cells of a word or two; in the margin that whoever answers "not yet" is asked again. */
function Answers<T>({ question, choices, choose }: { question: ShownQuestion; choices: Choice<T>[]; choose: (value: T) => void }) {
  return <Entry class="full tall heavy" m={<span class="note">{laterLow(question)}</span>}><Cells choices={choices} choose={choose} /></Entry>;
}

/** A start: yes or not yet; where the yes is a move, into the likeliest place or elsewhere. */
function StartCells({ question, height }: AskedProps) {
  const [elsewhere, setElsewhere] = useState(false);
  const [shelf, setShelf] = useState("");
  const start = question.start ?? "dry";
  const moves = question.where !== undefined || start === "entered box" || start === "entered cave";
  const likely = question.where?.[0];
  const yes: Choice<WhereNow | "yes" | "new">[] = moves
    ? [...(likely ? [{ value: { cave: likely.cave, ...(shelf ? { shelf } : {}) } as WhereNow, word: t("answer.into", { cave: joined(likely.cave_name, shelf) }) }] : []),
       { value: "new" as const, word: t(likely ? "answer.elsewhere" : "answer.new box") }]
    : [{ value: "yes" as const, word: start === "dry" ? t("answer.dry") : t("answer.yes") }];
  const choices: Choice<WhereNow | "yes" | "new" | "not yet">[] = [...yes, { value: "not yet" as const, word: laterWord(question) }];
  const tap = (value: WhereNow | "yes" | "new" | "not yet") => {
    if (value === "not yet") putOff({ question, height: height() });
    else if (value === "new") setElsewhere(true);
    else answer({ question, height: height() }, start, value === "yes" ? undefined : value);
  };
  if (elsewhere) return <Elsewhere question={question} start={start} height={height} />;
  return (
    <>
      <Answers question={question} choices={choices} choose={tap} />
      {likely && <OnShelf cave={likely.cave} shelf={shelf} say={setShelf} />}
    </>
  );
}

/** Where the shelves of the cave have names, one may be said before the yes; nobody has to. */
function OnShelf({ cave, shelf, say }: { cave: number; shelf: string; say: (shelf: string) => void }) {
  const settings = useAnswer<Settings>(kSettingsPath).value;
  const [open, setOpen] = useState(false);
  const shelves = settings?.caves.find((c) => c.id === cave)?.shelves ?? [];
  if (shelves.length === 0) return null;
  if (!open) return <WordButton tap={() => setOpen(true)}>{t(shelf ? "answer.shelf.other" : "answer.shelf")}</WordButton>;
  const choose = (name: string) => {
    say(name === shelf ? "" : name);
    setOpen(false);
  };
  return <Entry class="full"><Cells columns={3} choices={shelves.map((name) => ({ value: name, word: name }))} chosen={shelf} choose={choose} /></Entry>;
}

function Elsewhere({ question, start, height }: { question: ShownQuestion; start: StartWord; height: () => number }) {
  const plans = useAnswer<Plans>("/api/plans").value;
  return (
    <>
      <Entry class="class" m=""><b>{t("answer.to where")}</b></Entry>
      <WherePicker caves={plans?.caves ?? []} choose={(to) => answer({ question, height: height() }, start, to)} />
    </>
  );
}

/** A choice between ways, or none yet. */
function BranchCells({ question, height }: AskedProps) {
  const choices: Choice<{ option: string } | "later">[] = [...(question.options ?? []).map((option) => ({ value: { option }, word: option })),
    { value: "later" as const, word: laterWord(question) }];
  const tap = (value: { option: string } | "later") =>
    (value === "later" ? putOff({ question, height: height() }) : choose({ question, height: height() }, value.option));
  return <Answers question={question} choices={choices} choose={tap} />;
}

function answeredWord(question: ShownQuestion): string {
  const { word, later, entry } = question.answered!;
  if (later) return laterLow(question);
  return question.kind === "start" ? startedWord(question, word as StartWord, "move_to" in entry.act ? entry.act.move_to : undefined) : word;
}

export function Question({ question, today, held }: { question: ShownQuestion; today: Day; held: Held | undefined }) {
  const box = useRef<HTMLDivElement>(null);
  const height = () => box.current?.getBoundingClientRect().height ?? 0;
  if (question.answered) {
    const kept = held?.key === question.key && held.height ? { minHeight: `${held.height}px` } : {};
    return (
      <div class={`asked ${question.answered.waiting ? "unsent" : ""}`} style={kept}>
        <Ask question={question} today={today} note={answeredWord(question)} />
        {question.answered.waiting && <Entry class="plain"><Waiting /></Entry>}
        {held?.key !== question.key && <WordButton tap={() => takeBack(question)}>{t("round.undo")}</WordButton>}
      </div>
    );
  }
  return (
    <div class="asked" ref={box}>
      <Ask question={question} today={today} />
      {question.kind === "start" ? <StartCells question={question} height={height} /> : <BranchCells question={question} height={height} />}
    </div>
  );
}

// The round: today's lines, one tap each.
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Day, Round, Settings } from "../../api";
import { useCell } from "../../cell";
import { now } from "../../clock";
import { hour } from "../../days";
import { useAnswer } from "../../house/answers";
import { useEntries, useTick } from "../../house/hooks";
import { keepersOf, kSettingsPath, useMe } from "../../house/keeper";
import { answeredBy, overAlarms, overLines, overQuestions, overQuiet, unknownTo, type ShownLine, type ShownQuestion } from "../../house/overlay";
import type { Entry as Kept } from "../../queue/entry";
import { Book, Notices } from "../../parts/book";
import { DayHead, Entry, GroupHead } from "../../parts/leaf";
import { dayWord } from "../../parts/names";
import { t } from "../../words";
import { Enter } from "../enter/enter";
import { Waiting } from "../waiting";
import { Early, Next } from "./ahead";
import { AnsweredLine, useAnswers } from "./answered";
import { Sum, SumBar, UndoBar } from "./bars";
import { kRoundPath } from "./one_line";
import { held as heldCell, useHeld, type Held } from "./held";
import { DoneLine, OpenLine, PutOffLine } from "./line";
import { bringOf, little, putOff } from "./little";
import { More } from "./more";
import { isSettled, layRound, type Row } from "./order";
import { Question } from "./question";
import { SectionHead } from "./section";
import { keeperOf, overShares } from "./shares";
import { sumOf } from "./sum";
import { BringRow, Quiet, quietWords, Sentence, WhoSigns } from "./top";



interface RowsProps { rows: Row[]; today: Day; atHand?: string | undefined; held?: Held | undefined; theirs: (line: ShownLine) => string | undefined }

function Rows({ rows, today, atHand, held, theirs }: RowsProps) {
  return (
    <>
      {rows.map((row) => {
        if (row.kind === "section") return <SectionHead key={`section ${row.key}`} section={row.section} />;
        if (row.kind === "question") return <Question key={row.question.key} question={row.question} today={today} held={held} />;
        const { line } = row;
        const struck = line.key === held?.key;
        if (isSettled(line) && !struck) return <DoneLine key={line.key} line={line} />;
        return <OpenLine key={line.key} line={line} today={today} atHand={line.key === atHand} struck={struck && isSettled(line)} height={held?.height} theirs={theirs(line)} />;
      })}
    </>
  );
}

function PutOff({ lines, moved, today }: { lines: ShownLine[]; moved: ReturnType<typeof putOff>; today: Day }) {
  if (lines.length === 0) return null;
  const leaves = lines.some((line) => moved.get(line.key)?.leaves_window);
  return (
    <>
      <GroupHead m={t("short.wait")} b={t(leaves ? "short.some leave" : "short.none leaves")} />
      {lines.map((line) => {
        const { to, window_end } = moved.get(line.key)!;
        return <PutOffLine key={line.key} line={line} to={t("short.to", { day: dayWord(to, today) })} window={t("short.window", { day: dayWord(window_end, today) })} />;
      })}
    </>
  );
}

const isWide = () => matchMedia("(min-width: 1100px)").matches;

const kReach = 0.62; // of the glass: a round that opens with its line at hand above it shows its sentence too

/** The line at hand stays at half height: what is above it scrolls away when it grows. */
function useStandStill(settledBefore: number, busy: boolean, asking: boolean) {
  const above = useRef<HTMLDivElement>(null);
  const was = useRef(-1);
  useLayoutEffect(() => {
    const box = above.current;
    if (!box || isWide() || busy || settledBefore === was.current) return;
    const first = was.current < 0;
    was.current = settledBefore;
    const half = parseFloat(getComputedStyle(box).minHeight) || 0;
    const top = box.offsetHeight - half;
    // Before the first signature of the day it opens with its sentence; only then the list begins to move.
    if (first && (settledBefore === 0 || top <= 0 || (!asking && box.offsetHeight < kReach * innerHeight))) return;
    const calm = first || matchMedia("(prefers-reduced-motion: reduce)").matches;
    scrollTo({ top: Math.max(0, top), behavior: calm ? "auto" : "smooth" });
  }, [settledBefore, busy]);
  return above;
}

/** The house asks an answered question no more; it keeps its place until it is let go, so that no other comes under the thumb. */
function useHeldQuestion(asked: ShownQuestion[], held: Held | undefined, entries: Kept[]): ShownQuestion[] {
  const place = useRef(0);
  const found = asked.findIndex((q) => q.key === held?.key);
  if (found >= 0) place.current = found;
  const entry = entries.find((e) => e.act.id === held?.act);
  const answered = entry && entry.state !== "refused" ? answeredBy(entry) : undefined;
  if (!held?.question || found >= 0 || !answered) return asked;
  const kept: ShownQuestion = { ...held.question, answered };
  return [...asked.slice(0, place.current), kept, ...asked.slice(place.current)];
}

export function RoundPlace() {
  const answer = useAnswer<Round>(kRoundPath);
  const entries = useEntries();
  useTick();
  const round = answer.value;
  if (!round) return <Waiting place="round" path={kRoundPath} answer={answer} />;
  const entering = entries.some((e) => e.act.kind === "enter" && e.state === "waiting");
  if (round.head.empty && !entering) return <Enter first />;
  return <RoundLeaves round={round} asked_at={answer.asked_at} />;
}

/** Who has which part of it, as this phone's keeper sees it. */
function useShared(round: Round, fresh: Kept[]) {
  const keepers = keepersOf(useAnswer<Settings>(kSettingsPath).value);
  const me = useMe(keepers);
  const shares = overShares(round.shares, fresh, round.day);
  const holder = (line: ShownLine) => keeperOf(line, shares);
  const theirs = (line: ShownLine) => (me === "" || holder(line) === me ? undefined : holder(line));
  const othersOf = (lines: ShownLine[]) => shares.filter((s) => s.keeper !== me && me !== "")
    .map((s) => ({ keeper: s.keeper, left: lines.filter((l) => !isSettled(l) && holder(l) === s.keeper).length })).filter((o) => o.left > 0);
  return { keepers, me, theirs, othersOf };
}

function RoundLeaves({ round, asked_at }: { round: Round; asked_at: number }) {
  const entries = useEntries();
  const held = useHeld();
  const today = round.head.day;
  const fresh = unknownTo(asked_at, entries);
  const lines = overLines(round.lines, fresh, entries);
  const asked = overQuestions(round.questions, fresh);
  const questions = useHeldQuestion(asked, held, entries);
  const { keepers, me, theirs, othersOf } = useShared(round, fresh);
  const short = useCell(little);
  const moved = putOff(short, today);
  const waits = (line: ShownLine) => moved.has(line.key);
  const laid = layRound(lines, questions, round.sections, { held: held?.key, theirs: (line) => theirs(line) !== undefined, waits });
  const sum = sumOf(lines, round.sections, (line) => theirs(line) === undefined && !waits(line) && !line.barred);
  const asked_first = laid.after.filter((row) => row.kind !== "section").findIndex((row) => row.kind !== "question");
  const asking = asked_first > 0 || (asked_first < 0 && laid.questions > 0);
  const shown = questions.flatMap((q) => (q.answered ? [q.answered.entry.act.id] : []));
  const answers = useAnswers(today, entries, held ? [...shown, held.act] : shown);
  const above = useStandStill(laid.before.filter((row) => row.kind === "line" && isSettled(row.line)).length + answers.length, held !== undefined && heldCell.value !== undefined && laid.at_hand === held.key, asking);
  const calm = sum.left === 0 && laid.questions === 0 && held === undefined;
  const entering = entries.some((e) => e.act.kind === "enter" && e.state === "waiting");
  const quiet = overQuiet(fresh) ? undefined : round.quiet_since;
  const rows = { today, theirs };
  const others = othersOf(lines);
  return (
    <Book place="round" title={t("place.round")} class="round"
          foot={held ? <UndoBar held={held} sum={sum} line={lines.find((l) => l.key === held.key)} /> : <SumBar sum={sum} questions={laid.questions} />}>
      <section class="leaf">
        <div class={`before ${asking ? "asking" : ""} ${laid.questions > 1 ? "several" : ""}`} ref={above}>
          <DayHead day={today}>
            <Sentence round={round} sum={sum} lines={lines.length} questions={laid.questions} waits={laid.waits.length} alarms={overAlarms(round.head.alarms, fresh)} others={others} />
            {quiet && <p class="note">{quietWords(quiet)}</p>}
          </DayHead>
          <Notices />
          {sum.left > 0 && <BringRow bring={bringOf(short, today) ?? round.bring} forAll={others.length > 0} />}
          {keepers.length > 1 && me === "" && <WhoSigns keepers={keepers} />}
          {quiet && <Quiet since={quiet} today={today} />}
          {entering && <Entry><span class="hand">{t("enter.kept")}</span></Entry>}
          <Rows rows={laid.before} {...rows} />
          {answers.map((line) => <AnsweredLine key={line.id} line={line} />)}
          <div class="now" id="now"><b>{hour(now())}</b></div>
        </div>
        <Rows rows={laid.after} atHand={laid.at_hand} held={held} {...rows} />
        <Sum sum={sum} />
        <PutOff lines={laid.waits} moved={moved} today={today} />
        {calm && <div class="narrow"><Next round={round} /></div>}
        <Early round={round} />
        <More left={sum.left} keepers={keepers} me={me} little={moved.size > 0} />
      </section>
      <section class="leaf wide"><Next round={round} /></section>
    </Book>
  );
}

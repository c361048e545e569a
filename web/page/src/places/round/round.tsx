// The round: today's lines, one tap each.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Round } from "../../api";
import { now } from "../../clock";
import { hour } from "../../days";
import { useAnswer } from "../../house/answers";
import { queue } from "../../house/acts";
import { useEntries, useTick } from "../../house/hooks";
import { overLines, overQuestions, unknownTo, type ShownLine, type ShownQuestion } from "../../house/overlay";
import type { Entry as Kept } from "../../queue/entry";
import { Book, Notices } from "../../parts/book";
import { DeedBar } from "../../parts/deed";
import { DayHead, Entry, GroupHead } from "../../parts/leaf";
import { useCutOff } from "../../parts/troubles";
import { go } from "../../route";
import { many, t } from "../../words";
import { Enter } from "../enter/enter";
import { Waiting } from "../waiting";
import { Early, Next } from "./ahead";
import { held as heldCell, release, useHeld, type Held } from "./held";
import { DoneLine, OpenLine } from "./line";
import { isSettled, layRound, type Laid, type Row } from "./order";
import { isPutOff, Question } from "./question";
import { besides, great, nextWords } from "./sentence";

export const kRoundPath = "/api/round";

function Sentence({ round, laid, lines }: { round: Round; laid: Laid; lines: number }) {
  const cut = useCutOff();
  const next = nextWords(round, laid.left);
  return (
    <h1 class="say">
      <span class="great">{great(round, laid.left, lines)}</span>
      {laid.questions > 0 && <span>{many("round.questions", laid.questions)}</span>}
      {next && <span>{next}</span>}
      <span>{cut || besides(round)}</span>
    </h1>
  );
}

interface RowsProps { rows: Row[]; today: string; atHand?: string | undefined; held?: Held | undefined; later: () => void }

function Rows({ rows, today, atHand, held, later }: RowsProps) {
  return (
    <>
      {rows.map((row) => {
        if (row.kind === "rind") return <GroupHead key={`rind ${row.rind}`} i={t(`rinds.${row.rind}`)} />;
        if (row.kind === "question") return <Question key={row.question.key} question={row.question} today={today} later={later} held={held} />;
        const { line } = row;
        const struck = line.key === held?.key;
        if (isSettled(line) && !struck) return <DoneLine key={line.key} line={line} />;
        return <OpenLine key={line.key} line={line} today={today} atHand={line.key === atHand} struck={struck && isSettled(line)} height={held?.height} />;
      })}
    </>
  );
}

function UndoBar({ held, left, line }: { held: Held; left: number; line: ShownLine | undefined }) {
  const undo = () => {
    queue.undo(held.act, held.key);
    release();
  };
  const amend = () => go(`/round/${encodeURIComponent(held.key)}`);
  const parts = line !== undefined && line.kinds.length > 1;
  const earlier = line !== undefined || held.question?.kind === "start"; // of a choice between ways there is no earlier
  return (
    <DeedBar of={<><span>{held.of}</span><span>{t("round.sum", { count: left })}</span></>} label={t("round.bar")} count={parts ? 3 : earlier ? 2 : 1}>
      <button type="button" onClick={undo}>{t("round.undo")}</button>
      {parts && <button type="button" onClick={amend}>{t("round.in part")}</button>}
      {earlier && <button type="button" onClick={amend}>{t("round.earlier")}</button>}
    </DeedBar>
  );
}

function SumBar({ laid }: { laid: Laid }) {
  if (laid.left === 0 && laid.questions === 0) return null;
  return (
    <aside class="sumbar" aria-label={t("round.sum.label")}>
      <span>{laid.left > 0 && <b class="sumfig">{t("round.sum", { count: laid.left })}</b>}</span>
      <span class="note">{laid.questions > 0 && many("round.and", laid.questions)}</span>
    </aside>
  );
}

const isWide = () => matchMedia("(min-width: 1100px)").matches;

/** The line at hand stays at half height: what is above it scrolls away when it grows. */
function useStandStill(settledBefore: number, busy: boolean) {
  const above = useRef<HTMLDivElement>(null);
  const was = useRef(-1);
  useLayoutEffect(() => {
    const box = above.current;
    if (!box || isWide() || busy || settledBefore === was.current) return;
    const first = was.current < 0;
    was.current = settledBefore;
    const half = parseFloat(getComputedStyle(box).minHeight) || 0;
    const top = box.offsetTop + box.offsetHeight - half - box.offsetTop;
    if (top <= 0 && first) return;
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
  if (!held?.question || found >= 0 || entry?.act.kind !== "answer" || entry.state === "refused") return asked;
  const word = "option" in entry.act ? entry.act.option : entry.act.start;
  const kept: ShownQuestion = { ...held.question, answered: { word, entry, waiting: entry.state === "waiting" } };
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

function RoundLeaves({ round, asked_at }: { round: Round; asked_at: number }) {
  const [, redraw] = useState(0);
  const entries = useEntries();
  const held = useHeld();
  const today = round.head.day;
  const fresh = unknownTo(asked_at, entries);
  const lines = overLines(round.lines, fresh, entries);
  const asked = overQuestions(round.questions, fresh).filter((q) => q.answered || !isPutOff(q.key, today));
  const questions = useHeldQuestion(asked, held, entries);
  const laid = layRound(lines, questions, held?.key);
  const above = useStandStill(laid.before.length, held !== undefined && heldCell.value !== undefined && laid.at_hand === held.key);
  const later = () => redraw((n) => n + 1);
  const calm = laid.left === 0 && laid.questions === 0 && held === undefined;
  const entering = entries.some((e) => e.act.kind === "enter" && e.state === "waiting");
  const foot = held ? <UndoBar held={held} left={laid.left} line={lines.find((l) => l.key === held.key)} /> : <SumBar laid={laid} />;
  return (
    <Book place="round" title={t("place.round")} class="round" foot={foot}>
      <section class="leaf">
        <div class="before" ref={above}>
          <DayHead day={today}><Sentence round={round} laid={laid} lines={lines.length} /></DayHead>
          <Notices />
          {entering && <Entry><span class="hand">{t("enter.kept")}</span></Entry>}
          <Rows rows={laid.before} today={today} later={later} />
          <div class="now" id="now"><b>{hour(now())}</b></div>
        </div>
        <Rows rows={laid.after} today={today} atHand={laid.at_hand} held={held} later={later} />
        {calm && <div class="narrow"><Next round={round} /></div>}
        <Early round={round} />
      </section>
      <section class="leaf wide"><Next round={round} /></section>
    </Book>
  );
}

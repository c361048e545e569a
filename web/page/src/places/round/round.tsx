// The round: today's lines, one tap each.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Round } from "../../api";
import { now } from "../../clock";
import { hour, weekday } from "../../days";
import { useAnswer } from "../../house/answers";
import { queue } from "../../house/acts";
import { useEntries, useTick } from "../../house/hooks";
import { overLines, overQuestions, unknownTo, type ShownLine } from "../../house/overlay";
import { Book, Notices } from "../../parts/book";
import { DeedBar } from "../../parts/deed";
import { DayHead, Entry, GroupHead } from "../../parts/leaf";
import { useCutOff } from "../../parts/troubles";
import { go } from "../../route";
import { many, t, type WordKey } from "../../words";
import { Enter } from "../enter/enter";
import { Waiting } from "../waiting";
import { Early, Next } from "./ahead";
import { held as heldCell, release, useHeld, type Held } from "./held";
import { DoneLine, OpenLine } from "./line";
import { isSettled, layRound, type Laid, type Row } from "./order";
import { isPutOff, Question } from "./question";

export const kRoundPath = "/api/round";

// What the page counts itself, since it knows of taps not sent yet, and the alarms, which stand on top already.
const kElsewhere: WordKey[] = ["sentence.alarm", "sentence.alarm.over", "round.left.one", "round.left.other", "round.done", "round.nothing", "round.next", "round.questions.one", "round.questions.other"];
const elsewhere = kElsewhere.map((key) => new RegExp(`^${t(key).replace(/[.?]/g, "\\$&").replace(/\{\w+\}/g, ".+")}$`));

/** What the house says besides. */
function rest({ head }: Round): string {
  const sentences = head.sentence.split(/\. /).map((s) => (s.endsWith(".") ? s : `${s}.`));
  return sentences.filter((s) => !elsewhere.some((said) => said.test(s))).join(" ");
}

function Sentence({ round, laid, lines }: { round: Round; laid: Laid; lines: number }) {
  const cut = useCutOff();
  const great = laid.left > 0 ? many("round.left", laid.left) : lines > 0 ? t("round.done") : t("round.nothing");
  const next = round.next && laid.left === 0 ? t("round.next", { day: weekday(round.next.day), place: round.next.lines[0]?.place ?? "" }) : "";
  return (
    <h1 class="say">
      <span class="great">{great}</span>
      {laid.questions > 0 && <span>{many("round.questions", laid.questions)}</span>}
      {next && <span>{next}</span>}
      <span>{cut || (laid.left === 0 && next ? "" : rest(round))}</span>
    </h1>
  );
}

interface RowsProps { rows: Row[]; today: string; atHand?: string | undefined; held?: string | undefined; later: () => void }

function Rows({ rows, today, atHand, held, later }: RowsProps) {
  return (
    <>
      {rows.map((row) => {
        if (row.kind === "rind") return <GroupHead key={`rind ${row.rind}`} i={t(`rinds.${row.rind}`)} />;
        if (row.kind === "question") return <Question key={row.question.key} question={row.question} today={today} later={later} />;
        const { line } = row;
        const struck = line.key === held;
        if (isSettled(line) && !struck) return <DoneLine key={line.key} line={line} />;
        return <OpenLine key={line.key} line={line} today={today} atHand={line.key === atHand} struck={struck && isSettled(line)} />;
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
  return (
    <DeedBar of={<><span>{held.of}</span><span>{t("round.sum", { count: left })}</span></>} label={t("round.bar")} count={parts ? 3 : 2}>
      <button type="button" onClick={undo}>{t("round.undo")}</button>
      {parts && <button type="button" onClick={amend}>{t("round.in part")}</button>}
      <button type="button" onClick={amend}>{t("round.earlier")}</button>
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
  const questions = overQuestions(round.questions, fresh).filter((q) => q.answered || !isPutOff(q.key, today));
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
        <Rows rows={laid.after} today={today} atHand={laid.at_hand} held={held?.key} later={later} />
        {calm && <div class="narrow"><Next round={round} /></div>}
        <Early round={round} />
      </section>
      <section class="leaf wide"><Next round={round} /></section>
    </Book>
  );
}

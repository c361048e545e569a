// Little time: what cannot wait in so many minutes, and to which day the rest moves. Nothing is skipped by it.
import { useState } from "preact/hooks";
import type { Round } from "../../api";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { overLines, unknownTo, type ShownLine } from "../../house/overlay";
import { LateGlyph } from "../../draw/glyphs";
import { Book } from "../../parts/book";
import { DeedBar } from "../../parts/deed";
import { Cells } from "../../parts/cells";
import { DayHead, Entry, GroupHead } from "../../parts/leaf";
import { careWords, dayWord, lateWord } from "../../parts/names";
import { Place } from "../../parts/place";
import { go } from "../../route";
import { many, t } from "../../words";
import { Waiting } from "../waiting";
import { LineRing } from "./line";
import { choose } from "./little";
import { layRound } from "./order";
import { SectionHead } from "./section";
import { isSettled, lineMinutes, minutesWord, sumOf } from "./sum";
import { BringRow } from "./top";
import { whatWords } from "./what";

const kTimes = [5, 10, 15, 20] as const;

function Slim({ line, today }: { line: ShownLine; today: string }) {
  return (
    <Entry class="line slim" m={<Place place={line.place} ring={<LineRing line={line} />} />}>
      <span class="top"><span class="verb">{careWords(line.kinds)}</span><span class="count">{line.wheels.length}</span></span>
      {line.late_since && <span class="late"><LateGlyph />{t("round.due", { day: lateWord(line.late_since, today) })}</span>}
      <span class="low"><span>{whatWords(line, true)}</span><span class="min">{lineMinutes(line.minutes)}</span></span>
    </Entry>
  );
}

function Moved({ line, to, window, leaves }: { line: ShownLine; to: string; window: string; leaves: boolean }) {
  return (
    <Entry class="moved" m={<Place place={line.place} ring={<LineRing line={line} />} />}>
      <span class="top"><span class="verb">{careWords(line.kinds)}</span><span class="count">{line.wheels.length}</span></span>
      <span class="low"><span><LateGlyph /><b>{t("short.to", { day: to })}</b></span><span>{t(leaves ? "short.leaves" : "short.window", { day: window })}</span></span>
    </Entry>
  );
}

/** "5", "10", ... and the whole round. */
function Times({ minutes, set }: { minutes: number; set: (minutes: number) => void }) {
  const choices = [...kTimes.map((time) => ({ value: time as number, word: String(time) })), { value: 0, word: t("short.all") }];
  return <Entry class="full heavy" m={<span class="strong">{t("short.have")}</span>}><Cells columns={5} choices={choices} chosen={minutes} choose={set} /></Entry>;
}

export function ShortPlace() {
  const [minutes, setMinutes] = useState(15);
  const path = `/api/round?minutes=${minutes}`;
  const answer = useAnswer<Round>(path);
  const entries = useEntries();
  const round = answer.value;
  const set = (time: number) => {
    if (time > 0) return setMinutes(time);
    choose(round?.head.day ?? "", undefined);
    go("/", true);
  };
  if (!round?.short) return <Waiting place="round" path={path} answer={answer} />;
  const lines = overLines(round.lines, unknownTo(answer.asked_at, entries), entries);
  return <ShortLeaf round={round} short={round.short} lines={lines} minutes={minutes} set={set} />;
}

interface LeafProps { round: Round; short: NonNullable<Round["short"]>; lines: ShownLine[]; minutes: number; set: (minutes: number) => void }

function ShortLeaf({ round, short, lines, minutes, set }: LeafProps) {
  const today = round.head.day;
  const moved = new Map(short.moved.map((one) => [one.key, one]));
  const waits = (line: ShownLine) => moved.has(line.key);
  const laid = layRound(lines.filter((l) => !isSettled(l)), [], round.sections, { waits });
  const { changes } = sumOf(lines, round.sections, (line) => !waits(line));
  const leaves = short.moved.some((one) => one.leaves_window);
  const take = (shorter: boolean) => {
    choose(today, shorter ? short : undefined);
    go("/", true);
  };
  return (
    <Book place="round" title={t("short.title")} class="withdeed" foot={
      <DeedBar of={<span>{laid.waits.length > 0 ? many("short.move", laid.waits.length) : t("short.fits")}</span>} label={t("fault.to sign")} count={laid.waits.length > 0 ? 2 : 1}>
        {laid.waits.length > 0 && <button type="button" onClick={() => take(true)}>{t("short.short")}</button>}
        <button type="button" onClick={() => take(false)}>{t("short.whole")}</button>
      </DeedBar>}>
      <section class="leaf">
        <DayHead day={today}>
          <h1 class="say"><span class="great">{t("short.say", { used: short.used, all: short.all })}</span></h1>
          <p class="note">{t("short.low")}</p>
        </DayHead>
        <Times minutes={minutes} set={set} />
        <BringRow bring={short.bring} />
        {[...laid.before, ...laid.after].map((row) => (row.kind === "section" ? <SectionHead key={`section ${row.key}`} section={row.section} />
          : row.kind === "line" ? <Slim key={row.line.key} line={row.line} today={today} /> : null))}
        <Entry class="sum2"><span class="note">{changes > 0 && many("short.changes", changes)}</span><b>{minutesWord(short.used)}</b></Entry>
      </section>
      <section class="leaf">
        {laid.waits.length > 0 && <GroupHead m={t("short.wait")} b={t(leaves ? "short.some leave" : "short.none leaves")} />}
        {laid.waits.map((line) => {
          const { to, window_end, leaves_window } = moved.get(line.key)!;
          return <Moved key={line.key} line={line} to={dayWord(to, today)} window={dayWord(window_end, today)} leaves={leaves_window} />;
        })}
      </section>
    </Book>
  );
}

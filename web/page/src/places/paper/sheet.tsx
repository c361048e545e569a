// The round on paper: one A4 with numbered lines, lines to sign, and how it is written back.
import { useEffect, useState } from "preact/hooks";
import type { Round } from "../../api";
import { known, now, speed } from "../../clock";
import { dayOfMonth, month, weekdayShort } from "../../days";
import { LateGlyph } from "../../draw/glyphs";
import { Ring } from "../../draw/rings";
import { useAnswer } from "../../house/answers";
import { careWords, joined, lateWord, lotWord, whichDay } from "../../parts/names";
import { many, numberWord, opening, t } from "../../words";
import { bringText } from "../round/bring";
import { LineRing } from "../round/line";
import { kRoundPath } from "../round/one_line";
import { changeWords, sectionName } from "../round/section";
import { inWhole, minutesSaid, sumOf } from "../round/sum";
import { whatWords } from "../round/what";
import { Waiting } from "../waiting";
import { numberedOf, paperRows, type Numbered, type PaperRow } from "./numbered";
import { answersOf } from "./parse";
import { keepSheet, nextSecond, printedWord, sheetPath } from "./sheets";

const Sign = ({ wide }: { wide?: boolean }) => <i class={`sg ${wide ? "w" : ""}`} />;

function Care({ row, today }: { row: Numbered; today: string }) {
  if (row.kind === "question") {
    const { question } = row;
    return <><b>{question.text}</b><small>{joined(lotWord(question.lot), whichDay(question))}. {t("paper.write", { answers: answersOf(row).join(" / ") })}</small></>;
  }
  const { line } = row;
  const left = line.kinds.filter((kind) => !line.done_kinds.includes(kind));
  return <><b>{careWords(left)}</b>{line.late_since && <u><LateGlyph /> {t("round.due", { day: lateWord(line.late_since, today) })}</u>}<small>{whatWords(line)}</small></>;
}

function Row({ row, today }: { row: PaperRow; today: string }) {
  if (row.kind === "section") {
    const change = changeWords(row.section);
    return <tr class="chg"><td /><td /><td colSpan={5}><div><span>{change && t("paper.change", { what: change })}</span><em>{sectionName(row.section)}</em></div></td></tr>;
  }
  const of = row.kind === "line" ? row.line : row.question;
  return (
    <tr>
      <td class="no">{row.number}</td>
      <td class="pl"><span>{of.place}</span>{row.kind === "line" ? <LineRing line={row.line} r={9} /> : <Ring state={of.wheel_state} r={9} />}</td>
      <td><Care row={row} today={today} /></td>
      <td class="ct">{of.wheels.length}</td>
      <td class="mi">{row.kind === "line" && row.line.minutes >= 0.5 ? inWhole(row.line.minutes) : ""}</td>
      <td><Sign /></td>
      <td><Sign wide /></td>
    </tr>
  );
}

function Table({ rows, minutes, today }: { rows: PaperRow[]; minutes: number; today: string }) {
  return (
    <div class="across" tabIndex={0} role="region" aria-label={t("paper.title")}>
      <table>
        <thead><tr><td /><th>{t("paper.place")}</th><th>{t("paper.care")}</th><th class="ct">{t("paper.wheels")}</th><th class="mi">{t("paper.min")}</th><th>{t("paper.done")}</th><th>{t("paper.not done")}</th></tr></thead>
        <tbody>
          {rows.map((row, i) => <Row key={row.kind === "section" ? `section ${i}` : row.number} row={row} today={today} />)}
          {minutes > 0 && <tr class="tot"><td /><td /><td>{t("round.gloves counted")}</td><td /><td class="mi">{minutes}</td><td /><td /></tr>}
        </tbody>
      </table>
    </div>
  );
}

function Leaf({ round, at }: { round: Round; at: number }) {
  const rows = paperRows(round);
  const numbered = numberedOf(rows);
  const lines = numbered.flatMap((row) => (row.kind === "line" ? [row.line] : []));
  const { minutes } = sumOf(lines, round.sections);
  const bring = bringText(round.bring);
  const said = [many("paper.lines", numbered.length, { number: numberWord(numbered.length) }), minutes > 0 && minutesSaid(minutes)].filter(Boolean).join(", ");
  useEffect(() => {
    document.title = t("app.title", { place: t("paper.title"), house: t("app.name") });
    keepSheet(at);
  }, [at]);
  const stamp = printedWord(at);
  return (
    <main class="roundsheet">
      <nav class="noprint sheetbar" aria-label={t("paper.title")}>
        <a class="tap" href="/">{t("round.to round")}</a>
        <button type="button" class="tap" onClick={() => print()}>{t("paper.print")}</button>
        <a class="tap" href="/paper/back">{t("more.back")}</a>
      </nav>
      <header>
        <div class="d">{weekdayShort(round.day)}<b>{dayOfMonth(round.day)}</b>{month(round.day)}</div>
        <div><h1>{opening(numbered.length > 0 ? said : t("round.nothing"))}</h1>{bring && <p>{t("paper.bring", { what: bring })}</p>}</div>
      </header>
      {numbered.length > 0 && <Table rows={rows} minutes={minutes} today={round.day} />}
      <footer>
        <b>{t("paper.seen")}</b><i /><i /><i />
        <p>{t("paper.how", { printed: stamp })}</p>
        <p>{t("paper.law")}</p>
      </footer>
    </main>
  );
}

/** As it stands once the second in which it is asked for is over, so that nothing of it is missed: the same second gives the same numbers again. */
export function RoundSheetPlace() {
  const first = useAnswer<Round>(kRoundPath);
  const [at, setAt] = useState(0);
  const path = at > 0 ? sheetPath(at) : kRoundPath;
  const answer = useAnswer<Round>(path);
  useEffect(() => {
    if (at !== 0 || !first.value || !known()) return;
    const whole = nextSecond(now());
    const waiting = setTimeout(() => setAt(whole), (whole - now()) / speed());
    return () => clearTimeout(waiting);
  }, [first.value]);
  const round = at > 0 ? answer.value : undefined;
  if (!round) return <Waiting place="round" path={path} answer={answer} />;
  return <Leaf round={round} at={at} />;
}

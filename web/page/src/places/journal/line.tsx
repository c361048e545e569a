// Lines of the journal under the days they belong to, the newest below.
import type { Day, JournalLine } from "../../api";
import { daysBetween, hour, keeperDay, longDate, weekdayDate } from "../../days";
import { StateGlyph } from "../../draw/glyphs";
import { t } from "../../words";
import { queue } from "../../house/acts";
import { signed } from "../../house/keeper";
import { besideText, textOf } from "./text";
import { isBlind } from "../../parts/kinds";

function Glyph({ line }: { line: JournalLine }) {
  const a = line.alarm;
  if (line.kind !== "alarm" || !a) return null;
  if (a.change === "over") return <StateGlyph state="in band" />;
  const side = a.kind === "too cold" || a.kind === "too dry" ? -1 : 1;
  return <StateGlyph state={isBlind(a.kind) ? "unknown" : "out of band"} side={side} />;
}

/** Days of the past that were settled in one tap: they stand nowhere else once the round goes on. */
const isSettled = (line: JournalLine) => line.kind === "past" && !line.undone;

/** An answer to a question of the round, of this day: the house asks it no more, so that it is taken back here too. */
const isAnswer = (line: JournalLine, today: Day) => (line.kind === "answer" || line.kind === "later") && !line.undone && keeperDay(line.received_at) === today;

export function Line({ line, today }: { line: JournalLine; today: Day }) {
  const text = textOf(line);
  const beside = besideText(line, today);
  return (
    <div class={`entry jl ${text.red ? "red" : ""}`} data-position={line.position}>
      <div class="m">
        <time>{hour(line.at)}</time>
        {line.keeper ? <span class="hand">{line.keeper}</span> : <Glyph line={line} />}
      </div>
      <div class="b">
        {text.hand && <span class="hand">{line.undone ? <s>{text.hand}</s> : text.hand}</span>}
        {text.print && (line.undone ? <s>{text.print}</s> : text.print)}
        {beside && <span class="note"> {beside}</span>}
        {isSettled(line) && <button type="button" class="tap back" onClick={() => signed(() => queue.undo(line.id))}>{t("away.strike")}</button>}
        {isAnswer(line, today) && <button type="button" class="tap back" onClick={() => signed(() => queue.undo(line.id))}>{t("round.undo")}<span class="sr"> {text.hand}</span></button>}
      </div>
    </div>
  );
}

function dayName(day: Day, today: Day): string {
  const away = daysBetween(day, today);
  if (away === 0) return t("day.today");
  return away === 1 ? t("day.yesterday") : longDate(day);
}

export function JournalLines({ lines, today }: { lines: JournalLine[]; today: Day }) {
  let last: Day | undefined;
  return (
    <>
      {lines.map((line) => {
        const day = keeperDay(line.at);
        const head = day !== last;
        last = day;
        return (
          <>
            {head && <div key={`${day} ${line.position}`} class="entry date"><div class="m">{weekdayDate(day)}</div><div class="b">{dayName(day, today)}</div></div>}
            <Line key={line.position} line={line} today={today} />
          </>
        );
      })}
    </>
  );
}

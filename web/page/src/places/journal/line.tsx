// Lines of the journal under the dates of their hours, the newest below: who reads an hour past midnight reads the date
// on the wall, also where what was done counts for the evening before.
import type { Day, Instant, JournalLine } from "../../api";
import { dateOf, daysBetween, hour, keeperDay, longDate, weekdayDate } from "../../days";
import { StateGlyph } from "../../draw/glyphs";
import { t } from "../../words";
import { queue } from "../../house/acts";
import { signed } from "../../house/keeper";
import { dated } from "./dated";
import { once } from "./once";
import { besideText, textOf } from "./text";
import { isBlind } from "../../parts/kinds";

function Glyph({ line }: { line: JournalLine }) {
  const a = line.alarm;
  if (line.kind !== "alarm" || !a) return null;
  if (a.change === "over" && a.kind !== "unwatched") return <StateGlyph state="in band" />;
  const side = a.kind === "too cold" || a.kind === "too dry" ? -1 : 1;
  return <StateGlyph state={isBlind(a.kind) ? "unknown" : "out of band"} side={side} />;
}

/** Days of the past that were settled in one tap: they stand nowhere else once the round goes on. */
const isSettled = (line: JournalLine) => line.kind === "past" && !line.undone;

/** An answer to a question of the round, of this day: the house asks it no more, so that it is taken back here too. */
const isAnswer = (line: JournalLine, today: Day) => (line.kind === "answer" || line.kind === "later") && !line.undone && keeperDay(line.received_at) === today;

export function Line({ line, now }: { line: JournalLine; now: Instant }) {
  const text = textOf(line);
  const beside = besideText(line, dateOf(now));
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
        {isAnswer(line, keeperDay(now)) && <button type="button" class="tap back" onClick={() => signed(() => queue.undo(line.id))}>{t("round.undo")}<span class="sr"> {text.hand}</span></button>}
      </div>
    </div>
  );
}

/** A date on the wall as the clock calls it: at one in the morning an hour of "yesterday" is the evening that was, whatever
    day the round still belongs to. */
export function dayName(day: Day, now: Instant): string {
  const away = daysBetween(day, dateOf(now));
  if (away === 0) return t("day.today");
  return away === 1 ? t("day.yesterday") : longDate(day);
}

/** `now`: by its date the others are called; an answer may be taken back within its keeper's day. */
export function JournalLines({ lines, now }: { lines: JournalLine[]; now: Instant }) {
  return (
    <>
      {dated(once(lines)).map(({ line, head }) => (
        <>
          {head && <div key={`${head} ${line.position}`} class="entry date"><div class="m">{weekdayDate(head)}</div><div class="b">{dayName(head, now)}</div></div>}
          <Line key={line.position} line={line} now={now} />
        </>
      ))}
    </>
  );
}

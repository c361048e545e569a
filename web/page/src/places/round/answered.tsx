// What was answered today: the house asks it no more, but it stays on the round, struck, with its undo, as a care does.
import type { Day, Journal, JournalLine } from "../../api";
import { keeperDay } from "../../days";
import { queue } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { signed } from "../../house/keeper";
import { joined, kinOf, lotWord } from "../../parts/names";
import { placeLook } from "../../parts/place";
import type { Entry } from "../../queue/entry";
import { many, t } from "../../words";
import { kJournalPath } from "../journal/journal";
import { release } from "./held";
import { signature, useKeepers } from "./line";

/** Today's answers that stand; those that the round shows itself are told by their acts. */
export function answersOf(lines: JournalLine[], today: Day, entries: Entry[], shown: string[]): JournalLine[] {
  const undone = new Set(entries.flatMap((e) => (e.act.kind === "undo" && e.state !== "refused" ? [e.act.of] : [])));
  return lines.filter((l) => (l.kind === "answer" || l.kind === "later") && !l.undone && !undone.has(l.id) && !shown.includes(l.id) && keeperDay(l.received_at) === today);
}

export function useAnswers(today: Day, entries: Entry[], shown: string[]): JournalLine[] {
  return answersOf(useAnswer<Journal>(kJournalPath).value?.lines ?? [], today, entries, shown);
}

const placeOf = (line: JournalLine) => line.place || line.cave_name || "";

/** "into Box 2", "dry", the way that was chosen, or the question that was put off. */
export function answerWords(line: JournalLine): string {
  if (line.kind === "later") return line.text ?? "";
  if (line.option) return line.option;
  const moved = line.start === "entered box" || line.start === "entered cave";
  if (moved && placeOf(line)) return t("start.into", { place: placeOf(line) });
  return line.start ? t(`start.${line.start}`) : "";
}

function lowWords(line: JournalLine): string {
  const put_off = line.kind === "later" && (line.start ? t("answer.not yet") : t("answer.later"));
  return joined(put_off, line.family && many("wheels.count", line.count, { family: kinOf(line.family, line.count) }), lotWord(line.lot));
}

export function AnsweredLine({ line }: { line: JournalLine }) {
  const keepers = useKeepers();
  const words = answerWords(line);
  const undo = () => signed(() => {
    queue.undo(line.id);
    release();
  });
  return (
    <div class="entry done" data-answer={line.id}>
      <div class="m"><span class={placeLook(placeOf(line))}>{placeOf(line)}</span><span class="when">{signature({ settled_at: line.at, ...(line.keeper ? { keeper: line.keeper } : {}) }, keepers)}</span></div>
      <div class="b">
        <span class="what"><span class="verb"><s>{words}</s></span><span class="low">{lowWords(line)}</span></span>
        <button type="button" class="undo" onClick={undo}>{t("round.undo")}<span class="sr"> {placeOf(line)} {words}</span></button>
      </div>
    </div>
  );
}

// One line of today's round as the keeper sees it, for the pages that say more about it.
import type { JSX } from "preact";
import type { CareKind, Round } from "../../api";
import { now } from "../../clock";
import { queue, sign } from "../../house/acts";
import { useAnswer, type Answer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { overLines, unknownTo, type ShownLine } from "../../house/overlay";
import { Book } from "../../parts/book";
import { Entry, TitleHead, WordLink } from "../../parts/leaf";
import { joined, lotWord, whichDay } from "../../parts/names";
import { Place } from "../../parts/place";
import { t } from "../../words";
import { kindsLeft, LineRing } from "./line";

export const kRoundPath = "/api/round";

export function useRound(): { answer: Answer<Round>; round: Round | undefined; lines: ShownLine[] } {
  const answer = useAnswer<Round>(kRoundPath);
  const entries = useEntries();
  const round = answer.value;
  const lines = round ? overLines(round.lines, unknownTo(answer.asked_at, entries), entries) : [];
  return { answer, round, lines };
}

/** The line is no longer there: it was settled or split on another phone. */
export function LineGone() {
  return (
    <Book place="round" title={t("place.round")}>
      <section class="leaf">
        <Entry class="head heavy"><h1 class="say">{t("round.gone line")}</h1></Entry>
        <WordLink href="/">{t("round.to round")}</WordLink>
      </section>
    </Book>
  );
}

export function LineHead({ line, title, note }: { line: ShownLine; title: string; note: JSX.Element | string }) {
  return <TitleHead m={<Place place={line.place} ring={<LineRing line={line} />} />} title={title} note={note} />;
}

export const lotAndDay = (line: ShownLine) => joined(lotWord(line.lot), whichDay(line));

/** What a signature that is said more exactly had done. */
function doneBy(line: ShownLine): CareKind[] {
  const act = line.entry?.act;
  return act?.kind === "care" ? act.done : line.state === "done" ? line.done_kinds : kindsLeft(line);
}

/** The line signed anew, of some of its wheels alone, at the time at which it was signed; what was signed is taken back. */
export function signAgain(line: ShownLine, wheels: number[], more: { left?: { wheels: number[]; why: string } } = {}): void {
  const settled = line.settled_by !== undefined && (line.state === "done" || line.state === "skipped");
  const done = settled ? doneBy(line) : kindsLeft(line);
  const at = settled && line.settled_at !== undefined && now() - line.settled_at > 60_000 ? { at: line.settled_at } : {};
  if (settled) queue.undo(line.settled_by!, line.key);
  if (wheels.length > 0) sign(wheels, done, line.key, { ...at, ...more });
}

// The lines of the round: open, just signed, done.
import type { CareKind, Settings } from "../../api";
import { hour } from "../../days";
import { LateGlyph, WaitGlyph } from "../../draw/glyphs";
import { Ring } from "../../draw/rings";
import { listed } from "../../figures";
import { queue, sign } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { isTold, keepersOf, kSettingsPath, signed } from "../../house/keeper";
import type { ShownLine } from "../../house/overlay";
import { caredWords, careWords, joined, kin, lateWord, lotWord, whichDay } from "../../parts/names";
import { isLong, Place, placeLook } from "../../parts/place";
import { go } from "../../route";
import { t } from "../../words";
import { hold, isBounce, release } from "./held";
import { lineMinutes } from "./sum";
import { ofNumbers, whatWords } from "./what";

/** "wash, turn" with what is done struck and what is skipped in brackets. */
export function Verbs({ line, struck }: { line: ShownLine; struck?: boolean }) {
  const done = (kind: CareKind) => struck || line.done_kinds.includes(kind);
  const parts = line.kinds.map((kind) => ({ kind, mark: line.skipped_kinds.includes(kind) ? "skipped" : done(kind) ? "done" : "" }));
  if (parts.every((p) => p.mark === "done")) return <s>{careWords(line.kinds)}</s>;
  return (
    <>
      {parts.map(({ kind, mark }, i) => {
        const word = t(`care.${kind}`);
        return <>{i > 0 && ", "}{mark === "skipped" ? `(${word})` : mark === "done" ? <s>{word}</s> : word}</>;
      })}
    </>
  );
}

export const Waiting = () => <span class="waiting"><WaitGlyph />{t("round.waiting")}</span>;

export const LineRing = ({ line, r = 10 }: { line: ShownLine; r?: number }) =>
  <Ring state={line.wheel_state} r={r} marked={line.marked !== undefined} held={line.held} cut={line.cut > 0 && line.cut === line.wheels.length} />;

/** "07:12 IH"; of one keeper alone the hour. */
export function signature(line: Pick<ShownLine, "settled_at" | "keeper">, keepers: string[]): string {
  const at = line.settled_at === undefined ? "" : hour(line.settled_at);
  return [at, isTold(line.keeper, keepers) && line.keeper].filter(Boolean).join(" ");
}

export const useKeepers = () => keepersOf(useAnswer<Settings>(kSettingsPath).value);

/** "(wash), turn": what an undo takes back. */
const settledWords = (line: ShownLine) => `${line.place} ${listed(line.kinds.map((kind) => (line.skipped_kinds.includes(kind) ? `(${t(`care.${kind}`)})` : t(`care.${kind}`))))}`;

export const signedWords = (line: ShownLine) => `${line.place} ${caredWords(line.kinds)}`;

/** What of it is not done yet. */
export function kindsLeft(line: ShownLine): CareKind[] {
  const left = line.kinds.filter((k) => !line.done_kinds.includes(k));
  return left.length > 0 ? left : line.kinds;
}

/** Signs the whole line; what is done in part already is not done again. */
function signLine(line: ShownLine, height: number): void {
  if (isBounce(line.key)) return;
  signed(() => {
    const entry = sign(line.wheels, kindsLeft(line), line.key);
    hold(line.key, signedWords(line), entry.act.id, { height });
  });
}

function Margin({ line, signed, theirs }: { line: ShownLine; signed: boolean; theirs: string | undefined }) {
  const keepers = useKeepers();
  const ring = <LineRing line={line} />;
  const under = signed ? <span class="when">{signature(line, keepers)}</span>
    : theirs ? <span class="note theirs">{t("share.has it", { keeper: theirs })}</span>
    : <span class="sign"><span class="sr">{t("round.unsigned")}</span></span>;
  if (isLong(line.place)) {
    return (
      <>
        <span class={placeLook(line.place)}>{line.place}</span>
        <span class="signrow">{under}{ring}</span>
      </>
    );
  }
  return <><Place place={line.place} ring={ring} />{under}</>;
}

function Low({ line, struck, atHand }: { line: ShownLine; struck: boolean; atHand: boolean }) {
  const keepers = useKeepers();
  const partly = line.done_kinds.length > 0 && !struck;
  const minutes = lineMinutes(line.minutes);
  return (
    <span class="low">
      {partly && line.settled_at !== undefined
        ? <span class="hand">{t("round.done at", { done: caredWords(line.done_kinds), time: signature(line, keepers) })}</span>
        : struck && line.waiting ? <Waiting /> : <span>{whatWords(line, !atHand)}</span>}
      {minutes && <span class="min">{minutes}</span>}
    </span>
  );
}

interface OpenProps { line: ShownLine; today: string; atHand: boolean; struck: boolean; height?: number | undefined; theirs?: string | undefined }

/** A line to sign, or the one just signed, which keeps its height. */
export function OpenLine({ line, today, atHand, struck, height, theirs }: OpenProps) {
  const look = [atHand && "athand", struck && "struck-now", struck && line.waiting && "unsent", theirs && !struck && "other"].filter(Boolean).join(" ");
  return (
    <button type="button" class={`entry line ${look}`} data-key={line.key} aria-disabled={struck}
            style={struck && height !== undefined ? { minHeight: `${height}px` } : {}} onClick={(e) => !struck && signLine(line, e.currentTarget.getBoundingClientRect().height)}>
      <span class="m"><Margin line={line} signed={struck} theirs={theirs} /></span>
      <span class="b">
        <span class="top"><span class="verb"><Verbs line={line} struck={struck && line.skipped_kinds.length === 0} /></span><span class="count">{line.wheels.length}</span></span>
        {line.late_since && <span class="late"><LateGlyph />{t("round.due", { day: lateWord(line.late_since, today) })}</span>}
        <Low line={line} struck={struck} atHand={atHand} />
        {line.noted && <span class="low hand">{t("fault.noted", { what: t(`fault.${line.noted}`) })}</span>}
      </span>
    </button>
  );
}

function undoLine({ settled_by, key }: ShownLine): void {
  if (settled_by === undefined) return;
  signed(() => {
    queue.undo(settled_by, key);
    release();
  });
}

/** What stands under a settled line: why, else which wheels. */
function doneWords(line: ShownLine): string {
  const named = line.state === "retired" ? t("round.retired") : line.state === "not done" ? t("round.not done") : "";
  return ofNumbers(line, joined(named, line.reason, !named && !line.reason && (lotWord(line.lot) || kin(line.family)), whichDay(line)));
}

/** A settled line: struck, who and when in the margin, undo at the right all day. */
export function DoneLine({ line }: { line: ShownLine }) {
  const settled = line.state === "done" || line.state === "skipped";
  const keepers = useKeepers();
  return (
    <div class={`entry done ${line.waiting ? "unsent" : ""}`} data-key={line.key}>
      <div class="m"><span class={placeLook(line.place)}>{line.place}</span><span class="when">{signature(line, keepers)}</span></div>
      <div class="b">
        <button type="button" class="what" disabled={!settled} onClick={() => go(`/round/${encodeURIComponent(line.key)}`)}>
          <span class="verb"><Verbs line={line} /> {line.wheels.length}</span>
          <span class="low">{line.waiting ? <Waiting /> : doneWords(line)}</span>
          {settled && <span class="sr">{t("round.amend of")}</span>}
        </button>
        {settled && line.settled_by && <button type="button" class="undo" onClick={() => undoLine(line)}>{t("round.undo")}<span class="sr"> {settledWords(line)}</span></button>}
      </div>
    </div>
  );
}

/** A line that was put off for today; it can be signed all the same. */
export function PutOffLine({ line, to, window }: { line: ShownLine; to: string; window: string }) {
  return (
    <button type="button" class="entry moved" data-key={line.key} onClick={(e) => signLine(line, e.currentTarget.getBoundingClientRect().height)}>
      <span class="m"><Place place={line.place} ring={<LineRing line={line} />} /></span>
      <span class="b">
        <span class="top"><span class="verb">{careWords(line.kinds)}</span><span class="count">{line.wheels.length}</span></span>
        <span class="low"><span><LateGlyph /><b>{to}</b></span><span>{window}</span></span>
      </span>
    </button>
  );
}

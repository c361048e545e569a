// A wheel, seen from above. Rings tell how far it is: dotted drying, one rind forming, two ripening, three ready, the
// same with a bar below holding; released in hand ink, struck level. One slant stroke: look again; two: held. A quarter
// left out: cut.
import type { WheelStateWord } from "../api";
import { t } from "../words";

const kStage: Record<WheelStateWord, number> = {
  "drying": 0, "rind forming": 1, "ripening": 2, "ready": 3, "holding": 4, "released": 3, "gone": 0,
};

export const stageOf = (state: WheelStateWord) => kStage[state];

/** What a keeper has to know of a wheel besides how far it is. */
export interface Marks {
  marked?: boolean | undefined;
  held?: boolean | undefined;
  cut?: boolean | undefined;
}

interface RingProps extends Marks {
  cx: number;
  cy: number;
  r: number;
  state: WheelStateWord;
  ink?: string;
}

/** From twelve o'clock the long way round to three; where it is closed the two cut faces meet in the middle. */
function threeQuarters(cx: number, cy: number, r: number, closed: boolean): string {
  return `M${cx} ${cy - r}A${r} ${r} 0 1 0 ${cx + r} ${cy}${closed ? `L${cx} ${cy}Z` : ""}`;
}

function Whole({ cx, cy, outer, stage, ink }: { cx: number; cy: number; outer: number; stage: number; ink: string }) {
  return (
    <>
      <circle cx={cx} cy={cy} r={outer} stroke-dasharray={stage === 0 ? "2.2 2.2" : undefined} />
      {stage >= 2 && <circle cx={cx} cy={cy} r={outer * 0.58} />}
      {stage >= 3 && <circle cx={cx} cy={cy} r={Math.max(1.1, outer * 0.2)} fill={ink} />}
    </>
  );
}

function Cut({ cx, cy, outer, stage, ink }: { cx: number; cy: number; outer: number; stage: number; ink: string }) {
  return (
    <g stroke-linejoin="round">
      <path d={threeQuarters(cx, cy, outer, true)} stroke-dasharray={stage === 0 ? "2.2 2.2" : undefined} />
      {stage >= 2 && <path d={threeQuarters(cx, cy, outer * 0.58, false)} />}
      {stage >= 3 && <circle cx={cx - outer * 0.24} cy={cy + outer * 0.24} r={Math.max(1, outer * 0.15)} fill={ink} stroke="none" />}
    </g>
  );
}

/** One slant stroke beyond the ring, or two. */
function Slants({ cx, cy, r, held }: { cx: number; cy: number; r: number; held: boolean }) {
  const slant = (shift: number) => `M${cx - r - 1 + shift} ${cy + r + 1}L${cx + r + 1 + shift} ${cy - r - 1}`;
  return <path d={held ? slant(-2.4) + slant(2.4) : slant(0)} stroke-width="2" />;
}

/** The strokes of one wheel, within a larger drawing. */
export function RingShape({ cx, cy, r, state, marked, held, cut, ink: wanted }: RingProps) {
  if (state === "gone") return null;
  const stage = kStage[state];
  const outer = r - 0.8;
  const ink = state === "released" ? "var(--hand)" : (wanted ?? "var(--ink)");
  const Body = cut ? Cut : Whole;
  return (
    <g stroke={ink}>
      <Body cx={cx} cy={cy} outer={outer} stage={stage} ink={ink} />
      {stage === 4 && <path d={`M${cx - r} ${cy + r + 2}h${2 * r}`} />}
      {(held || marked) && <Slants cx={cx} cy={cy} r={r} held={held === true} />}
      {state === "released" && <path d={`M${cx - r - 2} ${cy}h${2 * r + 4}`} stroke-width="2" />}
    </g>
  );
}

/** What a drawing of a wheel says to those who do not see it: "ready, marked, cut". */
export function ringWords(state: WheelStateWord, { marked, held, cut }: Marks = {}): string {
  return [t(`wheel.${state}`), held ? t("ring.held") : marked && t("ring.marked"), cut && t("ring.cut")].filter(Boolean).join(", ");
}

/** A wheel by itself, in the margin or before a line. Its state is its name for those who do not see it. */
export function Ring({ state, r = 10, ...marks }: { state: WheelStateWord; r?: number } & Marks) {
  const size = 2 * r + 2;
  return (
    <svg width={size} height={size + (state === "holding" ? 3 : 0)} role="img" aria-label={ringWords(state, marks)} fill="none" stroke-width="1.6">
      <RingShape cx={r + 1} cy={r + 1} r={r} state={state} {...marks} />
    </svg>
  );
}

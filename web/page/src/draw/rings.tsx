// A wheel, seen from above. Rings tell how far it is: dotted drying, one rind forming, two ripening, three ready, the
// same with a bar below holding; released in hand ink, struck level.
import type { WheelStateWord } from "../api";
import { t } from "../words";

const kStage: Record<WheelStateWord, number> = {
  "drying": 0, "rind forming": 1, "ripening": 2, "ready": 3, "holding": 4, "released": 3, "gone": 0,
};

export const stageOf = (state: WheelStateWord) => kStage[state];

interface RingProps {
  cx: number;
  cy: number;
  r: number;
  state: WheelStateWord;
}

/** The strokes of one wheel, within a larger drawing. */
export function RingShape({ cx, cy, r, state }: RingProps) {
  if (state === "gone") return null;
  const stage = kStage[state];
  const outer = r - 0.8;
  const ink = state === "released" ? "var(--hand)" : "var(--ink)";
  return (
    <g stroke={ink}>
      <circle cx={cx} cy={cy} r={outer} stroke-dasharray={stage === 0 ? "2.2 2.2" : undefined} />
      {stage >= 2 && <circle cx={cx} cy={cy} r={outer * 0.58} />}
      {stage >= 3 && <circle cx={cx} cy={cy} r={Math.max(1.1, outer * 0.2)} fill={ink} />}
      {stage === 4 && <path d={`M${cx - r} ${cy + r + 2}h${2 * r}`} />}
      {state === "released" && <path d={`M${cx - r - 2} ${cy}h${2 * r + 4}`} stroke-width="2" />}
    </g>
  );
}

/** A wheel by itself, in the margin or before a line. Its state is its name for those who do not see it. */
export function Ring({ state, r = 10 }: { state: WheelStateWord; r?: number }) {
  const size = 2 * r + 2;
  return (
    <svg width={size} height={size + (state === "holding" ? 3 : 0)} role="img" aria-label={t(`wheel.${state}`)} fill="none" stroke-width="1.6">
      <RingShape cx={r + 1} cy={r + 1} r={r} state={state} />
    </svg>
  );
}

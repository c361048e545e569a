// A week as a keeper tallies it: a stroke stands for each day that counts. Vouched is dashed, in hand ink; a day that was
// too cold has fallen over, in red; a day nobody measured is two dots where its stroke would end.
import type { Week } from "./weeks";
import { t } from "../../../words";

const kPitch = 18;
const kHeight = 22;

function Stroke({ is, x }: { is: NonNullable<Week["cells"][number]>; x: number }) {
  switch (is) {
    case "proven": return <path d={`M${x} 3V19`} stroke="var(--ink)" stroke-width="2.5" />;
    case "vouched": return <path d={`M${x} 2.5V19.5`} stroke="var(--hand)" stroke-width="2.5" stroke-dasharray="4.4 1.9" />;
    case "missing": return <path d={`M${x - 6} 17H${x + 6}`} stroke="var(--red)" stroke-width="3.5" />;
    case "unproven": return <g fill="var(--ink-2)"><circle cx={x} cy="4.5" r="1.7" /><circle cx={x} cy="17.5" r="1.7" /></g>;
    case "not counting": return <circle cx={x} cy="11" r="1" fill="var(--rule-2)" />;
  }
}

export function WeekTally({ week, label }: { week: Week; label: string }) {
  return (
    <svg class="tally" width={7 * kPitch} height={kHeight} viewBox={`0 0 ${7 * kPitch} ${kHeight}`} role="img" aria-label={label} fill="none">
      {week.cells.map((is, i) => is && <Stroke key={i} is={is} x={kPitch / 2 + i * kPitch} />)}
    </svg>
  );
}

/** What was folded away: the plan line's break. */
export function Fold() {
  return <svg class="tally" width={7 * kPitch} height={kHeight} aria-hidden="true" fill="none" stroke="var(--ink-2)" stroke-width="1.8"><path d="M9 14l14 -6M9 20l14 -6" /></svg>;
}

/** What the strokes mean, in words beside them. */
export function TallyKey({ kinds }: { kinds: ("proven" | "vouched" | "missing" | "unproven")[] }) {
  return (
    <p class="note key">
      {kinds.map((is) => (
        <span key={is} class="nowrap"><svg class="inkey" width="18" height={kHeight} aria-hidden="true" fill="none"><Stroke is={is} x={9} /></svg>{t(`day.is.${is}`)}</span>
      ))}
    </p>
  );
}

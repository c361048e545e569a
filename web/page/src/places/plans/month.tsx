// This wheel's next days under the plan as it is and as it would be, side by side, one scale down the margin: a stroke a
// day with a care, a bead where it is more than the everyday one.
import type { CareKind, Day, PreviewDay, WheelStateWord } from "../../api";
import { daysBetween, shortDate } from "../../days";
import { stageOf } from "../../draw/rings";
import { t } from "../../words";
import { counts } from "./edits";

const kRow = 6.6;
const kTop = 8;
const kDays = 30;
const kWidth = 122;

export const heightOf = (days = kDays) => kTop + days * kRow + 8;
const yOf = (today: Day, day: Day) => kTop + daysBetween(today, day) * kRow;

/** The kinds of the everyday stroke: the most frequent of both months, so that both are read alike. */
export function everyday(days: PreviewDay[]): CareKind | undefined {
  return counts(days)[0]?.kind;
}

interface MarksProps { days: PreviewDay[]; today: Day; plain: CareKind | undefined; x: number }

function Marks({ days, today, plain, x }: MarksProps) {
  let named = -100;
  return (
    <>
      {days.filter((d) => d.kinds.length > 0).map((d) => {
        const y = yOf(today, d.day);
        const more = d.kinds.some((k) => k !== plain);
        const label = more && y - named >= 13;
        if (label) named = y;
        return (
          <g key={d.day}>
            {plain !== undefined && d.kinds.includes(plain) && <path d={`M${x + 12} ${y}h14`} stroke="var(--ink)" stroke-width="2" />}
            {more && <circle cx={x + 32} cy={y} r="3.4" fill="var(--ink)" stroke="none" />}
            {label && <text x={x + 41} y={y + 4.5}>{shortDate(d.day)}</text>}
          </g>
        );
      })}
    </>
  );
}

function Strands({ state, x, height }: { state: WheelStateWord; x: number; height: number }) {
  const stage = Math.min(stageOf(state), 3);
  const at = stage >= 3 ? [0, 3.5, 7] : stage === 2 ? [1, 6] : [3.5];
  return <g stroke="var(--ink-2)" stroke-width="1.8" stroke-dasharray={stage === 0 ? "2 3" : "6 3"}>{at.map((dx) => <path key={dx} d={`M${x + dx} 0V${height}`} />)}</g>;
}

export function MonthScale({ today, age }: { today: Day; age: number | undefined }) {
  const height = heightOf();
  const marks = [0, 5, 10, 15, 20, 25, 30];
  return (
    <svg width="96" height={height} aria-hidden="true" fill="none">
      {marks.map((n) => <text key={n} class={n === 0 ? "now" : ""} x="86" y={kTop + n * kRow + 4.5} text-anchor="end">{n === 0 ? (age === undefined ? t("wheels.today") : t("plans.today", { day: age })) : age === undefined ? shortDate(plus(today, n)) : age + n}</text>)}
    </svg>
  );
}

const plus = (day: Day, n: number): Day => new Date(Date.parse(`${day}T00:00:00Z`) + n * 86_400_000).toISOString().slice(0, 10);

export function MonthPair({ before, after, today, state }: { before: PreviewDay[]; after: PreviewDay[]; today: Day; state: WheelStateWord }) {
  const height = heightOf();
  const plain = everyday([...before, ...after]);
  return (
    <svg class="pair" width={2 * kWidth} height={height} viewBox={`0 0 ${2 * kWidth} ${height}`} fill="none" role="img" aria-label={t("plans.pair")}>
      {[before, after].map((days, i) => (
        <g key={i}>
          <Strands state={state} x={i * (kWidth + 6)} height={height} />
          <Marks days={days} today={today} plain={plain} x={i * (kWidth + 6)} />
        </g>
      ))}
    </svg>
  );
}

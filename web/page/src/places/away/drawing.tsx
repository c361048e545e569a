// The windows as brackets down the days; a visit is a stroke of the hand across them, with a bead where it meets one.
import type { AwayPlan, Day } from "../../api";
import { dayOfMonth, daysBetween, weekdayDate } from "../../days";
import { t } from "../../words";
import { daysOf, type Column } from "./lanes";

const kRow = 19;
const kTop = 32;

const yOf = (from: Day, day: Day) => kTop + daysBetween(from, day) * kRow;
const heightOf = (plan: AwayPlan) => kTop + daysOf(plan.from, plan.back).length * kRow + 2;

export function AwayScale({ plan }: { plan: AwayPlan }) {
  const visits = new Set(plan.visits.map((v) => v.day));
  const days = daysOf(plan.from, plan.back);
  return (
    <svg width="96" height={heightOf(plan)} aria-hidden="true" fill="none">
      {days.map((day, i) => {
        const visit = visits.has(day);
        const whole = visit || i === 0 || i === days.length - 1;
        return <text key={day} x="86" y={yOf(plan.from, day) + 4.5} text-anchor="end" class={visit ? "visit" : undefined}>{whole ? weekdayDate(day) : dayOfMonth(day)}</text>;
      })}
    </svg>
  );
}

function Window({ x, from, back, window }: { x: number; from: Day; back: Day; window: Column["windows"][number] }) {
  // A window that opened before, or closes after, is open at that end.
  const early = window.from < from;
  const late = window.to > back;
  const top = yOf(from, early ? from : window.from) - (early ? 9 : 7.4);
  const end = yOf(from, late ? back : window.to) + (late ? 9 : 7.4);
  return <path d={`M${x + (early ? -5 : 6)} ${top}H${x - 5}V${end}${late ? "" : `H${x + 6}`}`} stroke="var(--ink)" stroke-width="2" />;
}

export function AwayDrawing({ plan, columns }: { plan: AwayPlan; columns: Column[] }) {
  const height = heightOf(plan);
  const width = 252;
  const visits = plan.visits.map((v) => v.day);
  let used = 0;
  const placed = columns.map((column) => {
    const x = used + column.width / 2;
    used += column.width;
    return { column, x };
  });
  const said = placed.map(({ column }) => column.places.join(", ")).join("; ");
  return (
    <svg class="lanes" width={width} height={height} viewBox={`0 0 ${width} ${height}`} role="img" fill="none"
         aria-label={t("away.drawing", { places: said, days: visits.map(weekdayDate).join(", ") || t("away.no visit") })}>
      {placed.map(({ column, x }) => (
        <g key={column.name}>
          <text class="big" x={x} y="15" text-anchor="middle">{column.name}</text>
          <path d={`M${x} 23V${height}`} stroke="var(--rule)" stroke-width="1" />
          {column.windows.map((window) => <Window key={window.from + window.to} x={x} from={plan.from} back={plan.back} window={window} />)}
        </g>
      ))}
      {visits.map((day) => (
        <g key={day}>
          <path d={`M0 ${yOf(plan.from, day)}H${width}`} stroke="var(--hand)" stroke-width="2.5" />
          {placed.flatMap(({ column, x }) => column.windows.filter((w) => w.visit === day).map((w) => <circle key={column.name + w.from} cx={x} cy={yOf(plan.from, day)} r="4" fill="var(--hand)" />))}
        </g>
      ))}
    </svg>
  );
}

// A cave is its boards with its wheels on them; a box is three sides and a lid.
import type { BoardWheel, WheelStateWord } from "../api";
import { many, t } from "../words";
import { RingShape } from "./rings";

const kWidth = 238;
const kR = 6.5;
const kFill = 14; // rings that fill the column; more are one ring and a figure

interface Run { state: WheelStateWord; count: number }

/** Neighbours in the same state. */
export function runs(wheels: BoardWheel[]): Run[] {
  const found: Run[] = [];
  for (const { state } of wheels) {
    const last = found[found.length - 1];
    if (last && last.state === state) last.count += 1;
    else found.push({ state, count: 1 });
  }
  return found;
}

/** One ring and a figure for each state, when there is no room for each wheel. */
function joined(wheels: BoardWheel[]): Run[] {
  const sums = new Map<WheelStateWord, number>();
  for (const { state } of wheels) sums.set(state, (sums.get(state) ?? 0) + 1);
  return [...sums].map(([state, count]) => ({ state, count }));
}

interface RowProps { wheels: BoardWheel[]; x: number; cy: number; pitch: number; gap: number }

function Wheels({ wheels, x, cy, pitch, gap }: RowProps) {
  if (wheels.length > kFill) {
    return (
      <>
        {joined(wheels).slice(0, 4).map((run, i) => (
          <g key={run.state}>
            <RingShape cx={x + kR + i * 52} cy={cy} r={kR} state={run.state} />
            <text class="figure" x={x + 2 * kR + 6 + i * 52} y={cy + 5}>{run.count}</text>
          </g>
        ))}
      </>
    );
  }
  let at = x + kR;
  return (
    <>
      {runs(wheels).flatMap((run, group) => {
        if (group > 0) at += gap;
        return Array.from({ length: run.count }, () => {
          const cx = at;
          at += pitch;
          return <RingShape key={cx} cx={cx} cy={cy} r={kR} state={run.state} />;
        });
      })}
    </>
  );
}

/** Board: a line across the column, its name, the wheels on it. */
export function BoardDrawing({ name, wheels }: { name: string; wheels: BoardWheel[] }) {
  const height = 2 * kR + 8;
  const count = many("wheels.many", wheels.length);
  const long = name.length > 3;
  const x = name && !long ? 28 : 0;
  return (
    <>
      {long && <p class="note strong">{name}</p>}
      <svg class="shelf" width={kWidth} height={height} viewBox={`0 0 ${kWidth} ${height}`} role="img" fill="none" stroke-width="1.5"
           aria-label={name ? t("caves.board", { name, count }) : t("caves.board.plain", { count })}>
        {x > 0 && <text class="big" x="0" y={2 * kR}>{name}</text>}
        <Wheels wheels={wheels} x={x + 0.5} cy={kR + 1} pitch={2 * kR + 2} gap={0} />
        <path d={`M0 ${2 * kR + 4}H${kWidth}`} stroke="var(--rule-2)" stroke-width="3" />
      </svg>
    </>
  );
}

/** Box: three sides and a lid; groups of one state stand apart. */
export function BoxDrawing({ wheels }: { wheels: BoardWheel[] }) {
  const inner = 26;
  const groups = runs(wheels).length;
  const room = kWidth - 28;
  const pitch = Math.min(2 * kR + 3, (room - 10 * (groups - 1)) / Math.max(1, Math.min(wheels.length, kFill)));
  return (
    <svg class="shelf" width={kWidth} height={inner + 8} viewBox={`0 0 ${kWidth} ${inner + 8}`} role="img" fill="none" stroke-width="1.5"
         aria-label={t("caves.box", { count: many("wheels.many", wheels.length) })}>
      <path d={`M3 9V${inner + 4}H${kWidth - 3}V9`} stroke="var(--rule-2)" stroke-width="2" />
      <path d={`M0 8H${kWidth}`} stroke="var(--rule-2)" stroke-width="3" />
      <Wheels wheels={wheels} x={14} cy={inner + 1 - kR} pitch={pitch} gap={10} />
    </svg>
  );
}

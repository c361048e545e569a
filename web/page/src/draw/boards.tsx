// A cave is its boards with its wheels on them; a box is three sides and a lid.
import type { BoardWheel, WheelStateWord } from "../api";
import { many, t } from "../words";
import { RingShape } from "./rings";

const kWidth = 238;
const kR = 6.5;
const kFill = 14; // rings that fill the column; more are one ring and a figure

interface Run { state: WheelStateWord; wheels: BoardWheel[] }

/** Neighbours of one lot in the same state. */
export function runs(wheels: BoardWheel[]): Run[] {
  const found: Run[] = [];
  for (const wheel of wheels) {
    const last = found[found.length - 1];
    if (last && last.state === wheel.state && last.wheels[0]!.lot === wheel.lot) last.wheels.push(wheel);
    else found.push({ state: wheel.state, wheels: [wheel] });
  }
  return found;
}

const isSaid = (wheel: BoardWheel) => wheel.marked || wheel.held || wheel.cut;
const kTogether = 4;

/** One ring and a figure for each state, when there is no room for each wheel; marked ones keep their own ring. */
export function together(wheels: BoardWheel[]): { wheel: BoardWheel; count: number }[] {
  const said = wheels.filter(isSaid);
  const sums = new Map<WheelStateWord, { wheel: BoardWheel; count: number }>();
  for (const wheel of wheels.filter((w) => !isSaid(w))) {
    const sum = sums.get(wheel.state);
    if (sum) sum.count += 1;
    else sums.set(wheel.state, { wheel, count: 1 });
  }
  return [...sums.values(), ...said.map((wheel) => ({ wheel, count: 1 }))];
}

/** More than there is room for are told by their number. */
function fitting(all: { wheel: BoardWheel; count: number }[]): { shown: typeof all; more: number } {
  if (all.length <= kTogether) return { shown: all, more: 0 };
  return { shown: all.slice(0, kTogether - 1), more: all.slice(kTogether - 1).reduce((sum, one) => sum + one.count, 0) };
}

interface RowProps { wheels: BoardWheel[]; x: number; cy: number; pitch: number; gap: number }

function Wheels({ wheels, x, cy, pitch, gap }: RowProps) {
  if (wheels.length > kFill) {
    const { shown, more } = fitting(together(wheels));
    return (
      <>
        {shown.map(({ wheel, count }, i) => (
          <g key={wheel.id}>
            <RingShape cx={x + kR + i * 52} cy={cy} r={kR} {...wheel} />
            {count > 1 && <text class="figure" x={x + 2 * kR + 6 + i * 52} y={cy + 5}>{count}</text>}
          </g>
        ))}
        {more > 0 && <text class="figure" x={x + shown.length * 52} y={cy + 5}>{t("caves.more", { count: more })}</text>}
      </>
    );
  }
  let at = x + kR;
  return (
    <>
      {runs(wheels).flatMap((run, group) => {
        if (group > 0) at += gap;
        return run.wheels.map((wheel) => {
          const cx = at;
          at += pitch;
          return <RingShape key={wheel.id} cx={cx} cy={cy} r={kR} {...wheel} />;
        });
      })}
    </>
  );
}

/** "14 wheels, 1 held, 2 marked" */
function label(wheels: BoardWheel[]): string {
  const held = wheels.filter((w) => w.held).length;
  const marked = wheels.filter((w) => w.marked).length;
  return [many("wheels.many", wheels.length), held > 0 && t("caves.held", { count: held }), marked > 0 && t("caves.marked", { count: marked })].filter(Boolean).join(", ");
}

/** Board: a line across the column, its name, the wheels on it. */
export function BoardDrawing({ name, wheels }: { name: string; wheels: BoardWheel[] }) {
  const height = 2 * kR + 8;
  const count = label(wheels);
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
         aria-label={t("caves.box", { count: label(wheels) })}>
      <path d={`M3 9V${inner + 4}H${kWidth - 3}V9`} stroke="var(--rule-2)" stroke-width="2" />
      <path d={`M0 8H${kWidth}`} stroke="var(--rule-2)" stroke-width="3" />
      <Wheels wheels={wheels} x={14} cy={inner + 1 - kR} pitch={pitch} gap={10} />
    </svg>
  );
}

// The plan as a line: what a wheel has lived through, to scale; what is to come, dashed and not to scale.
import type { WheelPage, WheelStateWord } from "../api";
import { dateOf, daysBetween } from "../days";
import { t } from "../words";
import { stageOf } from "./rings";

export interface LifeScale {
  top: number;       // y of day 0
  perDay: number;    // px
  today: number;     // y
  future: number[];  // y where each stage to come begins
  end: number;
}

const kAxis = 56;
const kClimate = 79;
const kHalf = 6;

function Strands({ state, from, to, ahead }: { state: WheelStateWord; from: number; to: number; ahead?: boolean }) {
  if (to <= from) return null;
  const stage = Math.min(stageOf(state), 3);
  const offsets = stage >= 3 ? [-4.5, 0, 4.5] : stage === 2 ? [-2.5, 2.5] : [0];
  const dashes = ahead ? "6 3" : stage === 0 ? "2 3" : undefined;
  return (
    <g stroke={ahead ? "var(--ink-2)" : "var(--ink)"} stroke-dasharray={dashes}>
      {offsets.map((x) => <path key={x} d={`M${kAxis + x} ${from}V${to}`} />)}
    </g>
  );
}

/** Each day's least and most as one body; a day without a reading is a hole. */
function Climate({ page, y }: { page: WheelPage; y: (day: string) => number }) {
  const days = page.climate;
  if (days.length === 0) return null;
  const low = Math.min(...days.map((d) => d.low));
  const high = Math.max(...days.map((d) => d.high));
  const band = page.stages.find((s) => s.temperature && s.from <= days[days.length - 1]!.day && (!s.to || s.to >= days[0]!.day))?.temperature ?? { low, high };
  const width = Math.max(1, band.high - band.low);
  const x = (v: number) => kClimate + Math.max(-10, Math.min(11, ((v - (band.low + band.high) / 2) / width) * 2 * kHalf));
  const bodies: (typeof days)[] = [];
  for (const day of days) {
    const last = bodies[bodies.length - 1];
    if (last && daysBetween(last[last.length - 1]!.day, day.day) === 1) last.push(day);
    else bodies.push([day]);
  }
  const from = y(days[0]!.day);
  const to = y(days[days.length - 1]!.day) + 2;
  return (
    <g>
      <rect x={kClimate - kHalf} y={from} width={2 * kHalf} height={Math.max(2, to - from)} fill="var(--band)" stroke="none" />
      <path d={`M${kClimate - kHalf} ${from}V${to}M${kClimate + kHalf} ${from}V${to}`} stroke="var(--rule-2)" stroke-width="1.2" />
      {bodies.map((body) => {
        const points = [...body.map((d) => `${x(d.low)},${y(d.day) + 1}`), ...[...body].reverse().map((d) => `${x(d.high)},${y(d.day) + 1}`)];
        if (body.length === 1) return <path key={body[0]!.day} d={`M${x(body[0]!.low)} ${y(body[0]!.day) + 1}H${x(body[0]!.high) + 1}`} stroke="var(--ink)" stroke-width="3" />;
        return <polygon key={body[0]!.day} points={points.join(" ")} fill="var(--ink)" fill-opacity=".8" stroke="none" />;
      })}
      <text x={kClimate} y={Math.max(10, from - 4)} text-anchor="middle">°C</text>
    </g>
  );
}

/** Three teeth and a red bar on the side it left. */
function Excursion({ y, cold }: { y: number; cold: boolean }) {
  const side = cold ? -1 : 1;
  const rail = kClimate + side * kHalf;
  return (
    <g stroke="var(--red)">
      <path d={`M${rail} ${y - 4}h${5 * side}M${rail} ${y}h${5 * side}M${rail} ${y + 4}h${5 * side}`} stroke-width="1.8" />
      <path d={`M${rail + 5 * side} ${y - 6}V${y + 6}`} stroke-width="3.5" />
    </g>
  );
}

function Cares({ page, y }: { page: WheelPage; y: (day: string) => number }) {
  const done = page.cares.filter((c) => !c.undone && c.kinds.length > 0);
  const wet = (kinds: string[]) => kinds.some((k) => k === "wash" || k === "rub" || k === "salt");
  return (
    <g stroke="var(--hand)">
      {done.map((c) => <path key={c.id} d={`M${kAxis - 8} ${y(c.day)}h-5`} stroke-width="2" />)}
      {done.filter((c) => wet(c.kinds)).map((c) => <circle key={c.id} cx={kAxis - 16} cy={y(c.day)} r="2.4" fill="var(--hand)" />)}
    </g>
  );
}

export function PlanLine({ page, scale }: { page: WheelPage; scale: LifeScale }) {
  const today = page.head.day;
  const made = page.wheel.made;
  const y = (day: string) => scale.top + Math.max(0, daysBetween(made, day)) * scale.perDay;
  const past = page.stages.filter((s) => s.from <= today);
  const ahead = page.stages.filter((s) => s.from > today);
  const current = past[past.length - 1];
  const names = new Map<number, string>();
  for (const s of past) names.set(y(s.from), String(daysBetween(made, s.from)));
  const firstAhead = scale.future[0] ?? scale.end;
  const cut = (scale.today + firstAhead) / 2;
  return (
    <svg width="96" height={scale.end + 4} role="img" aria-label={t("wheels.line", { day: page.wheel.age })} fill="none" stroke-width="1.8">
      {past.map((s) => <Strands key={s.name + s.from} state={s.state} from={y(s.from)} to={s.to && s.to < today ? y(s.to) + scale.perDay : scale.today} />)}
      {current && <Strands state={current.state} from={scale.today} to={ahead.length > 0 ? cut - 6 : scale.end} ahead />}
      {ahead.length > 0 && <path d={`M48 ${cut}l16 -6M48 ${cut + 6}l16 -6`} stroke="var(--ink-2)" />}
      {ahead.length > 0 && current && <Strands state={current.state} from={cut + 8} to={firstAhead} ahead />}
      {ahead.map((s, i) => <Strands key={s.name + s.from} state={s.state} from={scale.future[i] ?? scale.end} to={scale.future[i + 1] ?? scale.end} ahead />)}
      <Cares page={page} y={y} />
      <Climate page={page} y={y} />
      {page.excursions.map((e) => <Excursion key={e.from} y={y(dateOf(e.from))} cold={e.kind === "too cold" || e.kind === "too dry"} />)}
      {[...names].filter(([at], i, all) => scale.today - at > 13 && (i === 0 || at - all[i - 1]![0] > 12)).map(([at, name], i) => (
        <text key={at} x="34" y={at + 4.5} text-anchor="end">{i === 0 ? t("day.number", { day: name }) : name}</text>
      ))}
      {ahead.map((s, i) => <text key={s.from} x="38" y={(scale.future[i] ?? scale.end) + 4.5} text-anchor="end">{daysBetween(made, s.from)}</text>)}
      <path d={`M40 ${scale.today}H92`} stroke="var(--ink)" stroke-width="2.5" />
      <text class="now" x="38" y={scale.today + 4.5} text-anchor="end">{t("wheels.today")}</text>
    </svg>
  );
}

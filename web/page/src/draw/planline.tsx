// The plan as a line: what a wheel has lived through, to scale; what is to come, dashed and not to scale.
import type { Instant, Span, WheelPage, WheelStateWord } from "../api";
import { daysBetween, instantOf, keeperDay } from "../days";
import { t } from "../words";
import { bodies, combs, type Body, type ClimateDay } from "./climate";
import { stageOf } from "./rings";
import { bandAt, type BandStep } from "./trace";

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
const kFree = 1.5;      // K from the middle to where a rail would be, where no band holds
const kLeastWide = 3.5; // px of air that is out of its band
const kLeastGap = 3;    // px of what is unknown, so that it is seen
const kDay = 86_400_000;

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

/** Each day's least and most as one body between the rails of that day's band; a day without a reading is a hole, and
    what is unknown stands between dotted rails. */
function Climate({ page, y, at }: { page: WheelPage; y: (day: string) => number; at: (instant: Instant) => number }) {
  const days = page.climate;
  if (days.length === 0) return null;
  const steps: BandStep[] = page.bands.map((b) => ({ from: b.from, ...(b.temperature ? { band: b.temperature } : {}) }));
  const middle = (Math.min(...days.map((d) => d.low)) + Math.max(...days.map((d) => d.high))) / 2;
  const x = (v: number, band: Span = { low: middle - kFree, high: middle + kFree }) => {
    const width = Math.max(0.1, band.high - band.low);
    return kClimate + Math.max(-10, Math.min(11, ((v - (band.low + band.high) / 2) / width) * 2 * kHalf));
  };
  // Far beyond its band it lies at the end of the reach, as wide as it takes to be seen.
  const left = (d: ClimateDay, { band, side }: Body) => Math.min(x(d.low, band), side > 0 ? x(d.high, band) + 1 - kLeastWide : Infinity);
  const right = (d: ClimateDay, { band, side }: Body) => Math.max(x(d.high, band) + 1, side < 0 ? x(d.low, band) + kLeastWide : -Infinity);
  const from = y(days[0]!.day);
  const gaps = page.unknown.map((g) => ({ from: at(g.from), to: Math.max(at(g.to), at(g.from) + kLeastGap) }));
  const to = Math.max(y(days[days.length - 1]!.day) + 2, ...gaps.map((g) => g.to));
  return (
    <g>
      <ClimateRails steps={steps} gaps={gaps} from={from} to={to} at={at} />
      {bodies(days, steps).map((body) => {
        const ink = body.side === 0 ? "var(--ink)" : "var(--red)";
        if (body.days.length === 1) return <path key={body.days[0]!.day} d={`M${left(body.days[0]!, body)} ${y(body.days[0]!.day) + 1}H${right(body.days[0]!, body)}`} stroke={ink} stroke-width="3" />;
        const points = [...body.days.map((d) => `${left(d, body)},${y(d.day) + 1}`), ...[...body.days].reverse().map((d) => `${right(d, body)},${y(d.day) + 1}`)];
        return <polygon key={body.days[0]!.day} points={points.join(" ")} fill={ink} fill-opacity=".8" stroke="none" />;
      })}
      <text x={kClimate} y={Math.max(10, from - 4)} text-anchor="middle">°C</text>
    </g>
  );
}

interface RailsProps { steps: BandStep[]; gaps: { from: number; to: number }[]; from: number; to: number; at: (instant: Instant) => number }

/** Whole where the air is known, dotted where it is not, absent where no band holds; a tick across both where the band
    changes. */
function ClimateRails({ steps, gaps, from, to, at }: RailsProps) {
  const bounds = steps.map((s) => ({ from: at(s.from), band: s.band }));
  const edges = [from, ...bounds.map((b) => b.from), ...gaps.flatMap((g) => [g.from, g.to]), to].filter((e) => e >= from && e <= to).sort((a, b) => a - b);
  const pieces = edges.slice(1).map((end, i) => ({ from: edges[i]!, to: end })).filter((p) => p.to > p.from);
  return (
    <>
      {pieces.map((p) => {
        const middle = (p.from + p.to) / 2;
        if (!bandAt(bounds, middle)) return null;
        const unknown = gaps.some((g) => middle > g.from && middle < g.to);
        return (
          <g key={p.from}>
            {!unknown && <rect x={kClimate - kHalf} y={p.from} width={2 * kHalf} height={p.to - p.from} fill="var(--band)" stroke="none" />}
            <path d={`M${kClimate - kHalf} ${p.from}V${p.to}M${kClimate + kHalf} ${p.from}V${p.to}`} stroke="var(--rule-2)" stroke-width="1.2" stroke-dasharray={unknown ? "1.5 4" : undefined} />
          </g>
        );
      })}
      {bounds.slice(1).filter((b) => b.from > from && b.from < to).map((b) => <path key={b.from} d={`M${kClimate - kHalf - 2} ${b.from}h${2 * kHalf + 4}`} stroke="var(--rule-2)" stroke-width="1" />)}
    </>
  );
}

/** Three teeth and a red bar on the side it left. */
function Excursion({ y, side }: { y: number; side: -1 | 1 }) {
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
  const at = (instant: Instant) => y(keeperDay(instant)) + ((instant - instantOf(keeperDay(instant), 4)) / kDay) * scale.perDay;
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
      <Climate page={page} y={y} at={at} />
      {combs(page.excursions).map((e) => <Excursion key={e.from} y={at(e.from)} side={e.side} />)}
      {[...names].filter(([at], i, all) => scale.today - at > 13 && (i === 0 || at - all[i - 1]![0] > 12)).map(([at, name], i) => (
        <text key={at} x="34" y={at + 4.5} text-anchor="end">{i === 0 ? t("day.number", { day: name }) : name}</text>
      ))}
      {ahead.map((s, i) => <text key={s.from} x="38" y={(scale.future[i] ?? scale.end) + 4.5} text-anchor="end">{daysBetween(made, s.from)}</text>)}
      <path d={`M40 ${scale.today}H92`} stroke="var(--ink)" stroke-width="2.5" />
      <text class="now" x="38" y={scale.today + 4.5} text-anchor="end">{t("wheels.today")}</text>
    </svg>
  );
}

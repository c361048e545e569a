// The ribbon down the margin: time runs down, cold and dry left, warm and damp right; the band is always the same two
// rails apart, whatever its degrees. The trace is the mean that the alarm judges.
import type { Cave, Ribbon as RibbonData } from "../api";
import { hour } from "../days";
import { t } from "../words";
import { hoursOf } from "./hours";
import { bandAt, gapsOf, stretches, thin, type BandStep, type Gap, type Point, type Stretch } from "./trace";

type Mark = RibbonData["marks"][number];

interface Column {
  axis: number;
  half: number;   // from the axis to a rail
  left: number;   // reach beyond which a trace clips
  right: number;
  head: string;
  points: Point[];
  steps: BandStep[];
  smears: boolean;
  gaps: Gap[];
  ahead: NonNullable<RibbonData["ahead"]>;
}

interface RibbonProps {
  data: RibbonData;
  gaps: Gap[];             // of both channels
  doubts?: NonNullable<Cave["doubts"]>;   // likewise unknown, of one
  height: number;
  show: "both" | "temperature" | "humidity";
  alone?: -1 | 1;          // the channel in alarm alone, with room on the side that it left
  labels?: boolean;
  class?: string;
  still?: boolean;         // of a time that is over: it ends at an hour, not now
}

const kAhead = 1.2;      // hours below "now"
const kForeseen = 4.2;   // the same where something is foreseen and there is room for it
const kRoomy = 300;      // px of height
const kSmear = 8;   // px that a smear is wide
const kMark = 13;   // a name of 13 px needs as much

function columns({ data, gaps, doubts = [], show, alone }: RibbonProps): Column[] {
  const temperature = { head: "°C", points: data.temperature, smears: false, ahead: data.ahead ?? [], gaps: gapsOf("temperature", gaps, doubts),
    steps: data.bands.map((b) => ({ from: b.from, ...(b.temperature ? { band: b.temperature } : {}) })) };
  const humidity = { head: "%", points: data.humidity, smears: true, ahead: [], gaps: gapsOf("humidity", gaps, doubts),
    steps: data.bands.map((b) => ({ from: b.from, ...(b.humidity ? { band: b.humidity } : {}) })) };
  if (alone) {
    const one = show === "humidity" ? humidity : temperature;
    return [{ ...one, axis: alone > 0 ? 61 : 66, half: 10, left: alone > 0 ? 12 : 28, right: alone > 0 ? 28 : 12 }];
  }
  if (show === "temperature") return [{ ...temperature, axis: 68, half: 8, left: 18, right: 18 }];
  if (show === "humidity") return [{ ...humidity, axis: 72, half: 9, left: 18, right: 18 }];
  return [{ ...temperature, axis: 55, half: 7.5, left: 14, right: 14 }, { ...humidity, axis: 81.5, half: 6, left: 9.5, right: 9.5 }];
}

/** Beyond the warm rail the scale goes on; where what is foreseen would leave the column it is drawn together, so that
    its width is seen. */
function squeezed(column: Column): number {
  const last = column.ahead[column.ahead.length - 1];
  const band = last && bandAt(column.steps, last.at);
  if (!last || !band) return 1;
  const far = ((last.high - (band.low + band.high) / 2) / Math.max(0.1, band.high - band.low)) * 2 * column.half;
  return far > column.right ? Math.max(0.2, (column.right - column.half) / (far - column.half)) : 1;
}

/** Where a value stands across a column. Without a band the day's own middle stands on the axis. */
function across(column: Column) {
  const values = column.points.map((p) => p[1]);
  const middle = values.length > 0 ? (Math.min(...values) + Math.max(...values)) / 2 : 0;
  const free = { low: middle - (column.smears ? 5 : 1.5), high: middle + (column.smears ? 5 : 1.5) };
  const squeeze = squeezed(column);
  return (value: number, at: number) => {
    const held = bandAt(column.steps, at);
    const band = held ?? free;
    const width = Math.max(0.1, band.high - band.low);
    const straight = ((value - (band.low + band.high) / 2) / width) * 2 * column.half;
    const x = straight > column.half && held ? column.half + (straight - column.half) * squeeze : straight;
    const edge = held ? 0 : column.smears ? kSmear / 2 : 1; // without rails the whole stroke stays within the reach
    return column.axis + Math.max(edge - column.left, Math.min(column.right - edge, x));
  };
}

type Down = (at: number) => number;

/** The next hours: from the last value to the likely span, wider as it goes on; it crosses the rail if it may leave. */
function Ahead({ column, y, end }: { column: Column; y: Down; end: number }) {
  const x = across(column);
  const spans = column.ahead.filter((a) => y(a.at) <= end);
  if (spans.length < 2) return null;
  const edge = (which: "low" | "high") => spans.map((a) => `${x(a[which], a.at).toFixed(1)} ${y(a.at).toFixed(1)}`);
  return <path d={`M${edge("low").join("L")}L${edge("high").reverse().join("L")}Z`} fill="var(--ink)" fill-opacity=".16" stroke="var(--ink-2)" stroke-width="1.2" stroke-dasharray="3 2.5" />;
}

/** What the watch knows by its shape, on the left rail: a door, a defrost, warm wheels brought in, somebody's round. */
function MarkGlyph({ mark, left, at }: { mark: Mark; left: number; at: number }) {
  switch (mark.kind) {
    case "door": return <path d={`M${left} ${at - 4.5}L${left - 8} ${at}L${left} ${at + 4.5}Z`} fill="var(--ink)" />;
    case "defrost": return <path d={`M${left} ${at - 4}h-6v8h6`} stroke="var(--ink)" stroke-width="1.6" />;
    case "delivery": return <circle cx={left - 4.5} cy={at} r="3.6" stroke="var(--ink)" stroke-width="1.6" />;
    case "plant cycle": return <path d={`M${left - 6} ${at - 3}l3 6l3 -6`} stroke="var(--ink-2)" stroke-width="1.4" />;
    default: return <path d={`M${left - 4} ${at}h6`} stroke="var(--ink-2)" stroke-width="2" />;
  }
}

const markWord = (mark: Mark) => (mark.kind === "round" ? "" : t(`ribbon.${mark.kind}`));

/** Names that have room: the newest first, each 13 px from the next and from now. */
function namedMarks(marks: Mark[], y: Down, yn: number): Mark[] {
  const named: Mark[] = [];
  for (const mark of [...marks].sort((a, b) => b.at - a.at)) {
    const clear = yn - y(mark.at) > kMark && y(mark.at) > 6 && named.every((n) => Math.abs(y(n.at) - y(mark.at)) > kMark);
    if (clear && markWord(mark)) named.push(mark);
  }
  return named;
}

const kLongName = 6; // letters of 13 px that no longer fit by themselves between the edge of the glass and a mark
const within = (room: number) => ({ textLength: room, lengthAdjust: "spacingAndGlyphs" as const });
const fitted = (name: string, room: number) => (name.length >= kLongName ? within(room) : {});
const kHourWide = 36; // px of a bold hour, "14:00"
const kEdge = 2;      // px of paper between it and the edge of the glass

function Comb({ stretch, column, x, y }: { stretch: Stretch; column: Column; x: (v: number, at: number) => number; y: Down }) {
  const rail = column.axis + stretch.side * column.half;
  let teeth = "";
  let next = y(stretch.points[0]![0]) + 2;
  for (const [at, value] of stretch.points) {
    const here = y(at);
    if (here < next) continue;
    teeth += `M${rail} ${here.toFixed(1)}H${x(value, at).toFixed(1)}`;
    next = here + 4;
  }
  return <path d={teeth} stroke="var(--red)" stroke-width="1.6" />;
}

function Trace({ column, y, step }: { column: Column; y: Down; step: number }) {
  const x = across(column);
  return (
    <>
      {stretches(thin(column.points, step), column.steps, column.gaps, column.smears).map((stretch) => {
        const line = stretch.points.map(([at, value]) => `${x(value, at).toFixed(1)},${y(at).toFixed(1)}`).join(" ");
        if (stretch.mode === "out") {
          return (
            <g key={line}>
              <Comb stretch={stretch} column={column} x={x} y={y} />
              <polyline points={line} stroke="var(--red)" stroke-width="3.5" stroke-linejoin="round" />
            </g>
          );
        }
        if (stretch.mode === "smear") {
          return (
            <g key={line} stroke="var(--ink)">
              <polyline points={line} stroke-width={kSmear} stroke-opacity=".22" />
              <polyline points={line} stroke-width="4.5" stroke-opacity=".42" />
            </g>
          );
        }
        return <polyline key={line} points={line} stroke="var(--ink)" stroke-width="2" stroke-linejoin="round" />;
      })}
    </>
  );
}

/** The two rails: whole where something was recorded, dotted over a gap, absent where no band holds. */
function Rails({ column, data, y, end }: { column: Column; data: RibbonData; y: Down; end: number }) {
  const { axis, half, gaps } = column;
  const edges = [data.from, ...column.steps.map((s) => s.from), ...gaps.flatMap((g) => [g.from, g.to]), data.to]
    .filter((at) => at >= data.from && at <= data.to)
    .sort((a, b) => a - b);
  const pieces = edges.slice(1).map((to, i) => ({ from: edges[i]!, to })).filter((p) => p.to > p.from);
  const held = (at: number) => bandAt(column.steps, at) !== undefined;
  return (
    <>
      {pieces.map(({ from, to }) => {
        const middle = (from + to) / 2;
        if (!held(middle)) return null;
        const missing = gaps.some((g) => middle > g.from && middle < g.to);
        return (
          <g key={from}>
            {!missing && <rect x={axis - half} y={y(from)} width={2 * half} height={y(to) - y(from)} fill="var(--band)" />}
            <path d={`M${axis - half} ${y(from)}V${y(to)}M${axis + half} ${y(from)}V${y(to)}`} stroke="var(--rule-2)"
                  stroke-width="1.5" stroke-dasharray={missing ? "1.5 4" : undefined} />
          </g>
        );
      })}
      {column.steps.slice(1).filter((s) => s.from > data.from && s.from < data.to).map((s) => (
        <path key={s.from} d={`M${axis - half - 2} ${y(s.from)}h${2 * half + 4}`} stroke="var(--rule-2)" />
      ))}
      {held(data.to) && (
        <path d={`M${axis - half} ${y(data.to)}V${end}M${axis + half} ${y(data.to)}V${end}`} stroke="var(--rule-2)" stroke-dasharray="1 3" />
      )}
    </>
  );
}

function Hours({ data, y, marks, left }: { data: RibbonData; y: Down; marks: number[]; left: number }) {
  const yn = y(data.to);
  return (
    <>
      {hoursOf(data.from, data.to).map(({ at, name }) => {
        const clear = yn - y(at) > 15 && y(at) > 9 && marks.every((m) => Math.abs(m - y(at)) > kMark);
        return (
          <g key={at}>
            {clear && <text x={left - 12} y={y(at) + 4.5} text-anchor="end">{name}</text>}
            <path d={`M${left - 8} ${y(at)}h5`} stroke="var(--rule-2)" />
          </g>
        );
      })}
    </>
  );
}

function said({ data, show }: RibbonProps): string {
  const reach = (points: Point[], key: "ribbon.temperature" | "ribbon.humidity", digits: number) => {
    if (points.length === 0) return [];
    const values = points.map((p) => p[1]);
    return [t(key, { low: Math.min(...values).toFixed(digits), high: Math.max(...values).toFixed(digits) })];
  };
  const parts = [
    ...(show === "humidity" ? [] : reach(data.temperature, "ribbon.temperature", 1)),
    ...(show === "temperature" ? [] : reach(data.humidity, "ribbon.humidity", 0)),
  ];
  const last = data.ahead?.[data.ahead.length - 1];
  if (last && show !== "humidity") parts.push(t("ribbon.ahead", { hours: Math.round((last.at - data.to) / 3_600_000), low: last.low.toFixed(1), high: last.high.toFixed(1) }));
  return t("ribbon.label", { hours: Math.round((data.to - data.from) / 3_600_000), what: parts.join(", ") || t("ribbon.nothing") });
}

export function Ribbon(props: RibbonProps) {
  const { data, height, labels = true, still = false } = props;
  const cols = columns(props);
  const hours = Math.max(1, (data.to - data.from) / 3_600_000);
  const below = still ? 0 : data.ahead && data.ahead.length > 1 && height >= kRoomy ? kForeseen : kAhead;
  const scale = (height - (still ? 8 : 0)) / (hours + below);
  const y: Down = (at) => ((at - data.from) / 3_600_000) * scale;
  const yn = y(data.to);
  const left = cols[0]!.axis - cols[0]!.half;
  const marks = data.marks.filter((m) => m.at > data.from && m.at < data.to);
  const named = labels ? namedMarks(marks, y, yn) : [];
  return (
    <svg class={`ribbon headed ${props.class ?? ""}`} width="96" height={height} role="img" aria-label={said(props)} fill="none">
      {cols.map((column) => (
        <g key={column.head}>
          <Rails column={column} data={data} y={y} end={height} />
          <Trace column={column} y={y} step={(1.5 / scale) * 3_600_000} />
          <Ahead column={column} y={y} end={height} />
          <text x={column.axis} y="-4" text-anchor="middle">{column.head}</text>
        </g>
      ))}
      {labels && <Hours data={data} y={y} marks={named.map((m) => y(m.at))} left={left} />}
      {marks.map((m) => <MarkGlyph key={`${m.kind} ${m.at}`} mark={m} left={left} at={y(m.at)} />)}
      {named.map((m) => <text key={m.at} x={left - 10} y={y(m.at) + 4.5} text-anchor="end" {...fitted(markWord(m), left - 12)}>{markWord(m)}</text>)}
      <path d={`M${labels ? left - 8 : left - 10} ${yn}H92`} stroke="var(--ink)" stroke-width="2" />
      {labels && <text class="now" x={left - 12} y={yn + 4.5} text-anchor="end" {...(still ? within(Math.min(kHourWide, left - 12 - kEdge)) : {})}>{still ? hour(data.to) : t("ribbon.now")}</text>}
    </svg>
  );
}

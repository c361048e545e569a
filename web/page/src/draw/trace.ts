// From readings to strokes: which stretches of a trace are inside, outside, smeared or missing. Pure, so that it is tested.
import type { Cave, Instant, Span } from "../api";

export type Point = [Instant, number];
export type Mode = "in" | "out" | "smear" | "free"; // free: no band holds there
export interface Stretch { mode: Mode; side: -1 | 0 | 1; points: Point[] }
export interface Gap { from: Instant; to: Instant }
export interface BandStep { from: Instant; band?: Span }

/** Above it a humidity probe knows no more than "very damp". */
export const kSmearAbove = 93;

/** The band in force at an instant. */
export function bandAt(steps: BandStep[], at: Instant): Span | undefined {
  let found: BandStep | undefined = steps[0];
  for (const step of steps) if (step.from <= at) found = step;
  return found?.band;
}

/** What is unknown of a channel: where nothing was recorded, and where its own probe was stuck or wet. */
export const gapsOf = (channel: "temperature" | "humidity", gaps: Gap[], doubts: NonNullable<Cave["doubts"]>): Gap[] =>
  [...gaps, ...doubts.filter((d) => d.channel === channel)];

/** One point for each `width` of time: its mean. The last point stays as it is, it is what "now" reads. */
export function thin(points: Point[], width: number): Point[] {
  if (points.length < 3) return points;
  const out: Point[] = [];
  let bucket: Point[] = [];
  let end = points[0]![0] + width;
  const flush = () => {
    if (bucket.length === 0) return;
    const sum = bucket.reduce(([t, v], [bt, bv]) => [t + bt, v + bv] as Point, [0, 0] as Point);
    out.push([sum[0] / bucket.length, sum[1] / bucket.length]);
    bucket = [];
  };
  for (const point of points.slice(0, -1)) {
    if (point[0] >= end) {
      flush();
      while (point[0] >= end) end += width;
    }
    bucket.push(point);
  }
  flush();
  out.push(points[points.length - 1]!);
  return out;
}

function modeOf(value: number, band: Span | undefined, smears: boolean): Pick<Stretch, "mode" | "side"> {
  if (band && value > band.high) return { mode: "out", side: 1 };
  if (band && value < band.low) return { mode: "out", side: -1 };
  if (smears && value > kSmearAbove) return { mode: "smear", side: 0 };
  return { mode: band ? "in" : "free", side: 0 };
}

/** Splits at gaps (never bridged) and where the mode changes (joined by a shared point). */
export function stretches(points: Point[], steps: BandStep[], gaps: Gap[], smears: boolean): Stretch[] {
  const found: Stretch[] = [];
  let last: Point | undefined;
  let open: Stretch | undefined;
  for (const point of points) {
    const [at, value] = point;
    if (gaps.some((g) => at > g.from && at < g.to)) continue;
    const broken = last !== undefined && gaps.some((g) => g.from >= last![0] && g.to <= at && g.to > g.from);
    const next = modeOf(value, bandAt(steps, at), smears);
    if (!open || broken) {
      found.push((open = { ...next, points: [point] }));
    } else if (open.mode !== next.mode || open.side !== next.side) {
      open.points.push(point);
      found.push((open = { ...next, points: [point] }));
    } else {
      open.points.push(point);
    }
    last = point;
  }
  return found;
}

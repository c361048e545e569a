// Rinds as the first question shows them: what the eye meets before any name.
import type { CareKind, RindWord } from "../api";

export type RindPicture = "white" | "washed" | "grey" | "smooth" | "blue" | "coat";

/** A small generator with a fixed start, so that a drawing is the same each time. */
function dice(seed: number): (low: number, high: number) => number {
  let state = seed;
  return (low, high) => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return low + (state / 4294967296) * (high - low);
  };
}

const f = (x: number) => x.toFixed(1);

/** A nap like velvet: short hairs over the whole face, all combed one way; the edge is where they end. */
function Nap() {
  const roll = dice(7);
  const rim: string[] = [];
  const face: string[] = [];
  for (let q = -9; q <= 9; q += 1) {
    for (let p = -9; p <= 9; p += 1) {
      const x = p * 2.9 + (Math.abs(q) % 2) * 1.45 + roll(-0.5, 0.5);
      const y = q * 2.5 + roll(-0.5, 0.5);
      const reach = Math.hypot(x, y);
      const edge = reach > 13.5;
      if (reach > 17 || (!edge && (p + q) % 2 !== 0)) continue;
      const length = edge ? roll(3.4, 4.8) : roll(2.2, 3.2);
      const angle = -Math.PI / 2 + 0.5 + x * 0.02 + roll(-0.2, 0.2);
      (edge ? rim : face).push(`M${f(x)} ${f(y)}q${f(0.2 * length)} ${f(-0.5 * length)} ${f(length * Math.cos(angle))} ${f(length * Math.sin(angle))}`);
    }
  }
  return <g stroke-linecap="round"><path stroke-width="1.5" d={rim.join("")} /><path stroke-width="1" d={face.join("")} /></g>;
}

function Washed() {
  const edge = Array.from({ length: 73 }, (_, i) => {
    const a = (i * 2 * Math.PI) / 72;
    const r = 17 + 1.3 * Math.sin(9 * a);
    return `${f(r * Math.cos(a))},${f(r * Math.sin(a))}`;
  });
  return <><polyline points={edge.join(" ")} /><path stroke-width="1.5" d="M-10 -5c3 -2 5 2 8 0s5 2 8 0M-8 2c3 -2 5 2 8 0s5 2 8 0M-10 9c3 -2 5 2 8 0s5 2 8 0" /></>;
}

function Grey() {
  const roll = dice(11);
  return (
    <>
      <circle r="17.5" />
      {Array.from({ length: 30 }, (_, i) => {
        const a = roll(0, 6.28);
        const r = 15 * Math.sqrt(roll(0, 1));
        return <circle key={i} cx={f(r * Math.cos(a))} cy={f(r * Math.sin(a))} r={f(roll(0.5, 1.2))} fill="var(--ink)" stroke="none" />;
      })}
    </>
  );
}

const kShapes: Record<RindPicture, () => preact.JSX.Element> = {
  white: Nap,
  washed: Washed,
  grey: Grey,
  // the print of the cloth
  smooth: () => <><circle r="17.5" /><path stroke-width="1.1" d="M-8 -8H8M-8 -4H8M-8 0H8M-8 4H8M-8 8H8M-8 -8V8M-4 -8V8M0 -8V8M4 -8V8M8 -8V8" /></>,
  // needle holes and short veins
  blue: () => <><circle r="17.5" /><path stroke-width="1.7" stroke-linecap="round" d="M-11 -6l4 -3l3 2M-5 2l5 -2l2 3l4 -1M4 -10l3 3M8 4l-2 4l3 2M-10 7l3 3l4 -1M-1 12l3 -3M9 -3l4 -1" /></>,
  // a thick coat round a thin rind
  coat: () => <><circle r="16" stroke-width="4.5" /><circle r="10.5" stroke-width="1.4" /></>,
};

/** Which picture a plan's rind has: pressed and washed in its first weeks shows the cloth, else it is left to grow. */
export function pictureOf(rind: RindWord, cares: CareKind[]): RindPicture {
  switch (rind) {
    case "fresh and white": return "white";
    case "washed": return "washed";
    case "blue": return "blue";
    case "natural and pressed": return cares.includes("coat") || cares.includes("oil") ? "coat" : cares.includes("wash") ? "smooth" : "grey";
  }
}

export function RindDrawing({ picture }: { picture: RindPicture }) {
  const Shape = kShapes[picture];
  return <svg width="46" height="46" viewBox="-23 -23 46 46" aria-hidden="true" fill="none" stroke="var(--ink)" stroke-width="2"><Shape /></svg>;
}

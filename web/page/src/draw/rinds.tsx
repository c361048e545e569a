// Rinds as the first question shows them: what the eye meets before any name.
import type { PlanOffer } from "../api";

export type RindPicture =
  | "white" | "wrinkled" | "brine" | "smooth" | "grey" | "coat" | "basket" | "cloth" | "hard" | "wax" | "washed" | "rubbed" | "blue" | "washed grey";

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

function Spots({ count }: { count: number }) {
  const roll = dice(11);
  return (
    <>
      {Array.from({ length: count }, (_, i) => {
        const a = roll(0, 6.28);
        const r = 15 * Math.sqrt(roll(0, 1));
        return <circle key={i} cx={f(r * Math.cos(a))} cy={f(r * Math.sin(a))} r={f(roll(0.5, 1.2))} fill="var(--ink)" stroke="none" />;
      })}
    </>
  );
}

const Grey = () => <><circle r="17.5" /><Spots count={30} /></>;

/** The spots that grew over two strokes of the cloth. */
const WashedGrey = () => <><circle r="17.5" /><Spots count={18} /><path stroke-width="1.5" d="M-12 -4c4 -2.4 7 2.4 12 0s7 2.4 12 0M-12 5c4 -2.4 7 2.4 12 0s7 2.4 12 0" /></>;

/** Small folds that run into each other, like a brain's. */
function Wrinkled() {
  const roll = dice(5);
  const folds: string[] = [];
  for (let y = -12; y <= 12; y += 4.8) {
    const half = Math.sqrt(15.5 * 15.5 - y * y) - 1.5;
    for (let x = -half; x < half - 3; x += roll(8, 11)) {
      const to = Math.min(roll(6, 8), half - x);
      folds.push(`M${f(x)} ${f(y + roll(-0.8, 0.8))}q${f(to / 4)} ${f(roll(-3.6, -2.4))} ${f(to / 2)} 0t${f(to / 2)} ${f(roll(-0.6, 0.6))}`);
    }
  }
  return <><circle r="17" /><path stroke-width="1.4" stroke-linecap="round" d={folds.join("")} /></>;
}

/** Cloth to the edge: the cap's ragged round, its threads, the weave in the middle. */
function Cloth() {
  const roll = dice(3);
  const threads = Array.from({ length: 26 }, (_, i) => {
    const a = (i * 2 * Math.PI) / 26 + roll(-0.06, 0.06);
    const r = roll(18.2, 20.5);
    return `M${f(16.5 * Math.cos(a))} ${f(16.5 * Math.sin(a))}L${f(r * Math.cos(a + 0.05))} ${f(r * Math.sin(a + 0.05))}`;
  });
  return (
    <>
      <circle r="16.5" />
      <path stroke-width="1.2" d={threads.join("")} />
      <path stroke-width="1.1" stroke-dasharray="2.6 1.6" d="M-9.5 -7H9.5M-12 -3.5H12M-12.5 0H12.5M-12 3.5H12M-9.5 7H9.5M0 -12V12M-5 -11V11M5 -11V11" />
    </>
  );
}

/** Rubbed round and round by a brush. */
function Rubbed() {
  const turns = Array.from({ length: 121 }, (_, i) => {
    const a = (i * 2 * Math.PI) / 32;
    const r = 1.2 + (i / 120) * 13 + 0.35 * Math.sin(2.7 * a);
    return `${f(r * Math.cos(a))},${f(r * Math.sin(a))}`;
  });
  return <><circle r="18" stroke-width="2.6" /><polyline stroke-width="1.4" stroke-linecap="round" points={turns.join(" ")} /></>;
}

const kShapes: Record<RindPicture, () => preact.JSX.Element> = {
  white: Nap,
  washed: Washed,
  grey: Grey,
  "washed grey": WashedGrey,
  // the print of the cloth
  smooth: () => <><circle r="17.5" /><path stroke-width="1.1" d="M-8 -8H8M-8 -4H8M-8 0H8M-8 4H8M-8 8H8M-8 -8V8M-4 -8V8M0 -8V8M4 -8V8M8 -8V8" /></>,
  // needle holes and short veins
  blue: () => <><circle r="17.5" /><path stroke-width="1.7" stroke-linecap="round" d="M-11 -6l4 -3l3 2M-5 2l5 -2l2 3l4 -1M4 -10l3 3M8 4l-2 4l3 2M-10 7l3 3l4 -1M-1 12l3 -3M9 -3l4 -1" /></>,
  wrinkled: Wrinkled,
  // a block under its brine
  brine: () => <><path stroke-width="1.5" stroke-linecap="round" d="M-20 -11q3.3 -4 6.7 0t6.7 0t6.6 0t6.7 0t6.7 0t6.6 0M-20 16q3.3 -3 6.7 0t6.7 0t6.6 0t6.7 0t6.7 0t6.6 0" /><path stroke-linejoin="round" d="M-12 -5L9 -6L12 10L-10 11Z" /></>,
  // the plait of the basket
  basket: () => <><circle r="17.5" /><path stroke-width="1.5" stroke-linejoin="round" d="M-11 -9l3.7 3.6l3.7 -3.6l3.6 3.6l3.7 -3.6l3.6 3.6l3.7 -3.6M-14.6 -1.5l3.6 3.6l3.7 -3.6l3.7 3.6l3.6 -3.6l3.7 3.6l3.6 -3.6l3.7 3.6l3.6 -3.6M-11 6l3.7 3.6l3.7 -3.6l3.6 3.6l3.7 -3.6l3.6 3.6l3.7 -3.6" /></>,
  cloth: Cloth,
  // thick, and broken open, not cut: grain and crystals
  hard: () => <><path stroke-width="2.4" stroke-linejoin="round" d="M16.2 -6.5L11 -4.6L8.2 -5.8L4.5 -1.8L1 -0.6L4.6 2L7.4 5.6L11.4 4.4L16.2 6.5A17.4 17.4 0 1 1 16.2 -6.5Z" /><path stroke-width="1.2" stroke-linecap="round" d="M-11 -7l2 1M-4 -11l1 2M3 -11.5l-1.5 1.6M-12.5 1.5l2.4 0M-6.5 -2.5l1.8 1.4M-9 8l2 -1.2M-3 4l1.6 1.8M-2.5 11.5l2 -0.4M5 11l-0.8 -2M-4.5 -5.5l2 -0.6" /></>,
  // a skin that ran before it was cold
  wax: () => <><path stroke-width="2.6" stroke-linejoin="round" d="M-15.5 4A16 16 0 1 1 15.5 4C14.5 8 12.5 9.5 11.5 11v5a2.3 2.3 0 0 1 -4.6 0v-1.6C4 16 1.5 16.2 0 16.2v4a2.2 2.2 0 0 1 -4.4 0v-4.5C-11 14 -14.5 9 -15.5 4Z" /><path stroke-width="1.5" stroke-linecap="round" d="M-10 -3A10.5 10.5 0 0 1 -1 -10" /></>,
  rubbed: Rubbed,
  // a thick coat round a thin rind
  coat: () => <><circle r="16" stroke-width="4.5" /><circle r="10.5" stroke-width="1.4" /></>,
};

// The families that come with the program.
const kFamilies: Record<string, RindPicture> = {
  "pressed-semi-hard": "smooth", "bloomy": "white", "lactic": "wrinkled", "brined": "brine", "natural-tomme": "grey", "washed-tomme": "washed grey", "washed-curd": "coat",
  "italian-style-pressed": "basket", "clothbound": "cloth", "hard-grating": "hard", "waxed": "wax", "washed-soft": "washed", "alpine": "rubbed",
  "blue": "blue",
};

/** Which picture a plan's rind has: its family's; of a keeper's own plan, what its rind and its cares make of it. */
export function pictureOf({ id, rind, cares }: Pick<PlanOffer, "id" | "rind" | "cares">): RindPicture {
  const known = kFamilies[id];
  if (known) return known;
  switch (rind) {
    case "fresh and white": return cares.includes("pat") ? "white" : "wrinkled";
    case "washed": return cares.includes("rub") ? "rubbed" : "washed";
    case "blue": return "blue";
    case "natural and pressed":
      if (cares.includes("bandage")) return "cloth";
      if (cares.includes("wax")) return "wax";
      if (cares.includes("coat")) return "coat";
      if (cares.includes("pat")) return "grey"; // a fur to lay flat, whatever else is done to it
      // pressed and washed in its first weeks shows the cloth, else it is left to grow
      return cares.includes("wash") ? "smooth" : cares.includes("oil") ? "basket" : "grey";
  }
}

export function RindDrawing({ picture }: { picture: RindPicture }) {
  const Shape = kShapes[picture];
  return <svg width="46" height="46" viewBox="-23 -23 46 46" aria-hidden="true" fill="none" stroke="var(--ink)" stroke-width="2"><Shape /></svg>;
}

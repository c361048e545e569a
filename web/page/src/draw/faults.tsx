// What can be seen, felt or smelt at a shelf: one drum from the side on its board, drawn as the hand or the eye meets it.
import type { JSX } from "preact";
import type { FaultWord } from "../api";

const kRound = { "stroke-linecap": "round", "stroke-linejoin": "round" } as const;

const Drum = () => <><ellipse cx="38" cy="17" rx="24" ry="7" /><path d="M14 17V36A24 7 0 0 0 62 36V17" /></>;

/** Branches over the edge and down the side. */
const Crack = () => <><Drum /><path {...kRound} stroke-width="2.6" d="M30 13L34 18L31 23L36 28L33 34L36 40M36 28L43 30L46 34M34 18L42 17" /></>;

/** Hangs from the edge. */
const Slime = () => (
  <>
    <Drum />
    <path {...kRound} fill="var(--ink)" fill-opacity=".28" d="M14 24C16 30 20 30 21 25C22 34 28 36 29 27C31 42 36 42 37 28C39 37 44 36 46 27C48 33 52 32 53 26C55 31 60 30 62 23" />
    <path {...kRound} d="M25 14.5h9M37 13.5h4" />
  </>
);

const kSpots = [[27, 28, 5], [47, 31, 3.6], [44, 16, 3]] as const;

/** Filled, with a halo of dots. */
function Spots() {
  return (
    <>
      <Drum />
      {kSpots.map(([x, y, r]) => (
        <g key={x} fill="var(--ink)">
          <ellipse cx={x} cy={y} rx={r} ry={r * 0.8} />
          {Array.from({ length: 8 }, (_, i) => (
            <circle key={i} cx={(x + (r + 2.6) * Math.cos((i * Math.PI) / 4)).toFixed(1)} cy={(y + (r * 0.8 + 2.6) * Math.sin((i * Math.PI) / 4)).toFixed(1)} r=".9" stroke="none" />
          ))}
        </g>
      ))}
    </>
  );
}

/** Domed over the dashed line that it should keep. */
const Bulge = () => (
  <>
    <path d="M14 20C14 4 62 4 62 20M14 20C9 26 9 32 14 37A24 7 0 0 0 62 37C67 32 67 26 62 20" />
    <path stroke="var(--ink-2)" stroke-dasharray="3 3" stroke-width="1.6" d="M14 20A24 6 0 0 0 62 20" />
    <path {...kRound} d="M38 2.5V-4M35 -1L38 -4.5L41 -1" />
  </>
);

// The grains of a heap, falling off to both sides of its middle; spread by the golden ratio, so that they look scattered.
const kDust = Array.from({ length: 46 }, (_, i) => {
  const along = ((i * 0.618034) % 1) * 2 - 1;
  const up = ((i * 0.754877) % 1) * 5.2 * (1 - Math.abs(along)) ** 1.5;
  return [(59 + along * 15).toFixed(1), (44.3 - up).toFixed(1)] as const;
});
const kPits = [[22, 26], [29, 33], [37, 27], [46, 34], [54, 27], [33, 16], [44, 18]] as const;

/** Pits, and a heap at the foot. */
const MiteDust = () => (
  <>
    <Drum />
    <path {...kRound} stroke-width="2.4" d={kPits.map(([x, y]) => `M${x} ${y}l2 1.5`).join("")} />
    <g fill="var(--ink)" stroke="none">{kDust.map(([x, y]) => <circle key={x} cx={x} cy={y} r="1.1" />)}</g>
  </>
);

/** Slumped to one side. */
const Soft = () => (
  <>
    <path d="M12 22C12 12 40 9 58 20C66 25 70 38 71 41C60 47 24 47 15 42C11 37 12 28 12 22Z" />
    <path d="M12 22C20 32 50 33 60 22" />
    <path stroke-width="1.6" d="M56 30q5 3 6 9M50 34q4 2 5 7" />
  </>
);

const kThreads = [[19, 28, 1], [28, 30.5, -1], [38, 31, 0.6], [48, 30.5, 1], [57, 28, -1]] as const;

/** Threads from wheel to board. */
const Sticks = () => (
  <>
    <ellipse cx="38" cy="10" rx="24" ry="7" /><path d="M14 10V24A24 7 0 0 0 62 24V10" />
    <path stroke-width="1.7" d={kThreads.map(([x, y, d]) => `M${x} ${y}Q${x + d} ${(y + 45) / 2} ${x - d} 44.5`).join("")} />
  </>
);

/** Waves and a nose. */
const Smell = () => (
  <>
    <ellipse cx="27" cy="24" rx="20" ry="6" /><path d="M7 24V38A20 6 0 0 0 47 38V24" />
    <path {...kRound} d="M16 14q-4 -5 0 -9t0 -9M28 13q-4 -5 0 -9t0 -8" />
    <path {...kRound} stroke-width="2.2" d="M60 -5C60 6 51 9 49 14C48 18 53 19 57 17C60 19 64 18 66 15" />
  </>
);

/** A wheel and a question mark: none of the others. */
const Unknown = () => <><Drum /><path {...kRound} d="M33 26C33 21 43 21 43 26C43 30 38 29 38 34M38 37.5V38" /></>;

const kShapes: Record<FaultWord, () => JSX.Element> = {
  "crack": Crack, "slime": Slime, "blue spot": Spots, "bulge": Bulge, "mite dust": MiteDust, "soft": Soft, "sticks": Sticks,
  "smell": Smell, "something else": Unknown,
};

/** Those that stand in the grid, in its order; "something else" is a word below it. */
export const kPictured = ["crack", "slime", "blue spot", "bulge", "mite dust", "soft", "sticks", "smell"] as const satisfies FaultWord[];

export function FaultDrawing({ what, size = 1 }: { what: FaultWord; size?: number }) {
  const Shape = kShapes[what];
  return (
    <svg width={80 * size} height={58 * size} viewBox="-2 -7 80 58" aria-hidden="true" fill="none" stroke="var(--ink)" stroke-width="2">
      <Shape />
      <path d="M4 45.5H72" stroke="var(--rule-2)" stroke-width="3" />
    </svg>
  );
}

// The small marks of the book.
import type { CaveStateWord } from "../api";

interface StateProps {
  state: CaveStateWord;
  side?: -1 | 0 | 1; // where it leaves: cold or dry on the left, warm or damp on the right
  size?: number;
}

/** Where the bead stands against the two rails of the band: the ribbon, cut across. */
export function StateGlyph({ state, side = 1, size = 1 }: StateProps) {
  const out = state === "out of band";
  const ink = out ? "var(--red)" : "var(--ink)";
  const width = out ? 29 : 20;
  const mirror = side < 0 ? `matrix(-1 0 0 1 ${width} 0)` : undefined;
  return (
    <svg width={width * size} height={16 * size} viewBox={`0 0 ${width} 16`} aria-hidden="true" fill="none" stroke={ink} stroke-width="2">
      <g transform={mirror}>
        {state === "not watched"
          ? <path d="M4 8H18" />
          : <path d="M4 0V16M18 0V16" stroke-dasharray={state === "unknown" ? "2.7 2" : undefined} />}
        {state === "in band" && <circle cx="11" cy="8" r="3.4" fill={ink} stroke="none" />}
        {state === "drifting" && <path d="M6 8H11" stroke-dasharray="2 1.6" />}
        {state === "drifting" && <circle cx="13.9" cy="8" r="3.4" fill={ink} stroke="none" />}
        {out && <path d="M10 8H20" stroke-width="3" />}
        {out && <circle cx="23.5" cy="8" r="5" fill={ink} stroke="none" />}
      </g>
      {state === "unknown" && (
        <path d="M8.3 5.6C8.3 2 13.7 2 13.7 5.4C13.7 7.5 11 7.6 11 10.2M11 12.4V14.6" stroke-width="1.9" />
      )}
    </svg>
  );
}

/** Hooked arrow: brought forward. */
export function LateGlyph() {
  return (
    <svg width="16" height="16" aria-hidden="true" fill="none" stroke="var(--ink)" stroke-width="2">
      <path d="M3 0V10H13M9 6L13 10L9 14" />
    </svg>
  );
}

/** An arrow under a bar: not sent yet. */
export function WaitGlyph() {
  return (
    <svg width="16" height="16" aria-hidden="true" fill="none" stroke="var(--hand)" stroke-width="2">
      <path d="M2 2H14M8 16V6M4 10L8 6L12 10" />
    </svg>
  );
}

export function TurnedKey() {
  return <svg width="14" height="12" aria-hidden="true"><path d="M1 6h10" stroke="var(--hand)" stroke-width="2" /></svg>;
}

export function WashedKey() {
  return <svg width="14" height="12" aria-hidden="true"><circle cx="6" cy="6" r="3" fill="var(--hand)" /></svg>;
}

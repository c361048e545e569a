// Small drawings of the helper's sheet: what is normal on a lid, and what is a reason to ring.
import type { ComponentChildren } from "preact";

const Drum = ({ children, class: name = "" }: { children: ComponentChildren; class?: string }) => (
  <svg class={name} width="92" height="67" viewBox="-2 -7 80 58" fill="none" stroke="var(--ink)" stroke-width="2" aria-hidden="true">
    {children}
    <path d="M4 45.5H72" stroke="var(--rule-2)" stroke-width="3" />
  </svg>
);

const Wheel = () => <><ellipse cx="38" cy="17" rx="24" ry="7" /><path d="M14 17V36A24 7 0 0 0 62 36V17" /></>;

export function Swollen() {
  return (
    <Drum>
      <path d="M14 20C14 4 62 4 62 20M14 20C9 26 9 32 14 37A24 7 0 0 0 62 37C67 32 67 26 62 20" />
      <path stroke="var(--ink-2)" stroke-dasharray="3 3" stroke-width="1.6" d="M14 20A24 6 0 0 0 62 20" />
      <path stroke-linecap="round" d="M38 2V-4M35 -1L38 -4.5L41 -1" />
    </Drum>
  );
}

export function Slimy() {
  return (
    <Drum>
      <Wheel />
      <path stroke-linejoin="round" fill="var(--ink)" fill-opacity=".25" d="M14 24C16 31 20 31 22 25C23 34 28 36 30 27C31 41 36 41 38 28C40 37 45 36 47 27C49 33 53 32 54 26C56 31 60 30 62 23" />
    </Drum>
  );
}

const Spot = ({ x, y, r }: { x: number; y: number; r: number }) => (
  <>
    <ellipse cx={x} cy={y} rx={r} ry={r * 0.8} fill="var(--ink)" />
    {Array.from({ length: 8 }, (_, i) => <circle key={i} cx={x + (r + 2.6) * Math.cos((i * Math.PI) / 4)} cy={y + (r + 2) * Math.sin((i * Math.PI) / 4)} r=".9" fill="var(--ink)" stroke="none" />)}
  </>
);

export const Spots = () => <Drum><Wheel /><Spot x={27} y={28} r={5} /><Spot x={47} y={31} r={3.6} /><Spot x={44} y={16} r={2.8} /></Drum>;

export const Fridge = () => (
  <svg width="88" height="67" viewBox="0 -7 78 58" fill="none" stroke="var(--ink)" stroke-width="2" aria-hidden="true"><path d="M14 -2H50V46H14ZM50 -2L68 6V52L50 46" /><path d="M62 26v6" stroke-width="3" /></svg>
);

export const Drops = () => (
  <svg width="46" height="46" viewBox="-23 -23 46 46" fill="none" stroke="var(--ink)" stroke-width="2" aria-hidden="true"><path d="M-20 -12H20" stroke-width="3" /><path d="M-12 -9q-4 7 0 8q4 -1 0 -8M0 -9q-5 9 0 10q5 -1 0 -10M12 -9q-4 6 0 7q4 -1 0 -7" /></svg>
);

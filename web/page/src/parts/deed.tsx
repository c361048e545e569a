// A deed stands on the foot, between two rules of hand ink.
import type { ComponentChildren } from "preact";

/** One deed, to sign with one tap. */
export function Deed({ verb, low, tap, off }: { verb: string; low?: string; tap: () => void; off?: boolean }) {
  return (
    <button class="deed" type="button" onClick={tap} disabled={off}>
      <span class="sign" />
      <span>
        <span class="verb">{verb}</span>
        {low && <span class="low">{low}</span>}
      </span>
    </button>
  );
}

/** What was just signed, and what can still be done with it. */
export function DeedBar({ of, label, children, count }: { of: ComponentChildren; label: string; children: ComponentChildren; count: number }) {
  const width = count === 1 ? "one" : count === 3 ? "three" : "";
  return (
    <div class={`deed two ${width}`} role="status" aria-label={label}>
      <span class="of">{of}</span>
      {children}
    </div>
  );
}

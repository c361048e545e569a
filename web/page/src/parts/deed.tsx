// A deed stands on the foot, between two rules of hand ink.
import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";
import { iAm, unsigned, useAsked } from "../house/keeper";
import { t } from "../words";

/** Asked before anything is signed where there are several keepers; then the deed stands there. */
function WhoSigns({ keepers }: { keepers: string[] }) {
  return (
    <div class={`deed two ${keepers.length % 3 === 0 ? "three" : ""}`} role="region" aria-label={t("keeper.who")}>
      <span class="of"><b>{t("keeper.who")}</b></span>
      {keepers.map((name) => <button key={name} type="button" onClick={() => iAm(name)}>{name}</button>)}
    </div>
  );
}

/** What signs, once it is known whose phone this is. */
export function Signed({ children }: { children: ComponentChildren }) {
  const asked = useAsked();
  return asked.length > 0 ? <WhoSigns keepers={asked} /> : <>{children}</>;
}

/** Asked after a tap that nobody has signed: it stands on the foot instead of what was there, until the place is left. */
export function AskedFirst({ keepers }: { keepers: string[] }) {
  useEffect(() => () => unsigned.set(undefined), []);
  return <WhoSigns keepers={keepers} />;
}

/** One deed, to sign with one tap. `named`: what is signed says by whom, or is asked by whom on the tap, so that the deed
    itself always stands there. */
export function Deed({ named = false, ...deed }: { verb: string; low?: string; tap: () => void; off?: boolean; named?: boolean }) {
  return named ? <DeedButton {...deed} /> : <Signed><DeedButton {...deed} /></Signed>;
}

function DeedButton({ verb, low, tap, off }: { verb: string; low?: string; tap: () => void; off?: boolean }) {
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

// Figures that are set by two words, lower and higher, never by a slider: a wet glove hits them.
import type { Span } from "../../api";
import { Stepper } from "../../parts/cells";
import { Entry } from "../../parts/leaf";
import { t } from "../../words";

interface StepsProps {
  label: string;
  value: number;
  unit?: string;
  step?: number;
  least?: number;
  most?: number;
  say: (value: number) => void;
}

const tidy = (value: number) => Math.round(value * 1000) / 1000;
const shown = (value: number) => String(tidy(value)).replace("-", "−");

export function NumberSteps({ label, value, unit = "", step = 1, least = -1000, most = 1000, say }: StepsProps) {
  const set = (next: number) => say(tidy(Math.max(least, Math.min(most, next))));
  return (
    <Entry class="full" m={<span class="note strong">{label}</span>}>
      <Stepper less={t("steps.lower")} more={t("steps.higher")} onLess={() => set(value - step)} onMore={() => set(value + step)}><b>{shown(value)}</b> {unit}</Stepper>
    </Entry>
  );
}

/** From and to; the one never passes the other. */
export function SpanSteps({ value, unit, step, least, most, say }: { value: Span; unit: string; step: number; least?: number; most?: number; say: (value: Span) => void }) {
  const of = (low: number, high: number): Span => ({ low, high });
  const ends = { unit, step, ...(least === undefined ? {} : { least }), ...(most === undefined ? {} : { most }) };
  return (
    <>
      <NumberSteps {...ends} label={t("steps.from")} value={value.low} say={(low) => say(of(low, Math.max(low, value.high)))} />
      <NumberSteps {...ends} label={t("steps.to")} value={value.high} say={(high) => say(of(Math.min(high, value.low), high))} />
    </>
  );
}

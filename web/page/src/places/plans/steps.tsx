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

interface SpanProps { value: Span; unit: string; step: number; least?: number; most?: number; apart?: number; say: (value: Span) => void }

/** From and to; the one never passes the other, and stays `apart` from it. */
export function SpanSteps({ value, unit, step, least = -1000, most = 1000, apart = 0, say }: SpanProps) {
  const from = (low: number) => say({ low, high: Math.max(tidy(low + apart), value.high) });
  const to = (high: number) => say({ low: Math.min(tidy(high - apart), value.low), high });
  return (
    <>
      <NumberSteps unit={unit} step={step} least={least} most={tidy(most - apart)} label={t("steps.from")} value={value.low} say={from} />
      <NumberSteps unit={unit} step={step} least={tidy(least + apart)} most={most} label={t("steps.to")} value={value.high} say={to} />
    </>
  );
}

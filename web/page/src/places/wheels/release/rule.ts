// A rule for the qualifying age as its keeper types it, and the rule that comes of it. Pure.
import type { QualifyingRule, StartWord, WheelStateWord } from "../../../api";
import { figureOf } from "../../../parts/write";

export interface RuleDraft {
  name: string;
  start: StartWord;
  degrees: string;    // of Celsius, or "35 °F"; empty: any temperature
  days: string;       // so many, or months
  months: boolean;    // by the calendar, where the law says months
  not_counting: WheelStateWord[];
  vouching: boolean;
}

export const kBlank: RuleDraft = { name: "", start: "made", degrees: "", days: "", months: false, not_counting: [], vouching: false };

/** The published rule of the United States for cheese of raw milk, 21 CFR part 133: held at not less than 35 °F, which
    is 5/3 °C to the letter, for not less than 60 days. It knows no vouching. */
export const kPublished: RuleDraft = { ...kBlank, name: "21 CFR 133: 60 days at 35 °F or more", degrees: "35 °F", days: "60" };

export const draftOf = (rule: QualifyingRule): RuleDraft => ({
  name: rule.name, start: rule.start, degrees: rule.min_celsius === undefined ? "" : degreesText(rule.min_celsius), days: String(rule.min_months ?? rule.min_days), months: rule.min_months !== undefined,
  not_counting: rule.not_counting, vouching: rule.vouching,
});

/** What is wanting before it can be signed. */
export function wanting(draft: RuleDraft): "days" | "degrees" | undefined {
  const days = figureOf(draft.days);
  if (days === undefined || !Number.isInteger(days) || days > 3650) return "days";
  if (draft.degrees.trim() !== "" && celsiusOf(draft.degrees) === undefined) return "degrees";
  return undefined;
}

/** As the law prints them: whole degrees of Fahrenheit are no round figure of Celsius. */
function degreesText(celsius: number): string {
  const fahrenheit = (celsius * 9) / 5 + 32;
  return Number(celsius.toFixed(2)) === celsius ? String(celsius) : `${Number(fahrenheit.toFixed(2))} °F`;
}

/** "1.7", "1,7" or "35 °F"; none: no temperature of a cellar. */
function celsiusOf(text: string): number | undefined {
  const [, figure, unit] = /^(-?\d+(?:[.,]\d+)?)\s*(°?\s*[fc])?$/i.exec(text.trim()) ?? [];
  if (figure === undefined) return undefined;
  const value = Number(figure.replace(",", "."));
  const celsius = /f/i.test(unit ?? "") ? ((value - 32) * 5) / 9 : value;
  return celsius >= -5 && celsius <= 40 ? celsius : undefined;
}

export function ruleOf(draft: RuleDraft, named: (draft: RuleDraft, count: number, degrees: number | undefined) => string): QualifyingRule | undefined {
  if (wanting(draft)) return undefined;
  const count = figureOf(draft.days)!;
  const min_celsius = celsiusOf(draft.degrees);
  return {
    name: draft.name.trim() || named(draft, count, min_celsius), start: draft.start, min_days: draft.months ? 0 : count, not_counting: draft.not_counting, vouching: draft.vouching,
    ...(draft.months ? { min_months: count } : {}), ...(min_celsius === undefined ? {} : { min_celsius }),
  };
}

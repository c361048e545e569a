// The words of the page, one file a language. A text holds {placeholders}; plural forms are keys ending in .one, .other.
import words from "../../words/en.json";

export type WordKey = keyof typeof words;
type PluralStem<K> = K extends `${infer Stem}.other` ? Stem : never;
export type PluralKey = PluralStem<WordKey>;
export type Values = Record<string, string | number>;

const table: Record<string, string> = words;
const rules = new Intl.PluralRules("en");

// What is measured in them never stands on another line than its figure, and no span and no date is broken within.
const kFigure = /([\d½+]) (?=(?:°C|%|ppm|kg|g|mL|L|h|min)(?![\p{L}\d-]))/gu;
const kSpan = /(\d\u00a0h|\bdays?) (?=\d+\u00a0(?:min|h)(?![\p{L}\d-]))/gu;
const kDate = /\b(\d{1,2}) (?=(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec|January|February|March|April|June|July|August|September|October|November|December)\b)/g;
const kDay = /\b(Mon|Tue|Wed|Thu|Fri|Sat|Sun) (?=\d)/g;
// "2 to 3", no hours on the wall and no dates: those are too long for a margin.
const kRange = /(?<![\d:.])(\d{1,2}(?:\.\d)?) to (?=\d{1,2}(?:\.\d)?(?![\d:.]|\u00a0\p{Lu}))/gu;

/** The same text with its figures and their units, its spans and its dates kept together. */
export const unbroken = (text: string): string => [kFigure, kSpan, kDate, kDay].reduce((whole, within) => whole.replace(within, "$1\u00a0"), text).replace(kRange, "$1\u00a0to\u00a0");

/** A name that is not broken at its hyphen: "semi-hard". The joiner is no letter, so that a search still finds it. */
export const whole = (name: string): string => name.replace(/(\p{L})-(?=\p{L})/gu, "$1-\u2060");

/** The text for a key with its placeholders filled. An unknown key shows itself, so that nothing is silently empty. */
export function t(key: WordKey, values: Values = {}): string {
  const text = table[key] ?? key;
  return unbroken(text.replace(/\{(\w+)\}/g, (all, name: string) => (name in values ? String(values[name]) : all)));
}

/** The same in the form that the count asks for; {count} and {number} ("Five") are filled. */
export function many(key: PluralKey, count: number, values: Values = {}): string {
  const form = `${key}.${rules.select(count)}`;
  const chosen = (form in table ? form : `${key}.other`) as WordKey;
  return t(chosen, { count, number: numberWord(count), ...values });
}

/** What so many of something are called: "6 bloomies". A name without a plural of its own keeps its form: "6 blue". */
export function named(stem: "family", name: string, count: number): string {
  return table[`${stem}.${name}.${rules.select(count)}`] ?? name;
}

/** Small counts as words, as in a book; larger ones as figures. */
export function numberWord(count: number): string {
  return table[`count.${count}`] ?? String(count);
}

/** The first letter large, for a word that opens a sentence. */
export function opening(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

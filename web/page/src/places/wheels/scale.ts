// What a scale says. Pure.

const kKilos = 50; // a figure below this is kilograms: no wheel weighs 49 grams and none 50 kilograms and more in grams

/** What a keeper means by a figure on a scale. */
export const gramsOf = (figure: number): number => Math.round(figure < kKilos ? figure * 1000 : figure);

/** By how much of its weight at the start a wheel is lighter now, in percent. */
export function lost(first: number | undefined, last: number | undefined): number | undefined {
  return first === undefined || last === undefined || first <= 0 ? undefined : (1 - last / first) * 100;
}

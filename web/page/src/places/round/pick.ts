// Wheels of a shelf that are picked by their number from the door. Pure.

export const kPictured = 25; // above it by count alone: nobody counts to thirty with a wet glove
export const kRow = 5;

export interface Spot { wheel: number; number: number }

export function spotsOf({ wheels, numbers }: { wheels: number[]; numbers: number[] }): Spot[] {
  return wheels.map((wheel, i) => ({ wheel, number: numbers[i] ?? i + 1 })).sort((a, b) => a.number - b.number);
}

/** Five to a row, as they are counted. */
export function rowsOf(spots: Spot[]): Spot[][] {
  return Array.from({ length: Math.ceil(spots.length / kRow) }, (_, i) => spots.slice(i * kRow, (i + 1) * kRow));
}

export const toggled = (picked: number[], wheel: number) => (picked.includes(wheel) ? picked.filter((w) => w !== wheel) : [...picked, wheel]);

/** One more without saying which: the farthest from the door that is not picked yet. */
export function oneMore(picked: number[], spots: Spot[]): number[] {
  const next = [...spots].reverse().find((spot) => !picked.includes(spot.wheel));
  return next ? [...picked, next.wheel] : picked;
}

/** One fewer: the last one picked. */
export const oneFewer = (picked: number[]) => picked.slice(0, -1);

/** "2, 6, 7"; in a long row "2, 6 to 9". */
export function numbersSaid(numbers: number[], to: (low: number, high: number) => string): string {
  const sorted = [...numbers].sort((a, b) => a - b);
  const runs: [number, number][] = [];
  for (const number of sorted) {
    const last = runs[runs.length - 1];
    if (last && number === last[1] + 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.flatMap(([low, high]) => (high - low > 1 ? [to(low, high)] : low === high ? [String(low)] : [String(low), String(high)])).join(", ");
}

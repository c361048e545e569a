// What to bring, in words. Pure.
import type { Bring } from "../../api";
import { listed } from "../../figures";
import { many, t } from "../../words";

type Wash = Bring["washes"][number];

/** 3.5, 16: a scale in a kitchen knows no more. */
const amount = (value: number) => String(value < 10 ? Math.round(value * 10) / 10 : Math.round(value));

/** "16 g salt in 500 mL"; without salt "500 mL". */
export function mixing(wash: Wash): string {
  const millilitres = t("bring.ml", { ml: amount(wash.water_ml) });
  return wash.salt_grams > 0 ? t("bring.salt", { salt: amount(wash.salt_grams), water: millilitres }) : millilitres;
}

const additions = (wash: Wash) => wash.additions.map((a) => t("bring.addition", { ml: amount(a.ml), name: a.name }));

const kMostPlaces = 3;

/** "B1", "B1, B2", "B1 to B6": where its wheels lie, in working order. */
function placesOf(wash: Wash): string {
  const places = [...new Set(wash.places)];
  return places.length <= kMostPlaces ? listed(places) : t("span", { low: places[0]!, high: places[places.length - 1]! });
}

export interface BringPart { times: string; strong: string; rest: string }

const forWhom = (mixing: string, group: Wash[]) => (group.length > 0 ? t("bring.for", { mixing, places: listed(group.map(placesOf)) }) : mixing);

/** Each mixing, those alike said once: twice, "16 g salt in 500 mL", "water"; for whom, where there are others that could
    be taken for them. */
export function washParts(washes: Wash[]): BringPart[] {
  const alike = new Map<string, Wash[]>();
  for (const wash of washes) {
    const key = [mixing(wash), ...additions(wash)].join();
    alike.set(key, [...(alike.get(key) ?? []), wash]);
  }
  return [...alike.values()].map((group) => ({
    times: group.length === 1 ? "" : group.length === 2 ? t("bring.twice") : t("bring.times", { count: group.length }),
    strong: mixing(group[0]!),
    rest: forWhom(listed([t("bring.water"), ...additions(group[0]!)]), alike.size > 1 ? group : []),
  }));
}

/** "3 cloths, soft brush, mask" */
export function toolWords(bring: Bring): string {
  return listed([
    ...(bring.cloths > 0 ? [many("bring.cloths", bring.cloths).replace(" ", "\u00a0")] : []),
    ...bring.tools.map((tool) => t(`tool.${tool}`)),
    ...(bring.mask ? [t("bring.mask")] : []),
  ]);
}

export const bringsNothing = (bring: Bring) => bring.washes.length === 0 && toolWords(bring) === "" && !bring.two_people;

/** The whole of it as one text, for paper. */
export function bringText(bring: Bring): string {
  const washes = washParts(bring.washes).map((w) => [w.times, w.strong, w.rest].filter(Boolean).join(" ").replace(t("bring.water"), t("bring.boiled")));
  return [...washes, toolWords(bring), bring.two_people && t("bring.two people")].filter(Boolean).join("; ");
}

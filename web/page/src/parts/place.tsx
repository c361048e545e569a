// The name of a place in the margin, with the ring of its wheels. A long name stands on lines of its own, broken between
// its words and never inside one that fits; the ring goes below it.
import type { ComponentChildren } from "preact";

const kBeside = 6; // letters up to which the ring stands beside the name
const kLine = 9;   // letters of one word that fit the margin at 15 px

export const isLong = (place: string) => place.length > kBeside;

export function placeLook(place: string): string {
  const longest = Math.max(...place.split(/\s+/).map((word) => word.length));
  return ["place", place.length > 4 && "long", isLong(place) && "wrap", longest > kLine && "tiny"].filter(Boolean).join(" ");
}

export function Place({ place, ring }: { place: string; ring?: ComponentChildren }) {
  if (!isLong(place)) return <span class={placeLook(place)}>{place}{ring}</span>;
  return <><span class={placeLook(place)}>{place}</span>{ring && <span class="ringrow">{ring}</span>}</>;
}

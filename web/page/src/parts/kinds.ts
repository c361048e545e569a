// What kinds of alarm have in common.
import type { AlarmWord, EndingWord } from "../api";

export const isHumid = (kind: AlarmWord) => kind === "too dry" || kind === "too damp";

/** Judged by the mean of the air against a band: it has a value, an extreme and a dose. */
export const isOfAir = (kind: AlarmWord) => kind === "too warm" || kind === "too cold" || isHumid(kind);

/** People breathe it. */
export const isGas = (kind: AlarmWord) => kind === "carbon dioxide" || kind === "ammonia";

/** While it lasts nothing is known of the air. */
export const isBlind = (kind: AlarmWord) => kind === "probe silent" || kind === "probe stuck" || kind === "probe wet" || kind === "power gone" || kind === "unwatched";

/** Over only because nobody judges it any more: it may be as it was. */
export const isUnjudged = ({ ending }: { ending?: EndingWord }) =>
  ending === "struck" || ending === "taken down" || ending === "asked otherwise" || ending === "not known";

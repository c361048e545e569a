// What kinds of alarm have in common.
import type { AlarmWord } from "../api";

export const isHumid = (kind: AlarmWord) => kind === "too dry" || kind === "too damp";

/** Judged by the mean of the air against a band: it has a value, an extreme and a dose. */
export const isOfAir = (kind: AlarmWord) => kind === "too warm" || kind === "too cold" || isHumid(kind);

/** People breathe it. */
export const isGas = (kind: AlarmWord) => kind === "carbon dioxide" || kind === "ammonia";

/** While it lasts nothing is known of the air. */
export const isBlind = (kind: AlarmWord) => kind === "probe silent" || kind === "probe stuck" || kind === "probe wet" || kind === "power gone" || kind === "unwatched";

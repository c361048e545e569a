import { useCell } from "../cell";
import { tick } from "../clock";
import type { Entry } from "../queue/entry";
import { queue } from "./acts";

/** All that this phone has tapped and still remembers. */
export const useEntries = (): Entry[] => useCell(queue.entries);
/** Draws again as the hour goes on. */
export const useTick = (): number => useCell(tick);

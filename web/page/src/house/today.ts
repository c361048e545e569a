// The keeper's day now, by the house.
import type { Caves, Day } from "../api";
import { useCell } from "../cell";
import { head, useAnswer, type Answer } from "./answers";

/** The day of the newest answer; asks for one where none has come yet. */
export function useToday(): { day: Day | undefined; answer: Answer<Caves> } {
  const answer = useAnswer<Caves>("/api/caves");
  return { day: useCell(head)?.day, answer };
}

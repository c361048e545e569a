// What the ring of a wheel tells besides how far it is.
import type { Wheel } from "../../api";
import type { Marks } from "../../draw/rings";
import { t } from "../../words";

/** The same in words, and that it may go. */
export const saidWords = (wheel: Wheel): string[] =>
  [wheel.held && t("wheels.said.held"), wheel.left < 1 && t("wheels.said.cut"), wheel.state === "released" && t("wheels.said.released")].filter((word): word is string => typeof word === "string");

export const saidOf = (wheel: Wheel): Marks => ({ marked: wheel.marks.length > 0, held: wheel.held !== undefined, cut: wheel.left < 1 });

// What the ring of a wheel tells besides how far it is.
import type { Wheel } from "../../api";
import type { Marks } from "../../draw/rings";

export const saidOf = (wheel: Wheel): Marks => ({ marked: wheel.marks.length > 0, held: wheel.held !== undefined, cut: wheel.left < 1 });

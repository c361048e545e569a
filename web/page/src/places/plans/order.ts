// Families as the round takes their rinds: fresh and white first, blue last. Pure.
import type { PlanOffer, RindWord } from "../../api";

const kRinds: RindWord[] = ["fresh and white", "natural and pressed", "washed", "blue"];

export function inRindOrder(plans: PlanOffer[]): { rind: RindWord; plans: PlanOffer[] }[] {
  return kRinds.map((rind) => ({ rind, plans: plans.filter((p) => p.rind === rind) })).filter((group) => group.plans.length > 0);
}

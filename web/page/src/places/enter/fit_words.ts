// Who would not suit whom, in words. Pure.
import type { Day, FitCost } from "../../api";
import { spoken } from "../../figures";
import { dateWord, kinOf } from "../../parts/names";
import { many, t } from "../../words";

const whose = (c: FitCost) => ({ family: kinOf(c.family, c.count), where: spoken(c.where), what: c.what });

/** "For the washed rind in Box 3 it is 1 degree too warm." */
export const costWords = (c: FitCost): string => (c.newcomer ? t("enter.fit.cost new", { what: c.what }) : many("enter.fit.cost", c.count, whose(c)));
/** "From 12 Jan on it is 2 degrees too cold for yours." */
export const laterWords = (c: FitCost & { from: Day }, today: Day): string => {
  const day = dateWord(c.from, today);
  return c.newcomer ? t("enter.fit.later new", { day, what: c.what }) : many("enter.fit.later", c.count, { ...whose(c), day });
};

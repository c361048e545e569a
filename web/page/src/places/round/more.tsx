// Below the lines: what else can be done with the round, a word each.
import { iAm } from "../../house/keeper";
import { WordButton } from "../../parts/leaf";
import { t } from "../../words";

export function More({ me }: { me: string }) {
  if (!me) return null;
  return <div class="noprint"><WordButton tap={() => iAm("")}>{t("keeper.signs", { keeper: me })}</WordButton></div>;
}

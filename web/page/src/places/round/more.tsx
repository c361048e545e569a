// Below the lines: what else can be done at a shelf or with the round, a word each.
import { iAm } from "../../house/keeper";
import { WordButton, WordLink } from "../../parts/leaf";
import { t } from "../../words";
import { BackHome } from "../away/back_home";

interface Props { left: number; keepers: string[]; me: string; little: boolean }

export function More({ left, keepers, me, little }: Props) {
  const margin = (word: string) => <span class="strong">{word}</span>;
  return (
    <div class="noprint">
      {(left > 1 || little) && <WordLink m={margin(t("more.time"))} href="/short">{t(little ? "more.short again" : "more.short")}</WordLink>}
      <WordLink m={margin(t("more.shelf"))} href="/fault">{t("more.fault")}</WordLink>
      <WordLink href="/did">{t("more.did")}</WordLink>
      <WordLink m={margin(t("more.paper"))} href="/paper">{t("more.sheet")}</WordLink>
      <WordLink href="/paper/back">{t("more.back")}</WordLink>
      <WordLink m={margin(t("more.ahead"))} href="/ahead">{t("wheels.list ahead")}</WordLink>
      <WordLink href="/away">{t("away.go")}</WordLink>
      <BackHome />
      {keepers.length > 1 && <WordLink m={margin(t("more.two"))} href="/share">{t("more.share")}</WordLink>}
      {me && <WordButton tap={() => iAm("")}>{t("keeper.signs", { keeper: me })}</WordButton>}
    </div>
  );
}

// A place that could not be drawn.
import { Book } from "../parts/book";
import { Entry, WordButton } from "../parts/leaf";
import { t } from "../words";

export function Broken({ what }: { what: string }) {
  return (
    <Book title={t("page.broken")}>
      <section class="leaf">
        <Entry class="head heavy"><h1 class="say">{t("page.broken")}</h1><p class="note">{t("page.broken.low")}</p></Entry>
        <Entry><span class="note">{what}</span></Entry>
        <WordButton tap={() => location.reload()}>{t("house.again")}</WordButton>
      </section>
    </Book>
  );
}

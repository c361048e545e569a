// What a place shows before its first answer, or when there is none.
import { Book, Notices, type PlaceWord } from "../parts/book";
import { Entry, WordButton } from "../parts/leaf";
import { useCutOff } from "../parts/troubles";
import { ask, type Answer } from "../house/answers";
import { t } from "../words";

interface Props {
  place: PlaceWord;
  path: string;
  answer: Answer<unknown>;
}

export function Waiting({ place, path, answer }: Props) {
  const cut = useCutOff();
  const said = answer.missing ? t("house.lost") : answer.error ? t("house.error", { what: answer.error }) : cut || t("house.asking");
  return (
    <Book place={place} title={t(`place.${place}`)} class="asking">
      <section class="leaf">
        <Entry class="head heavy"><h1 class="say">{said}</h1></Entry>
        <Notices />
        {(answer.error !== undefined || cut) && <WordButton tap={() => void ask(path)}>{t("house.again")}</WordButton>}
      </section>
    </Book>
  );
}

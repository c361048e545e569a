// The shelves of a cave in the order in which its keeper walks along them.
import type { Settings } from "../../api";
import { queue } from "../../house/acts";
import { signed } from "../../house/keeper";
import { Entry, GroupHead } from "../../parts/leaf";
import { t } from "../../words";
import { swapped } from "./over";

export function Shelves({ cave }: { cave: Pick<Settings["caves"][number], "id" | "shelves"> }) {
  if (cave.shelves.length < 2) return null;
  return (
    <>
      <GroupHead b={t("settings.walking order")} />
      {cave.shelves.map((shelf, i) => (
        <Entry key={shelf} class="pick" m={<span class="strong">{i + 1}</span>}>
          <span class="pairwords"><span class="word">{shelf}</span>
            {i > 0 && <button type="button" class="tap back" onClick={() => signed(() => void queue.add({ kind: "order", cave: cave.id, shelves: swapped(cave.shelves, i - 1) }))}>{t("settings.earlier")}<span class="sr"> {shelf}</span></button>}</span>
        </Entry>
      ))}
    </>
  );
}

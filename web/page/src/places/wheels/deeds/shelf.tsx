// A shelf: one of those that the cave has, or a new name.
import type { Settings } from "../../../api";
import { useAnswer } from "../../../house/answers";
import { Cells } from "../../../parts/cells";
import { Entry, GroupHead } from "../../../parts/leaf";
import { WriteLine } from "../../../parts/write";
import { t } from "../../../words";

export function ShelfChoice({ cave, shelf, say }: { cave: number | undefined; shelf: string; say: (name: string) => void }) {
  const settings = useAnswer<Settings>("/api/settings").value;
  const shelves = settings?.caves.find((c) => c.id === cave)?.shelves ?? [];
  return (
    <>
      {shelves.length > 0 && (
        <>
          <GroupHead b={t("move.which shelf")} />
          <Entry class="full"><Cells columns={3} choices={shelves.map((name) => ({ value: name, word: name }))} chosen={shelf} choose={(name) => say(name === shelf ? "" : name)} /></Entry>
        </>
      )}
      <WriteLine id="shelf" label={t("move.shelf")} hint={t(shelves.length > 0 ? "move.shelf.other" : "move.shelf.hint")} value={shelf} say={say} most={20} />
    </>
  );
}

// What a keeper handles besides the wheels: who keeps, in which order the caves are walked, care days, the calendar.
import { useState } from "preact/hooks";
import type { Settings } from "../../api";
import { addDays, weekdayDate, weekdayShort } from "../../days";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { queue } from "../../house/acts";
import { signed } from "../../house/keeper";
import { Book, Notices } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Entry, GroupHead, TitleHead, WordButton, WordLink } from "../../parts/leaf";
import { WriteLine } from "../../parts/write";
import { many, t } from "../../words";
import { Waiting } from "../waiting";
import { Feed } from "./feed";
import { overSettings, swapped, toggled } from "./over";
import { Shelves } from "./shelves";

export const kSettingsPath = "/api/settings";
type CaveSettings = Settings["caves"][number];

export function SettingsPlace() {
  const answer = useAnswer<Settings>(kSettingsPath);
  const entries = useEntries();
  if (!answer.value) return <Waiting place="caves" path={kSettingsPath} answer={answer} />;
  const settings = overSettings(answer.value, answer.asked_at, entries);
  return (
    <Book place="caves" title={t("settings.title")}>
      <section class="leaf">
        <TitleHead title={t("settings.title")} note={t("settings.low")} />
        <Notices />
        <Keepers settings={settings} />
        <Order settings={settings} />
        <Absences settings={settings} />
        <GroupHead b={t("notices.title")} />
        <WordLink href="/notices">{t("notices.go")}</WordLink>
      </section>
      <section class="leaf">
        {settings.caves.length > 0 && <GroupHead b={t("settings.caves")} />}
        {settings.caves.map((cave) => <CaveRows key={cave.id} cave={cave} />)}
        <Feed feed={settings.feed} />
        <GroupHead b={t("plans.list")} />
        <WordLink href="/plans">{t("plans.all")}</WordLink>
      </section>
    </Book>
  );
}

function Keepers({ settings }: { settings: Settings }) {
  const [name, setName] = useState("");
  const known = settings.keepers.includes(name.trim());
  const write = () => {
    queue.add({ kind: "keeper", name: name.trim() });
    setName("");
  };
  return (
    <>
      <GroupHead b={t("settings.keepers")} i={settings.keepers.length === 0 ? t("settings.alone") : ""} />
      {settings.keepers.map((keeper) => (
        <Entry key={keeper} class="pick"><span class="pairwords"><span class="word strong">{keeper}</span>
          <button type="button" class="tap back" onClick={() => queue.add({ kind: "keeper", name: keeper, leaves: true })}>{t("settings.leaves")}<span class="sr"> {keeper}</span></button></span></Entry>
      ))}
      <form onSubmit={(e) => { e.preventDefault(); if (name.trim() && !known) write(); }}>
        <WriteLine id="keeper" label={t("settings.keeper")} hint={t("settings.keeper.hint")} value={name} say={setName} most={12} />
      </form>
      {name.trim() && !known && <WordButton tap={write}>{t("settings.keeper.add", { name: name.trim() })}</WordButton>}
      {settings.keepers.length < 2 && <Entry><span class="note">{t("settings.keepers.low")}</span></Entry>}
    </>
  );
}

/** The caves in the order in which a round goes through them, inside one kind of rind. */
function Order({ settings }: { settings: Settings }) {
  const ids = settings.caves.map((c) => c.id);
  if (ids.length < 2) return null;
  const order = (caves: number[], by_room = settings.by_room) => signed(() => void queue.add({ kind: "order", caves, by_room }));
  return (
    <>
      <GroupHead b={t("settings.order")} />
      {settings.caves.map((cave, i) => (
        <Entry key={cave.id} class="pick" m={<span class="strong">{i + 1}</span>}>
          <span class="pairwords"><span class="word">{cave.name}</span>
            {i > 0 && <button type="button" class="tap back" onClick={() => order(swapped(ids, i - 1))}>{t("settings.earlier")}<span class="sr"> {cave.name}</span></button>}</span>
        </Entry>
      ))}
      <Entry class="full"><Cells chosen={settings.by_room} choose={(by_room) => order(ids, by_room)} choices={[{ value: false, word: t("settings.by rind") }, { value: true, word: t("settings.by room") }]} /></Entry>
      <Entry><span class="note">{t(settings.by_room ? "settings.by room.low" : "settings.by rind.low")}</span></Entry>
    </>
  );
}

/** Care days gather what a few days more or less do not harm; shelves are walked in their order. */
function CaveRows({ cave }: { cave: CaveSettings }) {
  const [open, setOpen] = useState(false);
  const names = cave.care_days.map((d) => weekdayShort(addDays("2024-01-01", d - 1))).join(", ");
  const words = [names ? t("settings.care days of", { days: names }) : t("settings.no care days"), cave.shelves.length > 1 && many("settings.shelves", cave.shelves.length)].filter(Boolean).join("; ");
  if (!open) return <WordButton m={<span class="note strong">{cave.name}</span>} tap={() => setOpen(true)}>{words}</WordButton>;
  return (
    <section aria-label={cave.name}>
      <Entry class="class"><b>{cave.name}</b></Entry>
      <Entry class="full" m={<span class="note strong">{t("settings.care days")}</span>}>
        <span class="cells c4">
          {[1, 2, 3, 4, 5, 6, 7].map((day) => (
            <button key={day} type="button" class={cave.care_days.includes(day) ? "on" : undefined} aria-pressed={cave.care_days.includes(day)}
                    onClick={() => signed(() => void queue.add({ kind: "calendar", cave: cave.id, care_days: toggled(cave.care_days, day) }))}>{weekdayShort(addDays("2024-01-01", day - 1))}</button>
          ))}
        </span>
      </Entry>
      <Entry><span class="note">{t("settings.care days.low")}</span></Entry>
      <Shelves cave={cave} />
      <WordButton tap={() => setOpen(false)}>{t("settings.shut")}</WordButton>
    </section>
  );
}

function Absences({ settings }: { settings: Settings }) {
  return (
    <>
      <GroupHead b={t("settings.absences")} />
      {settings.away.filter((a) => a.back > settings.head.day).map((a) => <Entry key={a.act}><span class="word">{t("away.of", { from: weekdayDate(a.from), back: weekdayDate(a.back) })}</span></Entry>)}
      <WordLink href="/away">{t("away.go")}</WordLink>
      {settings.away.length > 0 && <WordLink href="/away/marked">{t("away.marked")}</WordLink>}
    </>
  );
}

// Two keepers share a round, by room or by line. What nobody took is everybody's.
import { useState } from "preact/hooks";
import type { Settings } from "../../api";
import { queue } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { keepersOf, kSettingsPath } from "../../house/keeper";
import { unknownTo, type ShownLine } from "../../house/overlay";
import { Book } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Deed } from "../../parts/deed";
import { Entry, TitleHead } from "../../parts/leaf";
import { careWords } from "../../parts/names";
import { Place } from "../../parts/place";
import { go } from "../../route";
import { many, t } from "../../words";
import { Waiting } from "../waiting";
import { LineRing } from "./line";
import { kRoundPath, useRound } from "./one_line";
import { keeperOf, overShares, partsOf, type Taken } from "./shares";
import { isSettled, minutesSaid, sumOf } from "./sum";

function Rooms({ lines, keepers, taken, give }: { lines: ShownLine[]; keepers: string[]; taken: Taken; give: (lines: ShownLine[], keeper: string) => void }) {
  const rooms = [...new Set(lines.map((l) => l.cave))];
  const columns = keepers.length > 2 ? 3 : 2;
  return (
    <>
      {rooms.map((cave) => {
        const own = lines.filter((l) => l.cave === cave);
        const holders = new Set(own.map((l) => taken.get(l.key) ?? ""));
        const choices = keepers.map((name) => ({ value: name, word: name }));
        return (
          <>
            {own.length > 1 && (
              <Entry key={`room ${cave}`} class="full heavy" m={<><span class="strong">{own[0]!.cave_name}</span><span class="note block">{t("share.room", { count: own.length })}</span></>}>
                <Cells columns={columns} choices={choices} chosen={holders.size === 1 ? [...holders][0] : undefined} choose={(keeper) => give(own, keeper)} />
              </Entry>
            )}
            {own.map((line) => (
              <Entry key={line.key} class="full" m={<Place place={line.place} ring={<LineRing line={line} />} />}>
                <span class="note sharing">{careWords(line.kinds)} {line.wheels.length}</span>
                <Cells columns={columns} choices={choices} chosen={taken.get(line.key)} choose={(keeper) => give([line], keeper)} />
              </Entry>
            ))}
          </>
        );
      })}
    </>
  );
}

export function SharePlace() {
  const { answer, round, lines } = useRound();
  const settings = useAnswer<Settings>(kSettingsPath);
  const entries = useEntries();
  const [said, setSaid] = useState<Taken>(new Map());
  if (!round) return <Waiting place="round" path={kRoundPath} answer={answer} />;
  if (!settings.value) return <Waiting place="round" path={kSettingsPath} answer={settings} />;
  const keepers = keepersOf(settings.value);
  const open = lines.filter((l) => !isSettled(l));
  const shares = overShares(round.shares, unknownTo(answer.asked_at, entries), round.day);
  const before = new Map(open.flatMap((l): [string, string][] => { const who = keeperOf(l, shares); return who ? [[l.key, who]] : []; }));
  const taken: Taken = new Map([...before, ...said]);
  // Tapped again, it is everybody's.
  const give = (these: ShownLine[], keeper: string) => {
    const back = these.every((l) => taken.get(l.key) === keeper);
    setSaid(new Map([...said, ...these.map((l): [string, string] => [l.key, back ? "" : keeper])]));
  };
  const deed = () => {
    for (const keeper of keepers) {
      const { caves, lines: own } = partsOf(open, taken, keeper);
      const was = partsOf(open, before, keeper);
      if (JSON.stringify([caves, own]) !== JSON.stringify([was.caves, was.lines])) queue.add({ kind: "share", day: round.day, by: keeper, caves, lines: own }, "share");
    }
    go("/", true);
  };
  const parts = keepers.map((keeper) => {
    const sum = sumOf(open, round.sections, (l) => taken.get(l.key) === keeper);
    return `${keeper} ${sum.left}${sum.minutes > 0 ? `, ${minutesSaid(sum.minutes)}` : ""}`;
  });
  return (
    <Book place="round" title={t("share.title")} class="withdeed" foot={<Deed verb={t("share.deed")} low={parts.join("; ")} tap={deed} off={said.size === 0} />}>
      <section class="leaf">
        <TitleHead title={t("share.title")} note={keepers.length > 1 ? t("share.low") : t("share.alone")} />
        {keepers.length > 1 && open.length === 0 && <Entry>{many("round.left", 0)}</Entry>}
        {keepers.length > 1 && <Rooms lines={open} keepers={keepers} taken={taken} give={give} />}
      </section>
    </Book>
  );
}

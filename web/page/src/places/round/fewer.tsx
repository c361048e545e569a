// Fewer lie here than the book says: which are not there, and how they went.
import { useState } from "preact/hooks";
import type { JSX } from "preact";
import type { Wheels, WheelStateWord } from "../../api";
import { gone } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { Book } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Deed } from "../../parts/deed";
import { Entry, TitleHead } from "../../parts/leaf";
import { Place } from "../../parts/place";
import { go } from "../../route";
import { t } from "../../words";
import { Waiting } from "../waiting";
import { findGroup, shelfOf } from "./groups";
import { hold } from "./held";
import { LineRing } from "./line";
import { kRoundPath, LineGone, lotAndDay, signAgain, useRound } from "./one_line";
import { spotsOf, type Spot } from "./pick";
import { numbersOf, Shelf } from "./shelf";
import { GroupPlace, groupPlace, groupWords, kWheelsPath } from "./shelves";

const kWays = ["not found", "eaten", "sold", "given", "lost"] as const;

interface LeafProps {
  place: string;
  margin: JSX.Element;
  words: string;              // which wheels
  spots: Spot[];
  state: WheelStateWord;
  before: (missing: number[]) => void;  // what is put right first
}

function FewerLeaf({ place, margin, words, spots, state, before }: LeafProps) {
  const [picked, setPicked] = useState<number[]>([]);
  const [how, setHow] = useState<(typeof kWays)[number]>("not found");
  const missing = spots.map((s) => s.wheel).filter((w) => picked.includes(w));
  const here = spots.length - missing.length;
  const deed = () => {
    before(missing);
    const entry = gone(missing, how);
    hold("gone", t("fewer.said", { place, count: here }), entry.act.id);
    go("/", true);
  };
  return (
    <Book place="round" title={t("fewer.title")} class="withdeed"
          foot={<Deed verb={t("fewer.deed", { count: here })} low={missing.length === 0 ? t("fewer.none") : t("fewer.gone", { numbers: numbersOf(missing, spots), how: t(`gone.${how}`) })} tap={deed} off={missing.length === 0} />}>
      <section class="leaf">
        <TitleHead m={margin} title={t("fewer.title")} note={`${t("fewer.book", { count: spots.length })} ${words}.`} />
        <Shelf spots={spots} state={state} picked={picked} pick={setPicked} done={false} label={(number, on) => t(on ? "fewer.wheel gone" : "notall.wheel", { number })} />
        <Entry class="full heavy" m={<span class="note strong">{t("fewer.how")}</span>}>
          <Cells columns={3} choices={kWays.map((w) => ({ value: w, word: t(`gone.${w}`) }))} chosen={how} choose={setHow} />
        </Entry>
      </section>
    </Book>
  );
}

/** Of a line of today's round: a signature over the whole shelf was never about those that are not there. */
export function FewerPlace({ line: key }: { line: string }) {
  const { answer, round, lines } = useRound();
  if (!round) return <Waiting place="round" path={kRoundPath} answer={answer} />;
  const line = lines.find((l) => l.key === key);
  if (!line) return <LineGone />;
  const before = (missing: number[]) => {
    if (line.settled_by !== undefined && line.state === "done") signAgain(line, line.wheels.filter((w) => !missing.includes(w)));
  };
  return <FewerLeaf place={line.place} margin={<Place place={line.place} ring={<LineRing line={line} />} />} words={lotAndDay(line)} spots={spotsOf(line)} state={line.wheel_state} before={before} />;
}

/** Of a shelf that is not on the round. */
export function FewerShelfPlace({ shelf }: { shelf: string }) {
  const answer = useAnswer<Wheels>(kWheelsPath);
  if (!answer.value) return <Waiting place="round" path={kWheelsPath} answer={answer} />;
  const group = findGroup(answer.value.wheels, shelf);
  if (!group) return <LineGone />;
  return <FewerLeaf place={groupPlace(group)} margin={<GroupPlace group={group} />} words={groupWords(group)} spots={spotsOf(shelfOf(group))} state={group.wheels[0]!.state} before={() => undefined} />;
}

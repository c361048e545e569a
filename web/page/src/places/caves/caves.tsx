// The caves: each with its kind, now against its band, the last day down the margin, its boards.
import type { Alarm, Cave, Caves } from "../../api";
import { useCell } from "../../cell";
import { now } from "../../clock";
import { hour } from "../../days";
import { useAnswer } from "../../house/answers";
import { useEntries, useTick } from "../../house/hooks";
import { overAlarms, unknownTo } from "../../house/overlay";
import { touch } from "../../house/touch";
import { folded } from "../../parts/alarms";
import { Book, Notices } from "../../parts/book";
import { isGas } from "../../parts/kinds";
import { DayHead, Entry, WordButton, WordLink } from "../../parts/leaf";
import { wheelsOf } from "../../parts/names";
import { useCutOff } from "../../parts/troubles";
import { choosePaper, paper } from "../../paper";
import { t } from "../../words";
import { Waiting } from "../waiting";
import { Boards, CaveRibbon, Figures, hasRibbon, StateLine } from "./drawing";
import { boardsShown } from "./joined";
import { gasFirst, GasHigh, GasNotes } from "./presence";
import { besideStrips } from "./sentence";
import { alarmsOf, cutOff, doubtWords, gapWords, heldWords, lidWord, lookWord, nested, standing, targets, wants } from "./standing";

export const kCavesPath = "/api/caves";

/** Counted together: which they are stands on the cave's own page. */
function byFamily(wheels: { count: number; family: string }[]): { count: number; family: string }[] {
  const counts = new Map<string, number>();
  for (const { family, count } of wheels) counts.set(family, (counts.get(family) ?? 0) + count);
  return [...counts].map(([family, count]) => ({ count, family }));
}

/** What there is to do at its lid. */
function Lid({ cave }: { cave: Cave }) {
  const word = lidWord(cave);
  return word ? <p class="note strong">{word}</p> : null;
}

function Look({ cave }: { cave: Cave }) {
  const word = lookWord(cave);
  return word ? <p class="note">{word}</p> : null;
}

/** Both, where no alarm says it. */
export const Steps = ({ cave }: { cave: Cave }) => <><Lid cave={cave} /><Look cave={cave} /></>;

export function Gaps({ cave }: { cave: Cave }) {
  return (
    <>
      {[...gapWords(cave, now()), ...heldWords(cave, now()), ...doubtWords(cave, now())].map((word) => <p key={word} class="note">{word}</p>)}
    </>
  );
}

function CaveEntry({ cave, inside, last, alarms }: { cave: Cave; inside: boolean; last: boolean; alarms: Alarm[] }) {
  const bare = cave.state === "not watched" && cave.temperature.mean === undefined;
  const stand = standing(cave, alarms);
  const gassed = alarms.filter((one) => one.cave === cave.id && (isGas(one.kind) || one.darkens_gas));
  const high = gasFirst(cave, gassed);
  const wanted = targets(cave);
  const rows = boardsShown(cave.boards).length;
  const height = Math.max(78, 44 + 24 * rows);
  return (
    <a class={`entry cave ${last ? "heavy" : ""}`} href={`/caves/${cave.id}`}>
      <span class="m">
        {hasRibbon(cave) && <CaveRibbon cave={cave} height={height} labels={!cave.temperature.borrowed} class="narrow" />}
        {hasRibbon(cave) && <CaveRibbon cave={cave} height={Math.max(150, height * 1.6)} labels={!cave.temperature.borrowed} class="wide" />}
      </span>
      <div class="b">
        {bare && high.length === 0 && gassed.length === 0
          ? <div class="cols two"><span class={`name ${inside ? "in" : ""}`}>{cave.name}</span><StateLine standing={stand} /></div>
          : <><div class="cols"><span class={`name ${inside ? "in" : ""}`}>{cave.name}</span>{!bare && <Figures cave={cave} />}</div><GasHigh gas={high} alarms={gassed} /><StateLine standing={stand} /><Lid cave={cave} /></>}
        {cave.gas && <GasNotes gas={cave.gas.filter((gas) => !high.includes(gas))} />}
        {wanted && stand.state !== "not watched" && <p class="note">{t("caves.target", { targets: wanted })}</p>}
        {stand.state !== "not watched" && wants(cave).map((want) => <p key={want} class="note">{want}</p>)}
        <Boards cave={cave} />
        {cave.does_not_suit.length > 0 && <p class="note strong">{t("caves.suit", { wheels: wheelsOf(byFamily(cave.does_not_suit)) })}</p>}
        <Gaps cave={cave} />
        <Look cave={cave} />
      </div>
    </a>
  );
}

function PaperChoice() {
  const which = useCell(paper);
  return <WordButton class="noprint" tap={() => choosePaper(which === "light" ? "dark" : "light")}>{t(which === "light" ? "paper.dark" : "paper.light")}</WordButton>;
}

/** A leaf's worth of caves: at 1280 the second leaf takes the rest. */
function halves<T extends { inside: boolean }>(all: T[]): [T[], T[]] {
  let cut = Math.ceil(all.length / 2);
  while (cut < all.length && all[cut]!.inside) cut += 1;
  return [all.slice(0, cut), all.slice(cut)];
}

export function CavesPlace() {
  const answer = useAnswer<Caves>(kCavesPath);
  const entries = useEntries();
  const house = useCell(touch);
  const cut = useCutOff();
  useTick();
  const value = answer.value;
  if (!value) return <Waiting place="caves" path={kCavesPath} answer={answer} />;
  const caves = house.in ? value.caves : value.caves.map(cutOff);
  const [left, right] = halves(nested(caves));
  const alarms = overAlarms(value.head.alarms, unknownTo(answer.asked_at, entries));
  const strips = folded(alarms).shown;
  const entry = (one: (typeof left)[number]) => <CaveEntry key={one.cave.id} {...one} alarms={alarmsOf(value.head.alarms, one.cave)} />;
  return (
    <Book place="caves" title={t("place.caves")}>
      <section class="leaf">
        <DayHead day={value.head.day}><h1 class="say">{cut || (caves.length > 0 ? besideStrips(value.sentences, strips, alarms) : t("caves.none"))}</h1></DayHead>
        <Notices />
        {left.map(entry)}
      </section>
      <section class="leaf">
        <Entry class="head heavy wide" m={hour(value.head.now)}><p class="say note">{t("caves.all spoke")}</p></Entry>
        {right.map(entry)}
        <WordLink href="/probes" class="noprint">{t("caves.probes")}</WordLink>
        <WordLink href="/settings" class="noprint">{t("wheels.list settings")}</WordLink>
        <PaperChoice />
      </section>
    </Book>
  );
}

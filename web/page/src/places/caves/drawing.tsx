// The parts of a cave that are drawn: its figures, its ribbon, its boards.
import type { Alarm, Cave, Channel } from "../../api";
import { now } from "../../clock";
import { useCell } from "../../cell";
import { BoardDrawing, BoxDrawing } from "../../draw/boards";
import { StateGlyph } from "../../draw/glyphs";
import { Ribbon } from "../../draw/ribbon";
import type { Gap } from "../../draw/trace";
import { degrees } from "../../figures";
import { touch } from "../../house/touch";
import { boardsShown } from "./joined";
import { humidityWord, type Standing } from "./standing";

const look = (channel: Channel) => `fig ${channel.borrowed ? "lent" : ""} ${channel.state === "out of band" ? "red" : ""} ${channel.watched || channel.borrowed ? "" : "lent"}`;

export function Figures({ cave }: { cave: Cave }) {
  const { temperature, humidity } = cave;
  return (
    <>
      <span class={look(temperature)}>{temperature.mean === undefined || temperature.state === "unknown" ? "–" : degrees(temperature.mean)}</span>
      <span class={look(humidity)}>{humidity.state === "unknown" ? "–" : humidityWord(humidity)}</span>
    </>
  );
}

export function StateLine({ standing }: { standing: Standing }) {
  return (
    <div class={`state ${standing.state === "out of band" ? "bad" : ""}`}>
      <StateGlyph state={standing.state} side={standing.side === 0 ? 1 : standing.side} />
      {standing.word}
      {standing.more && <i>{standing.more}</i>}
    </div>
  );
}

/** Whether anything was said of a channel, be it believed or not. */
const told = (cave: Cave, channel: "temperature" | "humidity") => cave.ribbon[channel].length > 0 || (cave.doubts ?? []).some((d) => d.channel === channel);
const warmthTold = (cave: Cave) => told(cave, "temperature") && !cave.temperature.borrowed;

export const hasRibbon = (cave: Cave) => warmthTold(cave) || told(cave, "humidity");

/** What the ribbon shows: a box borrows its temperature, so its humidity stands alone. */
function shows(cave: Cave): "both" | "temperature" | "humidity" {
  const temperature = warmthTold(cave);
  if (temperature && told(cave, "humidity")) return "both";
  return temperature ? "temperature" : "humidity";
}

interface CaveRibbonProps { cave: Cave; height: number; alarm?: Alarm | undefined; labels?: boolean; class?: string; still?: boolean }

export function CaveRibbon({ cave, height, alarm, labels, class: name, still }: CaveRibbonProps) {
  const house = useCell(touch);
  if (!hasRibbon(cave)) return null;
  const to = house.in || still ? cave.ribbon.to : Math.max(cave.ribbon.to, now());
  const blind: Gap[] = house.in || still ? [] : [{ from: Math.min(house.since ?? cave.ribbon.to, cave.ribbon.to), to }];
  const alone = alarm && ["too warm", "too cold", "too dry", "too damp"].includes(alarm.kind)
    ? { alone: (alarm.kind === "too cold" || alarm.kind === "too dry" ? -1 : 1) as -1 | 1,
        show: (alarm.kind === "too dry" || alarm.kind === "too damp" ? "humidity" : "temperature") as "humidity" | "temperature" }
    : { show: shows(cave) };
  return <Ribbon data={{ ...cave.ribbon, to }} gaps={[...cave.gaps, ...blind]} doubts={cave.doubts ?? []} height={height} {...alone} labels={labels ?? true} class={name ?? ""} still={still ?? false} />;
}

export function Boards({ cave }: { cave: Cave }) {
  if (cave.kind === "box") return <BoxDrawing wheels={cave.boards.flatMap((b) => b.wheels)} />;
  return <>{boardsShown(cave.boards).map((board) => <BoardDrawing key={board.place} name={board.place === cave.name ? "" : board.place} wheels={board.wheels} />)}</>;
}

// A cave's own page: the day at 20 px an hour, its alarm, wheels, probes, and what it went through.
import { useState } from "preact/hooks";
import type { Alarm, Cave, CavePage, Caves, Probe, Settings, Wheels } from "../../api";
import { useCell } from "../../cell";
import { now } from "../../clock";
import { degrees, points } from "../../figures";
import { queue, take, unhang } from "../../house/acts";
import { signed } from "../../house/keeper";
import { useAnswer } from "../../house/answers";
import { groups, inWalkingOrder } from "../wheels/alike";
import { GroupEntry } from "../wheels/wheels";
import { useEntries, useTick } from "../../house/hooks";
import type { Entry as Entry_ } from "../../queue/entry";
import { overAlarms, unknownTo } from "../../house/overlay";
import { touch } from "../../house/touch";
import { canWait, clockWord, ppm } from "../../parts/alarm_words";
import { AlarmStrips, alarmTitle, inOrder, isForPeople, isLoud, rings } from "../../parts/alarms";
import { Book, Notices } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, GroupHead, WordButton, WordLink } from "../../parts/leaf";
import { isGas } from "../../parts/kinds";
import { joined, lotWord, wheelsOf } from "../../parts/names";
import { placeLook } from "../../parts/place";
import { useTakeWord } from "../../parts/sounding";
import { useCutOff } from "../../parts/troubles";
import { many, t, type WordKey } from "../../words";
import { AlarmBody } from "../alarms/body";
import { JournalLines } from "../journal/line";
import { overSettings } from "../settings/over";
import { Shelves } from "../settings/shelves";
import { Waiting } from "../waiting";
import { Gaps, kCavesPath, Steps } from "./caves";
import { Boards, CaveRibbon, Figures, hasRibbon, StateLine } from "./drawing";
import { AlarmFigure, GasFigures, Presence } from "./presence";
import { alarmsOf, cutOff, reaches, standing, targets, wants } from "./standing";

function ProbeEntry({ probe }: { probe: Probe }) {
  const entries = useEntries();
  const gone = entries.some((e) => e.act.kind === "unhang" && e.act.probe === probe.id && e.state !== "refused");
  return (
    <Entry m={<span class={placeLook(probe.name)}>{probe.name}</span>}>
      {probe.channels.map((channel) => (
        <p key={channel.id} class="word">{channel.kind in kChannels ? t(`channel.${channel.kind}` as WordKey) : channel.kind}{" "}
          <span class="note">{channel.latest === undefined || channel.latest_at === undefined ? t("caves.not yet") : t("caves.now", { value: reading(channel.kind, channel.latest), time: clockWord(channel.latest_at, now()) })}</span></p>
      ))}
      <p class="note topic">{probe.topic}</p>
      {probe.invalid > 0 && <p class="note strong">{many("caves.invalid", probe.invalid)}{probe.invalid_last && `: ${t("caves.invalid.last", { time: clockWord(probe.invalid_last.at, now()), why: probe.invalid_last.why })}`}</p>}
      <Service probe={probe} entries={entries} />
      {gone ? <s class="hand">{t("caves.take down")}</s> : <button type="button" class="tap back" onClick={() => unhang(probe.id)}>{t("caves.take down")}<span class="sr"> {probe.name}</span></button>}
    </Entry>
  );
}

/** A probe that hangs there but is not judged: in a salt jar, waiting for a battery. */
function Service({ probe, entries }: { probe: Probe; entries: Entry_[] }) {
  const tapped = entries.filter((e) => e.state === "waiting" && e.act.kind === "service" && e.act.probe === probe.id).map((e) => (e.act as { out: boolean }).out);
  const out = tapped.length > 0 ? tapped[tapped.length - 1] : probe.out_of_service !== undefined;
  const say = (next: boolean) => signed(() => void queue.add({ kind: "service", probe: probe.id, out: next }));
  return (
    <>
      {out && <p class="note strong">{probe.out_of_service ? t("service.out since", { time: clockWord(probe.out_of_service.since, now()) }) : t("service.out")}</p>}
      <button type="button" class="tap back" onClick={() => say(!out)}>{t(out ? "service.back" : "service.take out")}<span class="sr"> {probe.name}</span></button>
    </>
  );
}

const kChannels: Record<string, 1> = { "temperature": 1, "humidity": 1, "wheel temperature": 1, "door": 1, "plant power": 1, "carbon dioxide": 1, "ammonia": 1, "battery": 1, "weight": 1, "humidifier water": 1, "drain water": 1 };

function reading(kind: string, value: number): string {
  if (kind.includes("temperature")) return degrees(value);
  if (kind === "carbon dioxide" || kind === "ammonia") return t("figure.ppm", { value: ppm(value) });
  if (kind === "humidifier water") return t(value > 0.5 ? "humidifier.water" : "humidifier.dry");
  if (kind === "drain water") return t(value > 0.5 ? "drain.stands" : "drain.free");
  if (kind === "door") return t(value > 0.5 ? "door.open" : "door.shut");
  return kind === "humidity" ? points(value) : String(Math.round(value * 10) / 10);
}

function Rename({ cave }: { cave: Cave }) {
  const [name, setName] = useState<string>();
  if (name === undefined) return <WordButton class="noprint" tap={() => setName(cave.name)}>{t("caves.rename")}</WordButton>;
  const write = () => {
    if (name.trim()) signed(() => void queue.add({ kind: "cave", cave: cave.id, name: name.trim() }));
    setName(undefined);
  };
  return (
    <form onSubmit={(e) => { e.preventDefault(); write(); }}>
      <Entry class="write1" m={<label for="cave-name">{t("caves.rename")}</label>}>
        <input id="cave-name" class="field" value={name} maxLength={60} onInput={(e) => setName(e.currentTarget.value)} />
      </Entry>
      <WordButton tap={write}>{t("caves.rename.do")}</WordButton>
    </form>
  );
}

function ItsWheels({ cave }: { cave: Cave }) {
  const page = useAnswer<Wheels>("/api/wheels").value;
  const wheels = page?.wheels.filter((w) => w.cave === cave.id) ?? [];
  if (!page || wheels.length === 0) return null;
  return (
    <>
      <GroupHead b={t("caves.wheels")} i={many("wheels.many", wheels.length)} />
      {inWalkingOrder(groups(wheels)).map((group) => <GroupEntry key={group.key} group={group} today={page.head.day} />)}
    </>
  );
}

/** Its boards in the order in which they are walked, where it has several. */
function ShelvesOf({ cave }: { cave: number }) {
  const answer = useAnswer<Settings>("/api/settings");
  const entries = useEntries();
  const own = answer.value && overSettings(answer.value, answer.asked_at, entries).caves.find((c) => c.id === cave);
  return own ? <Shelves cave={own} /> : null;
}

function Standing({ cave, alarm, around }: { cave: Cave; alarm: Alarm | undefined; around: Alarm[] }) {
  return (
    <>
      <h1 class="cols"><span class={`name ${alarm ? "in" : ""}`}>{cave.name}</span><Figures cave={cave} /></h1>
      {!alarm && <StateLine standing={standing(cave, around)} />}
      {!alarm && <Steps cave={cave} />}
      {!(alarm && isGas(alarm.kind)) && <GasFigures cave={cave} without={undefined} />}
    </>
  );
}

/** The boxes that stand in it, each with its wheels and how it stands: of a fridge whose wheels lie in boxes they are all there is. */
function Within({ cave, alarms }: { cave: Cave; alarms: Alarm[] }) {
  const house = useCell(touch);
  const all = useAnswer<Caves>(kCavesPath).value?.caves.filter((one) => one.inside === cave.id) ?? [];
  return (
    <>
      {(house.in ? all : all.map(cutOff)).map((box) => (
        <a key={box.id} class="within" href={`/caves/${box.id}`}>
          <span class="name in">{box.name}</span>
          <StateLine standing={standing(box, alarmsOf(alarms, box))} />
          <Boards cave={box} />
        </a>
      ))}
    </>
  );
}

/** "6 bloomies, lot 221, A1; a tomme, A3" */
const unsuited = ({ does_not_suit, name }: Cave) =>
  does_not_suit.map((w) => joined(wheelsOf([w]), lotWord(w.lot), w.place !== name && w.place)).join("; ");

/** What the cave should keep, and what is missing from the day. Below an alarm: that comes first. */
function Notes({ cave }: { cave: Cave }) {
  const wanted = targets(cave);
  return (
    <>
      {cave.plant_cycle && <p class="note">{t("caves.plant cycle", { minutes: cave.plant_cycle.minutes, swing: cave.plant_cycle.swing.toFixed(1) })}</p>}
      {cave.ready_cheese && <p class="note">{t("caves.ready cheese")}</p>}
      {cave.out_of_service && <p class="note strong">{t("caves.out of service", { what: cave.out_of_service.map((kind) => t(`alarm.cry.${kind}`).toLowerCase()).join(", ") })}</p>}
      {wanted && <p class="note">{t("caves.target", { targets: wanted })}</p>}
      {wants(cave).map((want) => <p key={want} class="note">{want}</p>)}
      {cave.humidity.watched && !cave.humidity.judged && <p class="note">{t("caves.not judged")}</p>}
      {cave.does_not_suit.length > 0 && <p class="note strong">{t("caves.suit", { wheels: unsuited(cave) })}</p>}
      <Gaps cave={cave} />
    </>
  );
}

export function CavePlace({ id }: { id: string }) {
  const path = `/api/caves/${id}`;
  const answer = useAnswer<CavePage>(path);
  const entries = useEntries();
  const house = useCell(touch);
  const cut = useCutOff();
  useTick();
  const takeWord = useTakeWord();
  const page = answer.value;
  if (!page) return <Waiting place="caves" path={path} answer={answer} />;
  const cave = house.in ? page.cave : cutOff(page.cave);
  const alarms = overAlarms(page.head.alarms, unknownTo(answer.asked_at, entries)).filter((a) => a.cave === cave.id);
  // What is over stands on top with its "seen", as on each place.
  const lasting = inOrder(alarms.filter((a) => a.over === undefined));
  const untaken = lasting.find(rings) ?? lasting.find((a) => a.taken === undefined && a.aside_until === undefined && (!canWait(a) || lasting.every(canWait)));
  const first = untaken ?? lasting[0];
  // Nothing but gas stands above what rings loud: beside that its others are in the line on top, and stand below it.
  const loud = first !== undefined && isLoud(first);
  const below = loud ? alarms.filter((a) => a !== first && !isForPeople(a)) : [];
  return (
    <Book place="caves" title={first ? alarmTitle(first) : cave.name} class={untaken ? "withdeed" : ""} without={(a) => a.id === first?.id} near={(a) => (!loud && a.cave === cave.id) || reaches(a, cave)}
          foot={untaken && <Deed named verb={t("alarm.take")} low={takeWord(untaken)} tap={() => take(untaken.id)} />}>
      <section class="leaf">
        <section class="entry cave heavy">
          <div class="m">{hasRibbon(cave) && <CaveRibbon cave={cave} height={504} alarm={first} />}</div>
          <div class="b">
            {cut && <p class="note strong">{cut}</p>}
            <Standing cave={cave} alarm={first} around={alarmsOf(page.head.alarms, cave)} />
            {first && <AlarmBody key={first.id} alarm={first} figure={isGas(first.kind) && <AlarmFigure cave={cave} alarm={first} />} />}
            {first && isGas(first.kind) && <GasFigures cave={cave} without={first.kind} />}
            <Notes cave={cave} />
            <Boards cave={cave} />
            <Within cave={cave} alarms={page.head.alarms} />
          </div>
        </section>
        <AlarmStrips alarms={below} all />
        <Presence cave={cave} />
        <Notices />
      </section>
      <section class="leaf">
        <ItsWheels cave={cave} />
        <GroupHead b={t("caves.probe.head")} />
        {page.probes.length === 0 && <Entry><span class="note">{t("caves.no probe")}</span></Entry>}
        {page.probes.map((probe) => <ProbeEntry key={probe.id} probe={probe} />)}
        <WordLink href="/probes" class="noprint">{t("caves.hang")}</WordLink>
        {page.journal.length > 0 && <GroupHead b={t("caves.went")} />}
        <JournalLines lines={page.journal} now={page.head.now} />
        <ShelvesOf cave={cave.id} />
        <WordLink href={`/caves/${cave.id}/limits`} class="noprint">{t("limits.go")}</WordLink>
        <WordLink href="/alarms" class="noprint">{t("alarms.go")}</WordLink>
        <Rename cave={cave} />
      </section>
    </Book>
  );
}

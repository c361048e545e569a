// A cave's own page: the day at 20 px an hour, its alarm, wheels, probes, and what it went through.
import { useState } from "preact/hooks";
import type { Alarm, Cave, CavePage, Probe, Settings, Wheels } from "../../api";
import { useCell } from "../../cell";
import { now } from "../../clock";
import { hour } from "../../days";
import { StateGlyph } from "../../draw/glyphs";
import { Ring } from "../../draw/rings";
import { between, celsius, degrees, points, span } from "../../figures";
import { call, queue, take, unhang } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { saidOf } from "../wheels/said";
import { useEntries, useTick } from "../../house/hooks";
import { overAlarms, unknownTo } from "../../house/overlay";
import { touch } from "../../house/touch";
import { alarmState, sideOf, whats, whatWord } from "../../parts/alarms";
import { Book, Notices } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Deed } from "../../parts/deed";
import { Entry, GroupHead, WordButton, WordLink } from "../../parts/leaf";
import { joined, lotWord, wheelsOf } from "../../parts/names";
import { Place, placeLook } from "../../parts/place";
import { useCutOff } from "../../parts/troubles";
import { many, t, type WordKey } from "../../words";
import { isHumid, isOfAir } from "../../parts/kinds";
import { JournalLines } from "../journal/line";
import { overSettings } from "../settings/over";
import { Shelves } from "../settings/shelves";
import { Waiting } from "../waiting";
import { Gaps } from "./caves";
import { Boards, CaveRibbon, Figures, hasRibbon, StateLine } from "./drawing";
import { backInside, cutOff, standing, targets } from "./standing";

const figure = (alarm: Alarm, value: number) => (isHumid(alarm.kind) ? points(value) : celsius(value));

function Cry({ alarm, cave }: { alarm: Alarm; cave: Cave }) {
  const house = useCell(touch);
  const inside = backInside(cave, alarm);
  const blind = !house.in && alarm.over === undefined; // whether it lasts is not known
  const quiet = alarm.over !== undefined || inside || blind;
  const end = alarm.over ?? (blind ? house.since ?? cave.ribbon.to : now());
  const state = blind ? "unknown" : inside ? "in band" : alarmState(alarm);
  return (
    <>
      <h2 class={`cry ${quiet || alarm.severity === "hint" ? "calm" : ""}`}>
        <StateGlyph state={state} side={sideOf(alarm)} size={quiet ? 1 : 1.6} /> {t(`alarm.cry.${alarm.kind}`)}
      </h2>
      {inside && <p class="word strong">{t("alarm.inside")}</p>}
      {blind && <p class="word strong">{t("state.unknown")}</p>}
      <p class="big">{t("alarm.since")} <b>{hour(alarm.since)}</b>, {between(alarm.since, end)}
        {alarm.band && <>; {t("alarm.keep", { band: isHumid(alarm.kind) ? span(alarm.band, 0) : span(alarm.band) })}</>}.</p>
      {alarm.extreme !== undefined && isOfAir(alarm.kind) && <p class="note">{t("alarm.reached", { value: figure(alarm, alarm.extreme) })}</p>}
      {alarm.over !== undefined && <p class="note">{t("alarm.over", { time: hour(alarm.over) })}</p>}
      {alarm.taken !== undefined && <p class="note hand">{t("alarm.taken", { time: hour(alarm.taken) })}</p>}
      {alarm.found_later && <p class="note">{t("alarm.found")}</p>}
    </>
  );
}

/** After it is taken: what it was. That label is the record of what was found. */
function WasIt({ alarm }: { alarm: Alarm }) {
  if (alarm.taken === undefined) return null;
  return (
    <>
      <h3 class="cap">{alarm.what ? t("alarm.it was", { what: whatWord(alarm.what) }) : t("alarm.was")}</h3>
      <Cells choices={whats.map((what) => ({ value: what as string, word: whatWord(what) }))} chosen={alarm.what} choose={(what) => call(alarm.id, what)} />
    </>
  );
}

function AlarmBody({ alarm, cave }: { alarm: Alarm; cave: Cave }) {
  return (
    <>
      <Cry alarm={alarm} cave={cave} />
      {alarm.wheels.length > 0 && alarm.over === undefined && (
        <>
          <h3 class="cap">{t("alarm.it matters")}</h3>
          {alarm.wheels.map((w) => (
            <div key={w.family + w.cave_name + w.state} class="tab"><span class="wh"><Ring state={w.state} r={7} />{wheelsOf([w])}</span></div>
          ))}
        </>
      )}
      {alarm.first.length > 0 && alarm.over === undefined && (
        <>
          <h3 class="cap">{t("alarm.first")}</h3>
          <ol class="orders">{alarm.first.map((order) => <li key={order}><div>{order}</div></li>)}</ol>
        </>
      )}
      <WasIt alarm={alarm} />
    </>
  );
}

function ProbeEntry({ probe }: { probe: Probe }) {
  const entries = useEntries();
  const gone = entries.some((e) => e.act.kind === "unhang" && e.act.probe === probe.id && e.state !== "refused");
  return (
    <Entry m={<span class={placeLook(probe.name)}>{probe.name}</span>}>
      {probe.channels.map((channel) => (
        <p key={channel.id} class="word">{channel.kind in kChannels ? t(`channel.${channel.kind}` as WordKey) : channel.kind}{" "}
          <span class="note">{channel.latest === undefined || channel.latest_at === undefined ? t("caves.not yet") : t("caves.now", { value: reading(channel.kind, channel.latest), time: hour(channel.latest_at) })}</span></p>
      ))}
      <p class="note topic">{probe.topic}</p>
      {probe.invalid > 0 && <p class="note strong">{many("caves.invalid", probe.invalid)}{probe.invalid_last && `: ${t("caves.invalid.last", { time: hour(probe.invalid_last.at), why: probe.invalid_last.why })}`}</p>}
      {gone ? <s class="hand">{t("caves.take down")}</s> : <button type="button" class="tap back" onClick={() => unhang(probe.id)}>{t("caves.take down")}<span class="sr"> {probe.name}</span></button>}
    </Entry>
  );
}

const kChannels: Record<string, 1> = { "temperature": 1, "humidity": 1, "wheel temperature": 1, "door": 1, "plant power": 1, "CO2": 1, "NH3": 1, "battery": 1, "weight": 1 };

function reading(kind: string, value: number): string {
  if (kind.includes("temperature")) return degrees(value);
  return kind === "humidity" ? points(value) : String(Math.round(value * 10) / 10);
}

function Rename({ cave }: { cave: Cave }) {
  const [name, setName] = useState<string>();
  if (name === undefined) return <WordButton class="noprint" tap={() => setName(cave.name)}>{t("caves.rename")}</WordButton>;
  const write = () => {
    if (name.trim()) queue.add({ kind: "cave", cave: cave.id, name: name.trim() });
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
  const wheels = useAnswer<Wheels>("/api/wheels").value?.wheels.filter((w) => w.cave === cave.id) ?? [];
  if (wheels.length === 0) return null;
  return (
    <>
      <GroupHead b={t("caves.wheels")} i={many("wheels.many", wheels.length)} />
      {wheels.slice(0, 60).map((w) => (
        <a key={w.id} class="entry pick" href={`/wheels/${w.id}`}>
          <span class="m"><Place place={w.place === cave.name ? "" : w.place} ring={<Ring state={w.state} r={8} {...saidOf(w)} />} /></span>
          <span class="b"><span class="word">{w.name}</span><span class="note">{joined(lotWord(w.lot), w.place !== cave.name && t("caves.number", { number: w.number }), t("day.number", { day: w.day }), w.stage)}</span></span>
        </a>
      ))}
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

function Standing({ cave, alarm }: { cave: Cave; alarm: Alarm | undefined }) {
  return (
    <>
      <h1 class="cols"><span class={`name ${alarm ? "in" : ""}`}>{cave.name}</span><Figures cave={cave} /></h1>
      {!alarm && <StateLine standing={standing(cave)} />}
    </>
  );
}

/** What the cave should keep, and what is missing from the day. Below an alarm: that comes first. */
function Notes({ cave }: { cave: Cave }) {
  const wanted = targets(cave);
  return (
    <>
      {wanted && <p class="note">{t("caves.target", { targets: wanted })}</p>}
      {cave.humidity.watched && !cave.humidity.judged && <p class="note">{t("caves.not judged")}</p>}
      {cave.does_not_suit.length > 0 && <p class="note strong">{t("caves.suit", { wheels: wheelsOf(cave.does_not_suit) })}</p>}
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
  const page = answer.value;
  if (!page) return <Waiting place="caves" path={path} answer={answer} />;
  const cave = house.in ? page.cave : cutOff(page.cave);
  const alarms = overAlarms(page.head.alarms, unknownTo(-1, entries)).filter((a) => a.cave === cave.id);
  const first = alarms.find((a) => a.taken === undefined) ?? alarms.find((a) => a.over === undefined) ?? alarms[0];
  const untaken = alarms.find((a) => a.taken === undefined);
  const others = page.head.alarms.filter((a) => a.cave !== cave.id);
  return (
    <Book place="caves" title={first ? t("alarm.title", { cave: cave.name, what: t(`alarm.${first.kind}`) }) : cave.name} class={untaken ? "withdeed" : ""} quiet={others.length === 0}
          foot={untaken && <Deed verb={t("alarm.take")} low={t("alarm.take.low")} tap={() => take(untaken.id)} />}>
      <section class="leaf">
        <section class="entry cave heavy">
          <div class="m">{hasRibbon(cave) && <CaveRibbon cave={cave} height={504} alarm={first?.over === undefined ? first : undefined} />}</div>
          <div class="b">
            {cut && <p class="note strong">{cut}</p>}
            <Standing cave={cave} alarm={first} />
            {alarms.map((alarm) => <AlarmBody key={alarm.id} alarm={alarm} cave={cave} />)}
            <Notes cave={cave} />
            <Boards cave={cave} />
          </div>
        </section>
        <Notices />
      </section>
      <section class="leaf">
        <ItsWheels cave={cave} />
        <GroupHead b={t("caves.probe.head")} />
        {page.probes.length === 0 && <Entry><span class="note">{t("caves.no probe")}</span></Entry>}
        {page.probes.map((probe) => <ProbeEntry key={probe.id} probe={probe} />)}
        <WordLink href="/probes" class="noprint">{t("caves.hang")}</WordLink>
        {page.journal.length > 0 && <GroupHead b={t("caves.went")} />}
        <JournalLines lines={page.journal} today={page.head.day} />
        <ShelvesOf cave={cave.id} />
        <Rename cave={cave} />
      </section>
    </Book>
  );
}

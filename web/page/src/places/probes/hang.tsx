// One topic: what each of its figures is, and where the probe hangs.
import { useState } from "preact/hooks";
import type { ArrivingTopic, Plans, ProbeAct, WhereNow } from "../../api";
import { hour } from "../../days";
import { queue } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { Book } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Deed } from "../../parts/deed";
import { Entry, EntryButton, GroupHead, TitleHead, WordLink } from "../../parts/leaf";
import { joined } from "../../parts/names";
import { WherePicker } from "../../parts/where";
import { go } from "../../route";
import { t } from "../../words";
import { Waiting } from "../waiting";
import { kArrivingPath, useArriving } from "./arriving";

type ChannelKind = ProbeAct["channels"][number]["kind"];
type Use = ChannelKind | "time" | "unused";
type Unit = NonNullable<ProbeAct["channels"][number]["unit"]>;
interface Reading { use: Use; unit?: Unit }

const kUses: Use[] = ["temperature", "humidity", "wheel temperature", "door", "plant power", "carbon dioxide", "ammonia", "humidifier water", "drain water", "battery", "weight", "unused"];

/** A name for a probe out of its topic: the last part that is not a word for what it measures. */
export function nameOf(topic: string): string {
  const parts = topic.split("/").filter((p) => p && !/^(temperature|temp|humidity|hum|rh|state|sensor|data|json)$/i.test(p));
  return parts[parts.length - 1] ?? topic;
}

function unitsOf(use: Use): Unit[] {
  if (use === "temperature" || use === "wheel temperature") return ["celsius", "fahrenheit", "kelvin"];
  if (use === "weight") return ["gram", "kilogram"];
  if (use === "door") return ["open is 1", "shut is 1"];
  if (use === "humidifier water" || use === "drain water") return ["water is 1", "water is 0"];
  return use === "humidity" ? ["percent", "fraction"] : [];
}

/** What the daemon guessed, to begin with; a humidity up to 1 is a fraction. */
export function guessed(value: ArrivingTopic["values"][number], alone: boolean): Reading {
  const use: Use = value.guess ?? (alone ? "temperature" : "unused");
  if (use === "humidity") return { use, unit: value.value <= 1 ? "fraction" : "percent" };
  return use === "temperature" ? { use, unit: value.value > 200 ? "kelvin" : value.value > 45 ? "fahrenheit" : "celsius" } : { use };
}

interface ValueProps { value: ArrivingTopic["values"][number]; reading: Reading; set: (r: Reading) => void; json: boolean }

/** A figure short enough for the margin; a time as the hour that it says. */
function figure({ value, guess }: ArrivingTopic["values"][number]): string {
  if (guess === "time") return hour(value > 1e11 ? value : value * 1000);
  return Math.abs(value) < 1e6 ? String(Math.round(value * 100) / 100) : value.toExponential(2);
}

function readingWords({ use, unit }: Reading): string {
  return joined(t(`channel.${use}`), unit && t(`probes.unit.${unit}`));
}

/** One figure of the message: what it is taken for, and on a tap what else it could be. */
function ValueRows({ value, reading, set, json }: ValueProps) {
  const [open, setOpen] = useState(reading.use === "unused");
  const uses = json ? [...kUses.slice(0, -1), "time" as const, "unused" as const] : kUses;
  const units = unitsOf(reading.use);
  return (
    <>
      <EntryButton class="pick" m={figure(value)} tap={() => setOpen(!open)}>
        <span class="word">{readingWords(reading)}</span><span class="note">{value.pointer || t("probes.plain")}</span>
      </EntryButton>
      {open && (
        <Entry class="full" m={<span class="note strong">{t("probes.what")}</span>}>
          <Cells choices={uses.map((use) => ({ value: use, word: t(`channel.${use}`) }))} chosen={reading.use}
                 choose={(use) => set({ use, ...(unitsOf(use)[0] ? { unit: unitsOf(use)[0]! } : {}) })} />
        </Entry>
      )}
      {open && units.length > 0 && (
        <Entry class="full" m={<span class="note strong">{t("probes.unit")}</span>}>
          <Cells columns={units.length === 3 ? 3 : 2} choices={units.map((unit) => ({ value: unit, word: t(`probes.unit.${unit}`) }))} chosen={reading.unit}
                 choose={(unit) => set({ use: reading.use, unit })} />
        </Entry>
      )}
    </>
  );
}

function channelsOf(topic: ArrivingTopic, readings: Record<string, Reading>): ProbeAct["channels"] {
  return topic.values.flatMap(({ pointer }) => {
    const reading = readings[pointer];
    if (!reading || reading.use === "unused" || reading.use === "time") return [];
    return [{ kind: reading.use, pointer, ...(reading.unit ? { unit: reading.unit } : {}) }];
  });
}

function HangLeaf({ topic, plans }: { topic: ArrivingTopic; plans: Plans | undefined }) {
  const first = Object.fromEntries(topic.values.map((v) => [v.pointer, guessed(v, topic.values.length === 1)]));
  const [readings, setReadings] = useState<Record<string, Reading>>(first);
  const [where, setWhere] = useState<{ where: WhereNow; word: string }>();
  const [name, setName] = useState(nameOf(topic.topic));
  const channels = channelsOf(topic, readings);
  const json = topic.values.some((v) => v.pointer !== "");
  const ready = channels.length > 0 && where !== undefined && name.trim() !== "";
  const deed = () => {
    if (!ready) return;
    const time = Object.entries(readings).find(([, r]) => r.use === "time")?.[0];
    queue.add({ kind: "probe", name: name.trim(), topic: topic.topic, format: json ? "json" : "plain", channels, where: where.where, ...(time ? { time_pointer: time } : {}) });
    go("/caves");
  };
  const low = ready ? t("probes.deed.low", { what: joined(...channels.map((c) => t(`channel.${c.kind}`))), where: where.word }) : t("probes.deed.missing");
  return (
    <Book place="caves" title={topic.topic} class="withdeed" foot={<Deed verb={t("probes.deed")} low={low} tap={deed} off={!ready} />}>
      <section class="leaf">
        <TitleHead title={<span class="topic">{topic.topic}</span>} note={<span class="sample">{topic.sample}</span>} />
        {topic.values.length === 0 && <Entry>{t("probes.unreadable")}</Entry>}
        {topic.values.map((value) => (
          <ValueRows key={value.pointer} value={value} json={json} reading={readings[value.pointer] ?? { use: "unused" }}
                     set={(reading) => setReadings({ ...readings, [value.pointer]: reading })} />
        ))}
        <GroupHead b={t("probes.where")} />
        <WherePicker slim caves={plans?.caves ?? []} chosen={where?.where} choose={(to, word) => setWhere({ where: to, word })} />
        <Entry class="write1" m={<label for="probe-name">{t("probes.name")}</label>}>
          <input id="probe-name" class="field" maxLength={40} value={name} onInput={(e) => setName(e.currentTarget.value)} />
        </Entry>
      </section>
    </Book>
  );
}

export function HangPlace({ topic }: { topic: string }) {
  const answer = useArriving();
  const plans = useAnswer<Plans>("/api/plans").value;
  const page = answer.value;
  if (!page) return <Waiting place="caves" path={kArrivingPath} answer={answer} />;
  const found = page.topics.find((one) => one.topic === topic);
  if (found) return <HangLeaf topic={found} plans={plans} />;
  return (
    <Book place="caves" title={topic}>
      <section class="leaf">
        <TitleHead title={<span class="topic">{topic}</span>} note={t("probes.gone")} />
        <WordLink href="/probes">{t("probes.title")}</WordLink>
      </section>
    </Book>
  );
}

// "I am here" and "I am out": whoever is at the cave is not rung for its door and its air. Gas is never quieted: its
// figure stands large, and a phone that was allowed to sounds at once.
import type { Alarm, Cave } from "../../api";
import { useCell } from "../../cell";
import { now } from "../../clock";
import { StateGlyph } from "../../draw/glyphs";
import { here as sayHere, out } from "../../house/acts";
import { bell, mayRing, ringing, silent } from "../../house/bell";
import { useEntries } from "../../house/hooks";
import { useMe } from "../../house/keeper";
import { spoken } from "../../figures";
import { useKeepers } from "../round/line";
import { clockWord, ppm } from "../../parts/alarm_words";
import { isLoud } from "../../parts/alarms";
import { gasLine, peopleWord } from "../../parts/gas_words";
import { Entry } from "../../parts/leaf";
import { t } from "../../words";
import { hereUntil, isBarred, whoIsHere } from "./here";

type Gas = NonNullable<Cave["gas"]>[number];

const isBad = (gas: Gas) => ["watch", "act", "urgent"].includes(gas.grade);
const limitsOf = (gas: Gas) => ({ watch: ppm(gas.watch), act: ppm(gas.act), urgent: gas.urgent === undefined ? "" : ppm(gas.urgent) });

/** `said`: what it asks of people stands beside it already. */
function GasFigure({ gas, large, said = false }: { gas: Gas; large: boolean; said?: boolean }) {
  const state = gas.grade;
  const known = state !== "unknown";
  return (
    <div class={`gas ${large ? "large" : ""} ${isBad(gas) ? "bad" : ""}`} role={isHigh(gas) ? "alert" : undefined}>
      <b class="figure">{known ? ppm(gas.latest!) : "–"}</b>{" "}
      <span class="unit">{t("gas.unit", { gas: t(`gas.${gas.kind}`) })}</span>
      {!said && <p class="note">{t(`gas.${state}`, limitsOf(gas))}</p>}
    </div>
  );
}

/** Whoever is there has to come out. */
export const isHigh = (gas: Gas) => gas.grade === "act" || gas.grade === "urgent";

/** The gases of a cave that people have to know of first: what is high, and what an alarm stands of, taken or not. */
export const gasFirst = ({ gas = [] }: Pick<Cave, "gas">, alarms: Alarm[]): Gas[] =>
  gas.filter((one) => isHigh(one) || alarms.some((alarm) => alarm.kind === one.kind && isLoud(alarm)));

/** What alarms of gas ask of people: who may be inside, and each order once. */
function orders(alarms: Alarm[]): string {
  const without = ({ value: _figure, ...alarm }: Alarm) => gasLine(alarm);   // it stands above
  return [...new Set([...alarms.map(peopleWord), ...alarms.map(without)])].filter(Boolean).join(" ");
}

/** Beside a cave among others: before how its air keeps its band. `alarms`: those of gas that stand of it. */
export function GasHigh({ gas, alarms }: { gas: Gas[]; alarms: Alarm[] }) {
  const asked = orders(alarms);
  return (
    <>
      {gas.map((one) => (
        <p key={one.kind} class="state bad high">
          <StateGlyph state={one.grade === "unknown" ? "unknown" : "out of band"} /> <span class="fig red">{one.grade === "unknown" ? "–" : ppm(one.latest!)}</span> {t("gas.unit", { gas: t(`gas.${one.kind}`) })}
        </p>
      ))}
      {asked && <p class="note strong bad">{asked}</p>}
    </>
  );
}

/** Beside a cave among others: the figure alone. */
export function GasNotes({ gas }: { gas: Gas[] }) {
  return (
    <>
      {gas.map((one) => {
        const known = one.grade !== "unknown";
        const text = t(known ? "caves.gas" : "caves.gas unknown", { gas: t(`gas.${one.kind}`), value: known ? ppm(one.latest!) : "" });
        return <p key={one.kind} class={`note ${isBad(one) || !known ? "strong" : ""}`}>{text}</p>;
      })}
    </>
  );
}

/** Sound needs a tap of the keeper's own: without one no phone makes any. While it asks for one, the foot says so. */
function Bell({ cave }: { cave: number }) {
  const allowed = useCell(mayRing);
  const told = [useCell(ringing), useCell(silent)].some(Boolean);
  if (told) return null;
  return allowed ? <p class="note">{t("bell.ready")}</p> : <button type="button" class="tap back" onClick={() => bell(cave)}>{t("bell.allow")}</button>;
}

/** The figure of the gas that an alarm of the cave's own page is about; the alarm says the rest. */
export function AlarmFigure({ cave, alarm }: { cave: Cave; alarm: Alarm }) {
  const gas = cave.gas?.find((one) => one.kind === alarm.kind);
  return gas ? <GasFigure gas={gas} large said={(alarm.warnings ?? []).length > 0} /> : null;
}

/** `without`: the kind whose figure stands with its alarm. */
export function GasFigures({ cave, without }: { cave: Cave; without: string | undefined }) {
  const entries = useEntries();
  if (!cave.gas) return null;
  const large = hereUntil(cave, entries) !== undefined || cave.gas.some(isBad);
  return (
    <>
      {cave.gas.filter((gas) => gas.kind !== without).map((gas) => <GasFigure key={gas.kind} gas={gas} large={large} />)}
      <Bell cave={cave.id} />
    </>
  );
}

export function Presence({ cave }: { cave: Cave }) {
  const entries = useEntries();
  const until = hereUntil(cave, entries);
  const who = whoIsHere(cave, entries);
  const name = useMe(useKeepers());
  if (cave.state === "not watched" && !cave.gas) return null;
  const quiet = cave.quiet_until !== undefined && cave.quiet_until > now() ? cave.quiet_until : undefined;
  // Who is not there herself can still say that she is; that nobody is there is not hers to say.
  const others = name !== "" && who.length > 0 && !who.includes(name);
  const here = until !== undefined && !others;
  // Where the text says to stay out nobody is asked in; who is there can say to be out.
  const barred = until === undefined && isBarred(cave);
  const time = until === undefined ? "" : clockWord(until, now());
  return (
    <Entry class="full presence" m={until !== undefined && <span class="hand strong">{[time, ...who].join(" ")}</span>}>
      {until !== undefined && who.length > 0 && <p class="word pad hand">{t("here.by", { names: spoken(who), time })}</p>}
      <span class="cells c2">
        <button type="button" class={here ? "on" : undefined} aria-pressed={here} disabled={barred} onClick={() => { if (cave.gas) bell(cave.id); sayHere(cave.id); }}>{t("here.here")}</button>
        <button type="button" onClick={() => out(cave.id)} disabled={!here}>{t("here.out")}</button>
      </span>
      <p class="note pad">{until !== undefined ? t(cave.gas?.some(isBad) && here ? "here.gas" : "here.until", { time }) : barred ? t("here.barred") : quiet ? t("here.quiet", { time: clockWord(quiet, now()) }) : t("here.low")}</p>
    </Entry>
  );
}

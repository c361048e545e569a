// Alarms on top of each place: what, since when, for which wheels and when; and "take it". Many are folded into one line.
import type { Alarm, AlarmWord } from "../api";
import { now } from "../clock";
import { StateGlyph, WaitGlyph } from "../draw/glyphs";
import { useCell } from "../cell";
import { dateOf } from "../days";
import { degrees } from "../figures";
import { me } from "../house/keeper";
import type { ShownAlarm } from "../house/overlay";
import { touch } from "../house/touch";
import { take } from "../house/acts";
import { many, opening, t } from "../words";
import { alarmFigure, alarmPath, alarmWord, asks, canWait, clockWord, gapFigure, gapOf, goesWord, insideWord, isForeseen, isUntold, saidBy, standWord, toldSince, whenWord } from "./alarm_words";
import { gasLine, peopleWord } from "./gas_words";
import { isBlind, isGas, isOfAir } from "./kinds";
import { wheelsOf } from "./names";

export const sideOf = (alarm: Alarm): -1 | 1 => (alarm.kind === "too cold" || alarm.kind === "too dry" ? -1 : 1);

/** The mean that the alarm judges is inside its band again; out of touch with the house nobody knows. */
export const isInside = (alarm: Alarm): boolean => touch.value.in && alarm.inside === true;

/** Back in its band, and not yet as far in as the alarm waits for. */
export const isNearlyInside = (alarm: Alarm): boolean => touch.value.in && alarm.over === undefined && alarm.ends_at !== undefined;

/** Asks to be taken: no hint, question or what can wait, and nothing that is taken, set aside, back inside or over. */
export function rings(alarm: Alarm): boolean {
  return alarm.severity !== "hint" && !canWait(alarm) && alarm.taken === undefined && alarm.over === undefined && alarm.aside_until === undefined
    && alarm.quiet !== true && !asks(alarm) && !isInside(alarm);
}

/** Stands in red ink: what is a quiet notice stands as calm as its letter is, though it asks to be taken. Gas is people's
    matter for as long as it stands: that somebody took it airs no cave. */
export const isLoud = (alarm: Alarm): boolean => (rings(alarm) || (isGas(alarm.kind) && alarm.over === undefined)) && (alarm.severity === "act" || alarm.severity === "urgent");

/** Gas that was urgent and is so by its figure of now, or of which nobody knows: taken or not. */
const isUrgentGas = (alarm: Alarm): boolean => isGas(alarm.kind) && alarm.over === undefined && (alarm.grade === "urgent" || alarm.grade === "unknown");

/** "urgent", while it asks to be taken, and of gas as long as it is: how grave it is, in a word. */
export const graveWord = (alarm: Alarm): string => (alarm.severity === "urgent" && (rings(alarm) || isUrgentGas(alarm)) ? t("alarm.urgent") : "");

/** The same where it is told in full: that somebody took it, or is there, makes it no less urgent. */
export const graveWordInFull = (alarm: Alarm): string =>
  (alarm.severity === "urgent" && alarm.over === undefined && !isInside(alarm) && !isGas(alarm.kind) ? t("alarm.urgent") : graveWord(alarm));

export function alarmState(alarm: Alarm) {
  if (alarm.kind !== "unwatched" && (alarm.over !== undefined || isInside(alarm))) return "in band";
  if (isBlind(alarm.kind) || asks(alarm)) return "unknown";
  // Red ink is for what left its band, and for what is grave: an early sign is a bead at the rail.
  return alarm.severity === "watch" && !isOfAir(alarm.kind) ? "drifting" : "out of band";
}

/** "Fridge too warm"; of a question "Fridge: door perhaps ajar?", of a time that nobody watched its span. */
export function alarmTitle(alarm: Alarm): string {
  const gap = gapOf(alarm);
  if (gap) return t("alarm.title gap", { cave: alarm.cave_name, from: clockWord(gap.from, now()), to: clockWord(gap.to, now()) });
  if (asks(alarm)) return t("alarm.asks", { cave: alarm.cave_name });
  return t("alarm.title", { cave: alarm.cave_name, what: alarmWord(alarm) });
}

/** What is at stake: the first wheels that it comes to and when, else the figure. */
function stake(alarm: Alarm): string {
  const [first, ...others] = alarm.concerns;
  if (asks(alarm)) return alarm.value === undefined ? "" : t("alarm.asks.low", { value: degrees(alarm.value) });
  if (alarm.why === "one probe" && alarm.said) return t("alarm.said.odds", { said: saidBy(alarm.said) });
  if (!first) return alarmFigure(alarm, alarm.value);
  const many = (groups: Alarm["concerns"]) => groups.reduce((sum, group) => sum + group.count, 0);
  const and = (count: number) => (count > 0 ? t("alarm.and more", { wheels: named, count }) : named);
  const named = wheelsOf([{ count: first.count, family: first.family }]);
  const whenOf = (group: Alarm["concerns"][number]) => whenWord(alarm, group, now());
  const when = whenOf(first);
  if (!when) return t("alarm.matters", { wheels: and(many(others)) });
  const alike = many(others.filter((group) => whenOf(group) === when));
  const later = many(others.filter((group) => whenOf(group) !== when && isForeseen(group)));
  return t(later > 0 ? "alarm.matters then" : "alarm.matters when", { wheels: and(alike), when, count: later });
}

/** Of a time that nobody watched: whether anybody took it, else what is known of its air. Its page says the rest. */
const gapLine = (alarm: ShownAlarm): string => (isUntold(alarm) || (alarm.taken !== undefined && alarm.over === undefined) ? standWord(alarm, now()) : gapFigure(alarm));

/** The time that nobody watched stands in the margin, so that its name is brief. */
const briefTitle = (alarm: Alarm): string => (gapOf(alarm) ? t("alarm.gap.brief", { cave: alarm.cave_name }) : alarmTitle(alarm));

/** How it stands, in one line: taken by whom and when comes before what it was. */
export function lowLine(alarm: ShownAlarm): string {
  const stands = goesWord(alarm, me.value, now()) || standWord(alarm, now());
  if (alarm.kind === "unwatched") return gapLine(alarm);
  if (alarm.over !== undefined) return stands;
  const gas = gasLine(alarm);
  // Of what nobody knows no figure stands behind the order, which is a sentence of its own then.
  if (gas && stands) return gas.endsWith(".") ? `${gas} ${opening(stands)}` : `${gas}, ${stands}`;
  if (gas) return gas;
  if (alarm.taken !== undefined) return [stands, alarm.what && wasWord(alarm)].filter(Boolean).join(". ");
  if (alarm.aside_until !== undefined) return stands;
  if (isInside(alarm) || isNearlyInside(alarm)) return insideWord(alarm, now());
  return stands || stake(alarm);
}

const kWhatsOfAir = ["door", "defrost", "delivery", "plant", "probe", "power", "other"] as const;
// The rinds make it, and a room that is shut or whose fan stands keeps it. Common practice, no source.
const kWhatsOfGas = ["shut", "fan", "rinds", "power", "probe", "other"] as const;
export type WhatWord = (typeof kWhatsOfAir)[number] | (typeof kWhatsOfGas)[number];
const kWhats: readonly string[] = [...kWhatsOfAir, ...kWhatsOfGas];
/** What it can have been: gas has other causes than the air's warmth. */
export const whatsOf = (alarm: Pick<Alarm, "kind">): readonly WhatWord[] => (isGas(alarm.kind) ? kWhatsOfGas : kWhatsOfAir);
export const whatWord = (what: string) => (kWhats.includes(what) ? t(`what.${what as WhatWord}`) : what);

const kOfProbe: readonly AlarmWord[] = ["probe silent", "probe stuck", "probe wet", "probes disagree", "battery low"];

/** "plant", of a plant that does not keep up: its name says it already. */
function repeatsKind(what: string, kind: AlarmWord): boolean {
  if (what === "probe") return kOfProbe.includes(kind);
  return (what === "plant" && kind === "plant weak") || (what === "power" && kind === "power gone") || (what === "door" && kind === "door open");
}

/** What it was, under its name: "It was: defrost"; nothing where the name says it, and that nobody said it yet. */
export function wasWord({ what, kind }: Pick<Alarm, "what" | "kind">): string {
  if (!what) return t("alarms.not said");
  return repeatsKind(what, kind) ? "" : t("alarm.it was", { what: whatWord(what) });
}

/** `people`: says who may be inside, unless a strip above it says so of the same place. */
function Strip({ alarm, people }: { alarm: ShownAlarm; people: boolean }) {
  useCell(touch);
  useCell(me);
  const inside = people && alarm.over === undefined ? peopleWord(alarm) : "";
  const loud = isLoud(alarm);
  const title = alarmTitle(alarm), gap = gapOf(alarm);
  return (
    <section class={`entry ring ${loud ? "" : "calm"}`} aria-label={title}>
      <span class="m">
        <StateGlyph state={alarmState(alarm)} side={sideOf(alarm)} size={loud ? 1.4 : 1} />
        <b>{graveWord(alarm) && <>{graveWord(alarm)} </>}{clockWord(toldSince(alarm), now())}{gap && <> {t("alarm.gap.to", { to: clockWord(gap.to, dateOf(gap.to) === dateOf(gap.from) ? gap.to : now()) })}</>}</b>
      </span>
      <span class="b">
        <a class="what" href={alarmPath(alarm)}>
          <span class="verb">{briefTitle(alarm)}</span>
          <span class={`low ${isUntold(alarm) ? "untold" : ""}`}>{isUntold(alarm) && <WaitGlyph />}{inside ? <><b>{inside}</b> <span class="inline">{lowLine(alarm)}</span></> : lowLine(alarm)}</span>
        </a>
        {alarm.taken === undefined && (
          <button type="button" class="undo" onClick={() => take(alarm.id)}>{t(alarm.over === undefined ? "alarm.take" : "alarm.seen")}<span class="sr"> {title}</span></button>
        )}
      </span>
    </section>
  );
}

const kMost = 2; // strips on top of a place; more are one line

/** Whether an alarm of another place is this page's matter too. */
export type Near = (alarm: Alarm) => boolean;

const kGravest: Alarm["severity"][] = ["urgent", "act", "watch", "hint"];

const byName = new Intl.Collator("en", { numeric: true });
const kTogether = 5 * 60_000; // what rang within it rang at once: such stand as their names are counted

/** Gas at act or above first, taken or not, and what leaves it unknown; those that ring, the gravest before, and gas that is less among them; then what
    lasts quietly, what is taken, what can wait; of what is over what began last first, as it is labelled. */
export function inOrder<Shown extends Alarm>(alarms: Shown[]): Shown[] {
  const ofPeople = isForPeople;
  const stand = (a: Alarm) => (a.over !== undefined ? 4 : ofPeople(a) ? -1 : canWait(a) ? 3 : rings(a) || isGas(a.kind) ? 0 : a.taken !== undefined ? 2 : 1);
  const rank = (a: Alarm) => stand(a) * 4 + (a.over === undefined ? kGravest.indexOf(a.severity) : 0) - (isGas(a.kind) ? 0.5 : 0);
  const newest = (a: Alarm, b: Alarm) => (a.over !== undefined && b.over !== undefined ? b.since - a.since : 0);
  const span = (a: Alarm) => (a.over === undefined ? Math.floor(a.raised / kTogether) : 0);
  return [...alarms].sort((a, b) => rank(a) - rank(b) || newest(a, b) || span(a) - span(b) || byName.compare(a.cave_name, b.cave_name));
}

/** What one tap takes together: what wants a hand. Gas is taken by itself, for people are at stake and its steps are others. */
export const takable = <Shown extends Alarm>(alarms: Shown[]): Shown[] =>
  alarms.filter((a) => rings(a) && (a.severity === "act" || a.severity === "urgent") && !isForPeople(a));

/** People breathe it, from act on, taken or not; or nobody knows it, and that rings. It is never one of many in a line. */
export const isForPeople = (alarm: Alarm): boolean =>
  alarm.over === undefined && (alarm.severity === "act" || alarm.severity === "urgent") && (isGas(alarm.kind) || (alarm.darkens_gas === true && rings(alarm)));

/** The gravest that rings, from act on, where all that has a strip, or that the page is `about`, is less grave. */
function unsaid<Shown extends Alarm>(alarms: Shown[], strips: Shown[], about: Alarm[]): Shown[] {
  const gravity = (a: Alarm) => (a.over === undefined ? kGravest.length - kGravest.indexOf(a.severity) : 0);
  const said = Math.max(kGravest.length - kGravest.indexOf("watch"), ...strips.filter(rings).map(gravity), ...about.map(gravity));
  return alarms.filter((a) => rings(a) && gravity(a) > said).slice(0, 1);
}

/** As many as leave room for the place, and what nobody may miss. `about`: those that a page with `beside` is about. */
export function folded<Shown extends Alarm>(alarms: Shown[], beside?: Near, about: Alarm[] = []): { shown: Shown[]; rest: Shown[] } {
  const open = inOrder(alarms.filter((a) => a.over === undefined || a.taken === undefined));
  const most = !beside && open.length > kMost ? 1 : kMost;
  const room = open.filter((a) => !beside || isForPeople(a) || (rings(a) && a.severity === "urgent") || beside(a)).slice(0, most);
  const strips = open.filter((a) => isForPeople(a) || room.includes(a));
  const more = unsaid(open, strips, about);
  const shown = open.filter((a) => strips.includes(a) || more.includes(a));
  return { shown, rest: open.filter((a) => !shown.includes(a)) };
}

/** "13 not taken yet, 2 urgent": of those that stand in one line. */
export function foldedWord(rest: Alarm[]): string {
  const untaken = rest.filter((a) => a.taken === undefined && a.over === undefined).length;
  const urgent = rest.filter((a) => graveWord(a) !== "").length;
  const words = untaken === 0 ? "" : untaken === rest.length ? t("alarm.fold.untaken all") : many("alarm.fold.untaken", untaken);
  return [words, urgent > 0 && (urgent === rest.length && urgent === 1 ? t("alarm.urgent") : t("alarm.fold.urgent", { count: urgent }))].filter(Boolean).join(", ");
}

function Fold({ rest, others }: { rest: Alarm[]; others: boolean }) {
  const said = foldedWord(rest);
  return (
    <a class="entry ring calm fold" href="/alarms">
      <span class="m" />
      <span class="b"><span class="what"><span class="verb">{many(others ? "alarm.fold others" : "alarm.fold", rest.length)}</span>
        {said && <span class="low">{said}</span>}</span></span>
    </a>
  );
}

interface StripsProps { alarms: ShownAlarm[]; all?: boolean; beside?: Near | undefined; about?: Alarm[] }

/** `beside`: the page is about an alarm or a place itself, so of the others only what is urgent or near has a strip, gas
    for people, and what is graver than all of that. */
export function AlarmStrips({ alarms, all, beside, about }: StripsProps) {
  const { shown, rest } = all ? { shown: inOrder(alarms), rest: [] } : folded(alarms, beside, about);
  return (
    <>
      {shown.map((alarm, i) => <Strip key={alarm.id} alarm={alarm} people={!shown.slice(0, i).some((one) => one.cave === alarm.cave && peopleWord(one))} />)}
      {rest.length > 0 && <Fold rest={rest} others={shown.length === 0} />}
    </>
  );
}

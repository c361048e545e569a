// The phone's own bell: a tone and a shake, after a tap has allowed it, for as long as gas asks. The figure itself rings
// at once, before the watch has made an alarm of it. It stands in no stead of a bell on the wall: a phone that sleeps is
// silent. That it was allowed is kept on the phone; a page that is opened anew says that it is silent until it is tapped.
import type { Alarm, Cave, CavePage } from "../api";
import { Cell } from "../cell";
import { now } from "../clock";
import { ask, cellOf, head } from "./answers";
import { touch } from "./touch";

/** The keeper tapped: this page may sound. */
export const mayRing = new Cell(false);
/** It sounds now. */
export const ringing = new Cell(false);
/** It would sound now, as it was allowed to on this phone; but nobody has tapped since the page was opened. */
export const silent = new Cell(false);

const kEach = 1_500;   // ms between two strokes
const kLook = 10_000;  // ms between two looks at the cave whose gas is listened for
const kStroke = 0.45;  // s
const kPitches = [880, 660] as const;

type Gas = NonNullable<Cave["gas"]>[number];
type Gases = Pick<Cave, "id" | "gas">;

/** What asks for the bell: an alarm, or a figure of gas, and how grave that is. */
interface Asked { key: string; grade: string }

let audio: AudioContext | undefined;
let timer: ReturnType<typeof setInterval> | undefined;
const listened = new Set<string>();   // addresses of caves
const tapped = new Set<string>();     // of those: since the page was opened
let hushed = new Map<string, string>();   // what was hushed, at which grade

const isAboutGas = (alarm: Alarm) => alarm.kind === "carbon dioxide" || alarm.kind === "ammonia";

/** Gas at which people must leave, or be careful; other alarms have other bells. */
export const asksForBell = (alarm: Alarm) => isAboutGas(alarm) && alarm.severity !== "hint" && alarm.over === undefined && alarm.taken === undefined;

const figureKey = (cave: number, kind: string) => `${cave} ${kind}`;

/**
 * The gases of a cave whose figure asks by itself: from the limit at which it is said while somebody is there, and when
 * their probe falls silent, for then nobody knows. Whether the alarm is taken, and by whom, says nothing of who is inside.
 */
export function gasAsks({ id, gas = [] }: Gases): Asked[] {
  return gas.filter((g: Gas) => g.latest !== undefined && g.grade !== "low").map((g) => ({ key: figureKey(id, g.kind), grade: g.grade }));
}

const kRising = ["hint", "low", "watch", "act", "urgent"];

/** Whether what was hushed stays so: what is graver than it was rings again, and so does what nobody knows any more. */
export function staysHushed(was: string | undefined, grade: string): boolean {
  if (was === undefined) return false;
  if (was === "unknown" || grade === "unknown") return was === grade;
  return kRising.indexOf(grade) <= kRising.indexOf(was);
}

/** What is over is no more hushed, and what has eased is as it is now: if it gets worse again it rings again. */
export const hushedNow = (was: ReadonlyMap<string, string>, asked: Asked[]): Map<string, string> =>
  new Map(asked.filter((one) => staysHushed(was.get(one.key), one.grade)).map((one) => [one.key, one.grade]));

const kKept = "sounds";

/** The caves that this phone was allowed to sound for; none: it never was. */
function kept(): number[] | undefined {
  try {
    const caves: unknown = JSON.parse(localStorage.getItem(kKept) ?? "null");
    return Array.isArray(caves) ? caves.filter((cave) => typeof cave === "number") : undefined;
  } catch {
    return undefined;
  }
}

function keep(cave: number): void {
  try {
    localStorage.setItem(kKept, JSON.stringify([...new Set([...(kept() ?? []), cave])]));
  } catch {
    // Allowed until the page is closed.
  }
}

/** Of a cave tapped since the page was opened each figure asks; of one remembered only while somebody is in. */
function figuresOf(path: string): Asked[] {
  const cave = cellOf<CavePage>(path).value.value?.cave;
  const in_there = cave?.here_until !== undefined && cave.here_until > now();
  return cave && (tapped.has(path) || in_there) ? gasAsks(cave) : [];
}

function asking(): Asked[] {
  const alarms = (head.value?.alarms ?? []).filter(asksForBell).map((a) => ({ key: a.id, grade: a.severity }));
  return [...alarms, ...(touch.value.in ? [...listened].flatMap(figuresOf) : [])];
}

function stroke(): void {
  navigator.vibrate?.([300, 150, 300]);
  if (!audio || audio.state !== "running") return;
  kPitches.forEach((pitch, i) => {
    const tone = audio!.createOscillator();
    const loud = audio!.createGain();
    tone.frequency.value = pitch;
    const from = audio!.currentTime + i * kStroke;
    loud.gain.setValueAtTime(0.4, from);
    loud.gain.exponentialRampToValueAtTime(0.001, from + kStroke);
    tone.connect(loud).connect(audio!.destination);
    tone.start(from);
    tone.stop(from + kStroke);
  });
}

function listen(): void {
  const asked = asking();
  // Out of touch no figure asks; what was hushed is not forgotten for that.
  if (touch.value.in) hushed = hushedNow(hushed, asked);
  const loud = asked.some((one) => !hushed.has(one.key));
  silent.set(loud && !mayRing.value && kept() !== undefined);
  const wanted = loud && mayRing.value;
  if (wanted === ringing.value) return;
  ringing.set(wanted);
  clearInterval(timer);
  if (!wanted) return;
  stroke();
  timer = setInterval(stroke, kEach);
}

function listenTo(path: string): void {
  if (listened.has(path)) return;
  listened.add(path);
  cellOf<CavePage>(path).watch(listen);
  void ask(path);
  setInterval(() => void ask(path), kLook);
}

const pathOf = (cave: number) => `/api/caves/${cave}`;

/** The phone's loudspeaker. A call, or a glass that went dark, can take it away: then it is silent and says so. */
function opened(): AudioContext | undefined {
  if (typeof AudioContext === "undefined") return undefined;
  const one = new AudioContext();
  let ran = false;
  one.onstatechange = () => {
    ran ||= one.state === "running";
    if (!ran || one.state === "running") return;
    mayRing.set(false);
    listen();
  };
  return one;
}

/** Call from a tap, as `bell`: it sounds again where it was allowed to. */
export function letSound(): void {
  audio ??= opened();
  void audio?.resume();
  mayRing.set(true);
  listen();
}

/** Call from a tap: no phone lets a page sound before one. Listens on while another place is open. */
export function bell(cave: number): void {
  keep(cave);
  tapped.add(pathOf(cave));
  listenTo(pathOf(cave));
  letSound();
}

function hushAll(those: Asked[]): void {
  for (const { key, grade } of those) hushed.set(key, grade);
  listen();
}

/** Silent until another gas, or until this one gets worse. */
export const hush = (): void => hushAll(asking());

/** Whoever takes it on this phone knows of it: silent, here alone, until it gets worse or its probe falls silent. */
export function hushTaken(id: string): void {
  const alarm = head.value?.alarms.find((a) => a.id === id);
  const keys = alarm ? [id, figureKey(alarm.cave, alarm.kind)] : [];
  hushAll(asking().filter((one) => keys.includes(one.key)));
}

export function startBell(): void {
  head.watch(listen);
  touch.watch(listen);
  for (const cave of kept() ?? []) listenTo(pathOf(cave));
}

// The phone's own bell: a tone and a shake, after a tap has allowed it, for as long as gas asks. The figure itself rings
// at once, before the watch has made an alarm of it. It stands in no stead of a bell on the wall: a phone that sleeps is
// silent.
import type { Alarm, Cave, CavePage } from "../api";
import { Cell } from "../cell";
import { ask, cellOf, head } from "./answers";
import { touch } from "./touch";

/** The keeper tapped: this page may sound. */
export const mayRing = new Cell(false);
/** It sounds now. */
export const ringing = new Cell(false);

const kEach = 1_500;   // ms between two strokes
const kLook = 10_000;  // ms between two looks at the cave whose gas is listened for
const kStroke = 0.45;  // s
const kPitches = [880, 660] as const;

let audio: AudioContext | undefined;
let timer: ReturnType<typeof setInterval> | undefined;
const listened = new Set<string>();   // addresses of caves
let hushed = new Set<string>();

/** Gas at which people must leave, or be careful; other alarms have other bells. */
export const asksForBell = (alarm: Alarm) => (alarm.kind === "carbon dioxide" || alarm.kind === "ammonia") && alarm.severity !== "hint" && alarm.over === undefined && alarm.taken === undefined;

/**
 * The gases of a cave whose figure asks by itself: from the limit at which it is said while somebody is there, and when
 * their probe falls silent, for then nobody knows.
 */
export function gasAsks({ id, gas = [] }: Pick<Cave, "id" | "gas">): string[] {
  const heard = gas.filter((g) => g.latest !== undefined && g.grade !== "low");
  return heard.map((g) => `${id} ${g.kind} ${g.grade === "urgent" ? "act" : g.grade}`);
}

function asking(): string[] {
  const alarms = (head.value?.alarms ?? []).filter(asksForBell).map((a) => `${a.id} ${a.severity}`);
  const figures = touch.value.in ? [...listened].flatMap((path) => gasAsks(cellOf<CavePage>(path).value.value?.cave ?? { id: 0 })) : [];
  return [...alarms, ...figures];
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
  const now = asking();
  hushed = new Set([...hushed].filter((key) => now.includes(key)));
  const wanted = mayRing.value && now.some((key) => !hushed.has(key));
  if (wanted === ringing.value) return;
  ringing.set(wanted);
  clearInterval(timer);
  if (!wanted) return;
  stroke();
  timer = setInterval(stroke, kEach);
}

function listenTo(cave: number): void {
  const path = `/api/caves/${cave}`;
  if (listened.has(path)) return;
  listened.add(path);
  cellOf<CavePage>(path).watch(listen);
  setInterval(() => void ask(path), kLook);
}

/** Call from a tap: no phone lets a page sound before one. Listens on while another place is open. */
export function bell(cave: number): void {
  audio ??= typeof AudioContext === "undefined" ? undefined : new AudioContext();
  void audio?.resume();
  mayRing.set(true);
  listenTo(cave);
  listen();
}

/** Silent until another gas, or until this one gets worse. */
export function hush(): void {
  for (const key of asking()) hushed.add(key);
  listen();
}

export function startBell(): void {
  head.watch(listen);
  touch.watch(listen);
}

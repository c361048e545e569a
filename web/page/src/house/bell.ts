// The phone's own bell: a tone and a shake, after a tap has allowed it, for as long as gas asks. It stands in no
// stead of a bell on the wall: a phone that sleeps is silent.
import type { Alarm } from "../api";
import { Cell } from "../cell";
import { head } from "./answers";

/** The keeper tapped: this page may sound. */
export const mayRing = new Cell(false);
/** It sounds now. */
export const ringing = new Cell(false);

const kEach = 1_500;   // ms between two strokes
const kStroke = 0.45;  // s
const kPitches = [880, 660] as const;

let audio: AudioContext | undefined;
let timer: ReturnType<typeof setInterval> | undefined;
let hushed = new Set<string>();

/** Gas at which people must leave, or be careful; other alarms have other bells. */
export const asksForBell = (alarm: Alarm) => (alarm.kind === "carbon dioxide" || alarm.kind === "ammonia") && alarm.severity !== "hint" && alarm.over === undefined && alarm.taken === undefined;

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

function listen(alarms: Alarm[]): void {
  const asking = alarms.filter(asksForBell);
  hushed = new Set([...hushed].filter((id) => asking.some((a) => `${a.id} ${a.severity}` === id)));
  const wanted = mayRing.value && asking.some((a) => !hushed.has(`${a.id} ${a.severity}`));
  if (wanted === ringing.value) return;
  ringing.set(wanted);
  clearInterval(timer);
  if (!wanted) return;
  stroke();
  timer = setInterval(stroke, kEach);
}

/** Call from a tap: no phone lets a page sound before one. */
export function bell(): void {
  audio ??= typeof AudioContext === "undefined" ? undefined : new AudioContext();
  void audio?.resume();
  mayRing.set(true);
  listen(head.value?.alarms ?? []);
}

/** Silent until another alarm, or until this one gets worse. */
export function hush(): void {
  for (const alarm of head.value?.alarms ?? []) if (asksForBell(alarm)) hushed.add(`${alarm.id} ${alarm.severity}`);
  listen(head.value?.alarms ?? []);
}

export function startBell(): void {
  head.watch(() => listen(head.value?.alarms ?? []));
}

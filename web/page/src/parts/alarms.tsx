// Alarms on top of each place: what, since when, for which wheels; and "take it".
import type { Alarm } from "../api";
import { StateGlyph } from "../draw/glyphs";
import { hour } from "../days";
import { useCell } from "../cell";
import { touch } from "../house/touch";
import { take } from "../house/acts";
import { t } from "../words";
import { isBlind, isOfAir } from "./kinds";
import { wheelsOf } from "./names";

export const sideOf = (alarm: Alarm): -1 | 1 => (alarm.kind === "too cold" || alarm.kind === "too dry" ? -1 : 1);

/** The mean that the alarm judges is inside its band again; out of touch with the house nobody knows. */
function isInside({ kind, over, value, band }: Alarm): boolean {
  return touch.value.in && over === undefined && isOfAir(kind) && value !== undefined && band !== undefined && value >= band.low && value <= band.high;
}

/** A hint, and what is taken, back inside or over, stands quietly; the rest in red ink. */
export function rings(alarm: Alarm): boolean {
  return alarm.severity !== "hint" && alarm.taken === undefined && alarm.over === undefined && alarm.quiet !== true && !isInside(alarm);
}

export function alarmState(alarm: Alarm) {
  if (alarm.over !== undefined || isInside(alarm)) return "in band";
  return isBlind(alarm.kind) ? "unknown" : "out of band";
}

function lowLine(alarm: Alarm): string {
  if (alarm.over !== undefined) return t("alarm.over", { time: hour(alarm.over) });
  if (alarm.taken !== undefined) return alarm.what ? t("alarm.it was", { what: whatWord(alarm.what) }) : t("alarm.taken", { time: hour(alarm.taken) });
  if (isInside(alarm)) return t("alarm.inside");
  const [first, ...others] = alarm.wheels;
  if (!first) return "";
  const more = others.reduce((sum, group) => sum + group.count, 0);
  const wheels = wheelsOf([{ count: first.count, family: first.family }]);
  return t("alarm.matters", { wheels: more > 0 ? t("alarm.and more", { wheels, count: more }) : wheels });
}

const kWhats = ["door", "defrost", "delivery", "plant", "probe", "power", "other"] as const;
export type WhatWord = (typeof kWhats)[number];
export const whats: readonly WhatWord[] = kWhats;
export const whatWord = (what: string) => (kWhats.includes(what as WhatWord) ? t(`what.${what as WhatWord}`) : what);

function Strip({ alarm }: { alarm: Alarm }) {
  useCell(touch);
  const loud = rings(alarm);
  const title = t("alarm.title", { cave: alarm.cave_name, what: t(`alarm.${alarm.kind}`) });
  return (
    <section class={`entry ring ${loud ? "" : "calm"}`} aria-label={title}>
      <span class="m">
        <StateGlyph state={alarmState(alarm)} side={sideOf(alarm)} size={loud ? 1.4 : 1} />
        <b>{hour(alarm.since)}</b>
      </span>
      <span class="b">
        <a class="what" href={`/caves/${alarm.cave}`}>
          <span class="verb">{title}</span>
          <span class="low">{lowLine(alarm)}</span>
        </a>
        {alarm.taken === undefined && (
          <button type="button" class="undo" onClick={() => take(alarm.id)}>{t("alarm.take")}<span class="sr"> {title}</span></button>
        )}
      </span>
    </section>
  );
}

export function AlarmStrips({ alarms }: { alarms: Alarm[] }) {
  return (
    <>
      {alarms.filter((a) => a.over === undefined || a.taken === undefined).map((alarm) => <Strip key={alarm.id} alarm={alarm} />)}
    </>
  );
}

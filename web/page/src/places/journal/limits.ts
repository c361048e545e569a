// What a keeper changed of a cave's limits, from what to what, in the words of the page that they are changed on.
import type { AlarmWord, JournalLine, LimitsChange, Span } from "../../api";
import { span } from "../../figures";
import { opening, t, unbroken, type WordKey } from "../../words";
import { groupOf, kKindOf, limitWord } from "../caves/limit_values";

function bandLine(channel: "temperature" | "humidity", { was, now }: { was?: Span; now?: Span }): string {
  const word = (band: Span | undefined) =>
    (band === undefined ? t("journal.limits.of wheels") : unbroken(channel === "humidity" ? `${span(band, 0)} %` : `${span(band)} °C`));
  return t("journal.limits.band", { channel: opening(t(`channel.${channel}`)), now: word(now), was: word(was) });
}

/** "Too warm, rings after: 40 min, was 25 min." */
function settingLine({ id, unit, was, now }: NonNullable<LimitsChange["settings"]>[number]): string {
  const values = { group: t(`limits.group.${groupOf({ id })}` as WordKey), what: t(`limit.${id}` as WordKey) };
  return t("journal.limits.setting", { ...values, now: limitWord({ unit }, now), was: limitWord({ unit }, was) });
}

/** As the head of its rule calls a kind: "too damp", "a probe is wet". */
function kindName(kind: AlarmWord): string {
  const group = Object.keys(kKindOf).find((name) => kKindOf[name] === kind);
  const name = group ? t(`limits.group.${group}` as WordKey) : t(`alarm.cry.${kind}`);
  return name.charAt(0).toLowerCase() + name.slice(1);
}
const names = (kinds: AlarmWord[]) => kinds.map(kindName).join(", ");

/** Undefined: what the line changed is not known, or it changed nothing. */
export function limitsText({ limits, place, cave_name }: Pick<JournalLine, "limits" | "place" | "cave_name">): string | undefined {
  if (!limits) return undefined;
  const changes = [
    limits.temperature && bandLine("temperature", limits.temperature),
    limits.humidity && bandLine("humidity", limits.humidity),
    ...(limits.settings ?? []).map(settingLine),
    limits.struck && t("journal.limits.struck", { names: names(limits.struck) }),
    limits.judged && t("journal.limits.judged", { names: names(limits.judged) }),
    limits.ready_cheese !== undefined && t(limits.ready_cheese ? "journal.limits.ready" : "journal.limits.ripens"),
  ].filter(Boolean).join(" ");
  return changes ? t("journal.limits.changed", { place: place || cave_name || "", changes }) : undefined;
}

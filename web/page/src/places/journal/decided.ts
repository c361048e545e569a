// What keepers decided of wheels, plans and the house, in the words of the book.
import type { FaultWord, JournalLine } from "../../api";
import { addDays, shortDate } from "../../days";
import { span, weight } from "../../figures";
import { daySpan, joined, lotWord, wheelsOf } from "../../parts/names";
import { many, opening, t, unbroken } from "../../words";

export interface Decided { hand: string; note?: string }

const place = (l: JournalLine) => l.place || l.cave_name || "";
const wheels = (l: JournalLine) => (l.family ? wheelsOf([{ count: l.count, family: l.family }]) : many("wheels.many", l.count));
/** Of which lot, and where it lay. */
const whose = (l: JournalLine) => opening(joined(lotWord(l.lot), place(l)));
const noted = (hand: string, note: string | undefined): Decided => (note ? { hand, note } : { hand });

/** How wheels went, in the keeper's words or in their own. */
export const howWord = (how: string | undefined) =>
  (how === "eaten" || how === "sold" || how === "given" || how === "lost" || how === "not found" ? t(`gone.${how}`) : how ?? "");

function fault(l: JournalLine): Decided {
  const what = opening(t(`fault.${(l.what ?? "something else") as FaultWord}`));
  const count = l.of_count && l.of_count > l.count ? t("journal.of", { count: l.count, of: l.of_count }) : wheels(l);
  return noted(t("journal.fault", { what, count, place: place(l) }), l.text);
}

function band(l: JournalLine): Decided {
  if (!l.temperature && !l.humidity) return { hand: t("journal.band.none", { count: wheels(l) }) };
  const figures = joined(l.temperature && unbroken(`${span(l.temperature)} °C`), l.humidity && unbroken(`${span(l.humidity, 0)} %`));
  return { hand: t("journal.band", { count: wheels(l), figures }) };
}

function plan(l: JournalLine): Decided {
  const values = { family: l.text ?? "", version: l.version ?? 1 };
  const hand = l.kind === "plan" ? t("journal.plan", { follow: many("journal.follow", l.count, { wheels: wheels(l) }), ...values }) : t("journal.plan text", values);
  return noted(hand, l.kind === "plan text" && l.count > 0 ? t("journal.plan.follow", { follow: many("journal.follow", l.count, { wheels: wheels(l) }) }) : undefined);
}

function away(l: JournalLine): Decided {
  const days = l.day && l.to ? daySpan(l.day, addDays(l.to, -1)) : "";
  return { hand: l.cave_name ? t("journal.away.place", { days, place: l.cave_name }) : t("journal.away", { days }) };
}

function past(l: JournalLine): Decided {
  const days = l.day && l.to ? daySpan(l.day, l.to) : "";
  return { hand: t(l.what === "away" ? "journal.past.away" : "journal.past.fine", { days }) };
}

function release(l: JournalLine): Decided {
  return noted(t("journal.release", { count: wheels(l) }), l.text ? t("journal.release.override", { name: l.text, reason: l.reason ?? "" }) : undefined);
}

function calendar(l: JournalLine): Decided {
  const days = (l.days ?? []).map((day) => t(`weekday.${day as 1 | 2 | 3 | 4 | 5 | 6 | 7}`)).join(", ");
  return { hand: days ? t("journal.calendar", { place: l.cave_name ?? "", days }) : t("journal.calendar.none", { place: l.cave_name ?? "" }) };
}

const kOfWheels: JournalLine["kind"][] = ["gone", "hold", "cut", "split", "band", "plan", "vouch", "release", "rule"];

/** Undefined: a line of another kind. What was decided of wheels says of which. */
export function decided(l: JournalLine): Decided | undefined {
  const said = saidOf(l);
  if (!said || l.count === 0 || !kOfWheels.includes(l.kind)) return said;
  return noted(said.hand, joined(whose(l), said.note));
}

function saidOf(l: JournalLine): Decided | undefined {
  const count = wheels(l);
  switch (l.kind) {
    case "gone": return { hand: t("journal.gone", { count, how: joined(howWord(l.what ?? ""), l.text && t("journal.gone.to", { to: l.text })) }) };
    case "fault": return fault(l);
    case "hold": return noted(t(l.what === "held" ? "journal.hold" : "journal.hold.over", { count }), l.reason);
    case "cut": return noted(t("journal.cut", { count, how: howWord(l.what) }), l.share_left === undefined ? undefined : t("journal.cut.left", { share: `${Math.round(l.share_left * 100)} %` }));
    case "split": return { hand: t("journal.split", { count, lot: lotWord(l.text) }) };
    case "band": return band(l);
    case "plan": case "plan text": return plan(l);
    case "away": return away(l);
    case "past": return past(l);
    case "vouch": return noted(t("journal.vouch", { name: l.text ?? "", count, days: l.day && l.to ? daySpan(l.day, l.to) : "" }), l.reason);
    case "release": return release(l);
    case "rule": return { hand: l.text ? t("journal.rule", { count, rule: l.text }) : t("journal.rule.none", { count }) };
    case "order": return { hand: l.what === "shelves" ? t("journal.order.shelves", { place: l.cave_name ?? "" }) : t("journal.order") };
    case "calendar": return calendar(l);
    case "share": return { hand: t("journal.share", { name: l.text ?? "", day: l.day ? shortDate(l.day) : "" }) };
    case "keeper": return { hand: t(l.what === "leaves" ? "journal.keeper.leaves" : "journal.keeper", { name: l.text ?? "" }) };
    case "hearing": return { hand: l.what === "leaves" ? t("journal.hearing.leaves", { name: l.text ?? "" }) : l.text ? t("journal.hearing", { name: l.text }) : t("journal.hearing.you") };
    case "feed": return { hand: t(l.what === "open" ? "journal.feed" : "journal.feed.shut") };
    default: return undefined;
  }
}

/** What a care says beside what was done: a weight, those that were left out. */
export function besideCare(l: JournalLine): string | undefined {
  const left = l.left_out;
  const out = left && (left.why ? t("journal.left out", { count: left.count, why: left.why }) : many("journal.left out.plain", left.count));
  return joined(l.grams !== undefined && weight(l.grams), out) || undefined;
}

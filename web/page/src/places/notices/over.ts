// Who hears, with what this phone has tapped and the house has not answered laid over it; and drafts. Pure.
import type { Hearer } from "../../api";
import { unknownTo } from "../../house/overlay";
import type { Entry } from "../../queue/entry";

/** What a keeper who begins to hear begins with: as the house has it where nothing is said. */
export function newHearer(name: string, rank: number): Hearer {
  return {
    name, rank, mail: [], webhooks: [], least: "watch", list: "work", morning: "06:30", evening: "18:00",
    quiet: { from: "22:00", to: "06:00" }, holidays: [],
  };
}

export function overHearers(hearers: Hearer[], asked_at: number, entries: Entry[]): Hearer[] {
  const shown = unknownTo(asked_at, entries).reduce((all, { act }): Hearer[] => {
    if (act.kind !== "hearing") return all;
    const name = act.name ?? "";
    const others = all.filter((hearer) => hearer.name !== name);
    return act.leaves ? others : [...others, { ...newHearer(name, 1), ...said(act) }];
  }, hearers);
  return [...shown].sort((a, b) => a.rank - b.rank);
}

/** The fields of a hearer that an act names. */
function said(act: Partial<Hearer>): Partial<Hearer> {
  const { name, rank, mail, webhooks, least, list, morning, evening, quiet, holidays } = act;
  const all = { name, rank, mail, webhooks, least, list, morning, evening, quiet, holidays };
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined)) as Partial<Hearer>;
}

/** "6:30", "06.30", "630" as an hour; none if it is no hour of a day. */
export function hourOf(text: string): string | undefined {
  const found = /^(\d{1,2})[:.h ]?(\d{2})$/.exec(text.trim()) ?? /^(\d{1,2})()$/.exec(text.trim());
  if (!found) return undefined;
  const hour = Number(found[1]), minute = Number(found[2] || 0);
  if (hour > 23 || minute > 59) return undefined;
  return `${String(hour).padStart(2, "0")}:${String(minute).padStart(2, "0")}`;
}

export const addressesOf = (text: string): string[] => text.split(/[\s,;]+/).filter(Boolean);

/** A day as the book writes it, if there is such a day. */
export function dayOf(text: string): string | undefined {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text.trim());
  if (!found) return undefined;
  const at = new Date(`${found[0]}T12:00:00Z`);
  return Number.isNaN(at.getTime()) || at.toISOString().slice(0, 10) !== found[0] ? undefined : found[0];
}

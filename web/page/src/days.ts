// Days of the keeper ("2026-11-25") and hours on the wall, in the zone of the house.
import type { Day, Instant } from "./api";

const kDay = 86_400_000;

let zone = "UTC";
const formats = new Map<string, Intl.DateTimeFormat>();

export function setZone(name: string): void {
  if (name === zone) return;
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
  } catch {
    return; // a phone with older zone tables than the house: stay with what we have
  }
  zone = name;
  formats.clear();
}

function format(options: Intl.DateTimeFormatOptions, timeZone = zone): Intl.DateTimeFormat {
  const key = timeZone + JSON.stringify(options);
  let found = formats.get(key);
  if (!found) formats.set(key, (found = new Intl.DateTimeFormat("en", { ...options, timeZone })));
  return found;
}

/** "07:14" */
export function hour(at: Instant): string {
  return format({ hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(at);
}

/** The date on the wall, not the keeper's day: "2026-11-25". */
export function dateOf(at: Instant): Day {
  const parts = format({ year: "numeric", month: "2-digit", day: "2-digit" }).formatToParts(at);
  const part = (type: string) => parts.find((p) => p.type === type)?.value ?? "";
  return `${part("year")}-${part("month")}-${part("day")}`;
}

const kUsualTurn = 4; // o'clock: what is done after midnight still belongs to the evening before
let day_turn = kUsualTurn;

/** The hour at which the keeper's day begins, as the house has it. */
export function setDayTurn(hours = kUsualTurn): void {
  day_turn = hours;
}

/** The keeper's day that an instant belongs to. */
export function keeperDay(at: Instant): Day {
  const day = dateOf(at);
  return Number(hour(at).slice(0, 2)) < day_turn ? addDays(day, -1) : day;
}

function utc(day: Day): number {
  return Date.parse(`${day}T00:00:00Z`);
}

export function addDays(day: Day, days: number): Day {
  return new Date(utc(day) + days * kDay).toISOString().slice(0, 10);
}

/** Whole days from one to the other; negative if `to` is earlier. */
export function daysBetween(from: Day, to: Day): number {
  return Math.round((utc(to) - utc(from)) / kDay);
}

export const weekday = (day: Day) => format({ weekday: "long" }, "UTC").format(utc(day));
export const weekdayShort = (day: Day) => format({ weekday: "short" }, "UTC").format(utc(day));
export const month = (day: Day) => format({ month: "short" }, "UTC").format(utc(day));
export const monthYear = (day: Day) => format({ month: "long", year: "numeric" }, "UTC").format(utc(day));
export const dayOfMonth = (day: Day) => Number(day.slice(8, 10));
/** "26 Nov" */
export const shortDate = (day: Day) => `${dayOfMonth(day)}\u00a0${month(day)}`;
/** "Tue 24" */
export const weekdayDate = (day: Day) => `${weekdayShort(day)}\u00a0${dayOfMonth(day)}`;
/** "Monday 26 November" */
export const longDate = (day: Day) => `${weekday(day)} ${dayOfMonth(day)}\u00a0${format({ month: "long" }, "UTC").format(utc(day))}`;

/** "07:14" beside the keeper's day that it counts for; past midnight it says which date that was: "Wed 00:39". */
export const careHour = ({ at, day }: { at: Instant; day: Day }) => (dateOf(at) === day ? hour(at) : `${weekdayShort(dateOf(at))}\u00a0${hour(at)}`);

/** 0 is Monday. */
export function weekdayIndex(day: Day): number {
  return (new Date(utc(day)).getUTCDay() + 6) % 7;
}

function wall(at: Instant): number {
  const parts = format({ year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit",
    second: "2-digit", hourCycle: "h23" }).formatToParts(at);
  const part = (type: string) => Number(parts.find((p) => p.type === type)?.value ?? 0);
  return Date.UTC(part("year"), part("month") - 1, part("day"), part("hour"), part("minute"), part("second"));
}

/** The instant of an hour on the wall. In a gap or an overlap the earlier offset counts. */
export function instantOf(day: Day, hours: number, minutes = 0): Instant {
  const wanted = utc(day) + (hours * 60 + minutes) * 60_000;
  // Offsets half a day before and after: one of them holds at the wanted hour.
  const before = wall(wanted - kDay) - (wanted - kDay);
  const after = wall(wanted + kDay) - (wanted + kDay);
  for (const offset of [before, after]) {
    if (wall(wanted - offset) === wanted) return wanted - offset;
  }
  return wanted - before;
}

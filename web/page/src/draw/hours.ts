// The hours beside a ribbon. Pure but for words.
import type { Instant } from "../api";
import { addDays, dateOf, hour, instantOf, weekdayShort } from "../days";
import { t } from "../words";

const kOneDay = 25 * 3_600_000; // a day, also where the clocks are set back in it

/** Each sixth hour by the wall: "06", "noon", "18", "night"; of more than one day midnight names the day that begins. */
export function hoursOf(from: Instant, to: Instant): { at: Instant; name: string }[] {
  const found: { at: Instant; name: string }[] = [];
  const days = to - from > kOneDay;
  for (let day = dateOf(from); day <= dateOf(to); day = addDays(day, 1)) {
    for (const h of [0, 6, 12, 18]) {
      const at = instantOf(day, h);
      if (at > from && at < to) found.push({ at, name: hourName(at, days) });
    }
  }
  return found;
}

function hourName(at: Instant, days: boolean): string {
  const name = hour(at);
  if (name === "12:00") return t("ribbon.noon");
  if (name === "00:00") return days ? weekdayShort(dateOf(at)) : t("ribbon.night");
  return name.slice(0, 2);
}

// That the air of a wheel is out of the band that it wants now, and since when. Pure but for words.
import type { Instant, WheelPage } from "../../api";
import { dateOf } from "../../days";
import { celsius, span } from "../../figures";
import { clockWord } from "../../parts/alarm_words";
import { dayWord } from "../../parts/names";
import { t } from "../../words";

/** "Its air has been above its band, 2 to 6 °C, since Tuesday: 12.5 °C now."; of today with the hour. */
export function outsideWords({ since, side, mean, band }: NonNullable<WheelPage["outside"]>, now: Instant): string {
  const today = dateOf(now), day = dateOf(since);
  const began = day === today ? clockWord(since, now) : dayWord(day, today);
  return t(side > 0 ? "wheels.above its band" : "wheels.below its band", { band: `${span(band)}\u00a0°C`, since: began, value: celsius(mean) });
}

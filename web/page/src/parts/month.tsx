// A month of days, each large enough for a wet thumb: across the whole leaf. Days ahead cannot be tapped.
import { useState } from "preact/hooks";
import type { Day } from "../api";
import { addDays, dayOfMonth, daysBetween, longDate, monthYear, weekdayIndex, weekdayShort } from "../days";
import { t } from "../words";

interface Props {
  today: Day;
  chosen?: Day | undefined;
  earliest?: Day;
  choose: (day: Day) => void;
}

const firstOf = (day: Day): Day => `${day.slice(0, 8)}01`;
const monthBefore = (first: Day): Day => firstOf(addDays(first, -1));
const monthAfter = (first: Day): Day => firstOf(addDays(first, 31));

export function Month({ today, chosen, earliest, choose }: Props) {
  const [first, setFirst] = useState(firstOf(chosen ?? today));
  const length = daysBetween(first, monthAfter(first));
  const days = Array.from({ length }, (_, i) => addDays(first, i));
  const names = Array.from({ length: 7 }, (_, i) => weekdayShort(addDays("2024-01-01", i))); // a Monday
  const later = monthAfter(first) <= today;
  return (
    <div class="month" role="group" aria-label={monthYear(first)}>
      <div class="title">
        <button type="button" class="tap" onClick={() => setFirst(monthBefore(first))}>{t("enter.month.before")}</button>
        <span class="strong" aria-live="polite">{monthYear(first)}</span>
        {later ? <button type="button" class="tap" onClick={() => setFirst(monthAfter(first))}>{t("enter.month.after")}</button> : <span />}
      </div>
      <div class="days">
        {names.map((name) => <span key={name}>{name}</span>)}
        {Array.from({ length: weekdayIndex(first) }, (_, i) => <span key={i} />)}
        {days.map((day) => (
          <button key={day} type="button" class={day === chosen ? "on" : undefined} aria-pressed={day === chosen} aria-label={longDate(day)}
                  disabled={day > today || (earliest !== undefined && day < earliest)} onClick={() => choose(day)}>{dayOfMonth(day)}</button>
        ))}
      </div>
    </div>
  );
}

// When it was done: a time in the keeper's words, sooner or later by half an hour, or another day.
import type { Instant } from "../../api";
import { now } from "../../clock";
import { addDays, dateOf, hour, weekdayDate } from "../../days";
import { Cells, Stepper } from "../../parts/cells";
import { Entry, EntryButton, GroupHead, WordButton } from "../../parts/leaf";
import { t } from "../../words";
import { earlierTimes, later, onDay, sooner } from "./times";

export interface When { at: Instant | undefined; other: boolean } // no instant: just now

function DayCells({ at, today, choose }: { at: Instant; today: string; choose: (day: string) => void }) {
  const days = Array.from({ length: 9 }, (_, i) => addDays(today, i - 8));
  return <Cells columns={3} choices={days.map((day) => ({ value: day, word: weekdayDate(day) }))} chosen={dateOf(at)} choose={choose} />;
}

export function WhenRows({ when, set, today }: { when: When; set: (when: When) => void; today: string }) {
  const offers = earlierTimes(now(), today);
  const step = when.at !== undefined && (
    <Entry class="full">
      <Stepper less={t("amend.sooner")} more={t("amend.later")} onLess={() => set({ ...when, at: sooner(when.at!) })} onMore={() => set({ ...when, at: later(when.at!, now()) })}>
        <b>{hour(when.at)}</b>
      </Stepper>
    </Entry>
  );
  const near = (at: Instant) => when.at !== undefined && !when.other && Math.abs(when.at - at) < 4 * 3_600_000;
  return (
    <>
      <GroupHead m={t("amend.when")} b={t("amend.when.b")} />
      {when.other
        ? <Entry class="full"><DayCells at={when.at ?? now()} today={today} choose={(day) => set({ other: true, at: onDay(when.at ?? now(), day, now()) })} /></Entry>
        : <WordButton tap={() => set({ other: true, at: when.at ?? now() - 3_600_000 })}>{t("amend.other")}</WordButton>}
      {when.other && step}
      {offers.map(({ word, at }) => {
        const on = word === "just now" ? when.at === undefined : near(at);
        return (
          <>
            <EntryButton key={word} class={`pick ${on ? "on" : ""}`} pressed={on} tap={() => set({ other: false, at: word === "just now" ? undefined : at })}
                         m={word === "just now" || dateOf(at) === today ? hour(at) : weekdayDate(dateOf(at))}>
              <span class="word">{t(`amend.${word}`)}</span>
            </EntryButton>
            {on && step}
          </>
        );
      })}
    </>
  );
}

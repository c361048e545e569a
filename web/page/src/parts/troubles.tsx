// What is wrong with the watch itself, said once; and that the house is out of touch.
import { useCell } from "../cell";
import { now } from "../clock";
import { head } from "../house/answers";
import { queue } from "../house/acts";
import { touch } from "../house/touch";
import { useEntries } from "../house/hooks";
import { many, t, unbroken } from "../words";
import { clockWord } from "./alarm_words";
import { Entry } from "./leaf";

/** "No word from the house since 07:02." or nothing. */
export function useCutOff(): string {
  const house = useCell(touch);
  if (house.in) return "";
  return house.since === undefined ? t("house.never") : t("house.cut", { time: clockWord(house.since, now()) });
}

export function Troubles() {
  const newest = useCell(head);
  const trouble = useCell(queue.trouble);
  const cut = useCutOff();
  const waiting = useEntries().filter((e) => e.state === "waiting").length;
  return (
    <>
      {(newest?.troubles ?? []).map((one) => (
        <Entry key={one.kind + one.text} class="trouble" m={<span class="strong">{clockWord(one.since, now())}</span>}>{unbroken(one.text)}{one.more && <details><summary class="tap back">{t("trouble.more")}</summary>{one.more}</details>}</Entry>
      ))}
      {trouble && <Entry class="trouble">{trouble}</Entry>}
      {cut && waiting > 0 && <Entry class="trouble noprint"><span class="hand">{many("waiting.count", waiting)}</span></Entry>}
      {!queue.keeps && waiting > 0 && <Entry class="trouble noprint">{t("refused.keep")}</Entry>}
    </>
  );
}

// What is wrong with the watch itself, said once; and that the house is out of touch.
import { useCell } from "../cell";
import { hour } from "../days";
import { head } from "../house/answers";
import { queue } from "../house/acts";
import { touch } from "../house/touch";
import { useEntries } from "../house/hooks";
import { many, t } from "../words";
import { Entry } from "./leaf";

/** "No word from the house since 07:02." or nothing. */
export function useCutOff(): string {
  const now = useCell(touch);
  if (now.in) return "";
  return now.since === undefined ? t("house.never") : t("house.cut", { time: hour(now.since) });
}

export function Troubles() {
  const newest = useCell(head);
  const trouble = useCell(queue.trouble);
  const cut = useCutOff();
  const waiting = useEntries().filter((e) => e.state === "waiting").length;
  return (
    <>
      {(newest?.troubles ?? []).map((one) => (
        <Entry key={one.kind + one.text} class="trouble" m={<span class="strong">{hour(one.since)}</span>}>{one.text}</Entry>
      ))}
      {trouble && <Entry class="trouble">{trouble}</Entry>}
      {cut && waiting > 0 && <Entry class="trouble noprint"><span class="hand">{many("waiting.count", waiting)}</span></Entry>}
      {!queue.keeps && waiting > 0 && <Entry class="trouble noprint">{t("refused.keep")}</Entry>}
    </>
  );
}

// Acts that the book did not take, with its reason; they stay until the keeper strikes them out.
import { queue } from "../house/acts";
import { useEntries } from "../house/hooks";
import { hour } from "../days";
import { instantOfStamp } from "../clock";
import type { Act } from "../api";
import { opening, t, type WordKey } from "../words";
import { caredWords } from "./names";
import { Entry } from "./leaf";

/** An act in a few words, for the journal of this phone. */
export function actWords(act: Act): string {
  if (act.kind === "care") {
    return act.done.length > 0 ? t("act.care", { cared: caredWords(act.done), count: act.wheels.length })
      : t("act.care.skipped", { kinds: caredWords(act.skipped) });
  }
  if (act.kind === "note") return act.text;
  return t(`act.${act.kind}` as WordKey);
}

export function Refused() {
  const refused = useEntries().filter((e) => e.state === "refused");
  return (
    <>
      {refused.map((entry) => (
        <Entry key={entry.act.id} class="refused trouble noprint" m={<><span class="strong">{t("refused.head")}</span><span class="when">{hour(instantOfStamp(entry.act.tapped_at))}</span></>}>
          <span class="hand">{opening(actWords(entry.act))}</span>
          <span class="note">{entry.why}</span>
          <button type="button" class="tap back" onClick={() => queue.drop(entry)}>{t("refused.drop")}</button>
        </Entry>
      ))}
    </>
  );
}

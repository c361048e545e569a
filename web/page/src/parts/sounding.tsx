// On the foot of every place: that this phone sounds for gas, or would if it were let, and the tap for it.
import { useLayoutEffect } from "preact/hooks";
import type { Alarm } from "../api";
import { useCell } from "../cell";
import { hush, letSound, ringing, silent } from "../house/bell";
import { t } from "../words";
import { isGas } from "./kinds";

/** What taking it does: gas that this phone sounds for quiets it too, as far as that goes. */
export function useTakeWord(): (alarm: Pick<Alarm, "kind">) => string {
  const sounds = useCell(ringing);
  return ({ kind }) => t(sounds && isGas(kind) ? "bell.take" : "alarm.take.low");
}

export function Sounding() {
  const sounds = useCell(ringing);
  const mute = useCell(silent);
  const stands = sounds || mute;
  // What stands on the foot stands on this.
  useLayoutEffect(() => {
    document.documentElement.toggleAttribute("data-sound", stands);
    return () => void document.documentElement.toggleAttribute("data-sound", false);
  }, [stands]);
  if (!stands) return null;
  return (
    <button type="button" class="sounding" onClick={sounds ? hush : letSound}>
      {sounds ? <><b>{t("bell.hush")}</b> <span class="note">{t("bell.until")}</span></> : <><span>{t("bell.silent")}</span> <b>{t("bell.let")}</b></>}
    </button>
  );
}

// For some days after an absence the round leads to what happened meanwhile.
import type { Settings } from "../../api";
import { useCell } from "../../cell";
import { daysBetween } from "../../days";
import { head, useAnswer } from "../../house/answers";
import { WordLink } from "../../parts/leaf";
import { t } from "../../words";

const kShown = 3; // days

export function BackHome() {
  const settings = useAnswer<Settings>("/api/settings").value;
  const today = useCell(head)?.day;
  if (!settings || !today) return null;
  const ended = settings.away.filter((a) => a.back <= today && daysBetween(a.back, today) < kShown).sort((a, b) => (a.back < b.back ? 1 : -1))[0];
  return ended ? <WordLink href={`/returned/${ended.from}/${ended.back}`}>{t("away.while")}</WordLink> : null;
}

// How long the visits are, in words.
import type { AwayPlan } from "../../api";
import { spoken } from "../../figures";
import { t } from "../../words";

const kNamed = 3; // visits whose minutes are named one by one

/** "8 and 12", or of many visits "1 to 5". */
export function visitMinutes({ visits }: Pick<AwayPlan, "visits">): string {
  const minutes = visits.map((v) => Math.round(v.minutes));
  const [low, high] = [Math.min(...minutes), Math.max(...minutes)];
  if (visits.length <= kNamed) return spoken(minutes.map(String));
  return low === high ? String(low) : t("span", { low, high });
}

// On the foot of a plan that was changed: what it costs in minutes, sign, drop.
import type { PlanPage, Wheel } from "../../api";
import { queue } from "../../house/acts";
import { Cells } from "../../parts/cells";
import { DeedBar } from "../../parts/deed";
import { Entry, GroupHead } from "../../parts/leaf";
import { lotWord } from "../../parts/names";
import { go } from "../../route";
import { many, t } from "../../words";
import { dropEdits, open } from "./draft";
import type { Previewed } from "./preview";

export type ForWhom = "all" | "lot" | "none";

/** The wheels that a signed version is for. */
export function wheelsFor(whom: ForWhom, page: PlanPage, wheel: Wheel | undefined, all: Wheel[]): number[] {
  if (whom === "none") return [];
  if (whom === "all" || !wheel) return page.wheels;
  return page.wheels.filter((id) => all.find((w) => w.id === id)?.lot_id === wheel.lot_id);
}

export function ForWhomCells({ page, wheel, all, whom, say }: { page: PlanPage; wheel: Wheel | undefined; all: Wheel[]; whom: ForWhom; say: (whom: ForWhom) => void }) {
  const count = (of: ForWhom) => wheelsFor(of, page, wheel, all).length;
  const choices = [
    ...(page.wheels.length > 0 ? [{ value: "all" as const, word: many("plans.for all", count("all")) }] : []),
    ...(wheel?.lot && count("lot") < count("all") ? [{ value: "lot" as const, word: t("plans.for lot", { lot: lotWord(wheel.lot), count: count("lot") }) }] : []),
    { value: "none" as const, word: t("plans.for none") },
  ];
  return (
    <>
      <GroupHead b={t("plans.for whom")} />
      <Entry class="full"><Cells choices={choices} chosen={whom} choose={say} columns={choices.length === 3 ? 3 : 2} /></Entry>
      <Entry><span class="note">{t("plans.from tomorrow", { version: page.plan.version })}</span></Entry>
    </>
  );
}

function costs({ preview, asking }: Previewed): string {
  if (!preview) return t(asking ? "plans.reckoning" : "plans.not signed");
  const more = Math.round(preview.minutes_after - preview.minutes_before);
  return more === 0 ? t("plans.no more") : t("plans.more", { minutes: more > 0 ? `+${more}` : `−${-more}` });
}

/** Without a version: once the house has taken the change in, its page shows the new one. */
export const newestOf = (id: string) => `/plans/${encodeURIComponent(id)}`;

export function PlanFoot({ page, found, wheels, leave }: { page: PlanPage; found: Previewed; wheels: number[]; leave: string }) {
  const { id, version, edits } = open.value;
  const faulty = found.error !== undefined || (found.preview?.faults.length ?? 0) > 0;
  const sign = () => {
    queue.add({ kind: "plan text", plan: id, version, edits, wheels });
    dropEdits();
    go(leave);
  };
  return (
    <DeedBar label={t("plans.to sign")} count={2} of={<><span>{costs(found)}</span><span>{t("plans.version not signed", { version: page.plan.version + 1 })}</span></>}>
      <button type="button" onClick={sign} disabled={faulty}>{t("plans.sign")}</button>
      <button type="button" onClick={dropEdits}>{t("plans.drop")}</button>
    </DeedBar>
  );
}

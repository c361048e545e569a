// The rule in words to tap and lines to write: what it counts from, how many days, how warm, which days do not count.
import type { StartWord, WheelStateWord } from "../../../api";
import { celsius } from "../../../figures";
import { Cells } from "../../../parts/cells";
import { Entry, EntryButton, GroupHead, WordButton } from "../../../parts/leaf";
import { WriteLine } from "../../../parts/write";
import { many, t } from "../../../words";
import { kPublished, type RuleDraft } from "./rule";

const kStarts: StartWord[] = ["made", "salted", "dry", "entered box", "entered cave"];
const kStates: WheelStateWord[] = ["drying", "rind forming", "ripening", "ready", "holding"];

export function namedRule({ months }: RuleDraft, count: number, degrees: number | undefined): string {
  const long = many(months ? "rule.months" : "days", count);
  return degrees === undefined ? t("rule.named.any", { long }) : t("rule.named", { long, degrees: celsius(degrees) });
}

export function RuleForm({ draft, say }: { draft: RuleDraft; say: (draft: RuleDraft) => void }) {
  const set = (more: Partial<RuleDraft>) => say({ ...draft, ...more });
  const leave = (state: WheelStateWord) => set({ not_counting: draft.not_counting.includes(state) ? draft.not_counting.filter((s) => s !== state) : [...draft.not_counting, state] });
  return (
    <>
      <WordButton tap={() => say(kPublished)}>{t("rule.published")}</WordButton>
      <Entry><span class="note">{t("rule.published.low")}</span></Entry>
      <WriteLine id="rule-days" label={t("rule.days")} hint={t("rule.days.hint")} value={draft.days} say={(days) => set({ days })} most={4} figure />
      <Entry class="full"><Cells choices={[{ value: false, word: t("rule.of days") }, { value: true, word: t("rule.of months") }]} chosen={draft.months} choose={(months) => set({ months })} /></Entry>
      <WriteLine id="rule-degrees" label={t("rule.degrees")} hint={t("rule.degrees.hint")} value={draft.degrees} say={(degrees) => set({ degrees })} most={5} figure />
      <GroupHead b={t("rule.start")} />
      <Entry class="full"><Cells choices={kStarts.map((start) => ({ value: start, word: t(`start.${start}`) }))} chosen={draft.start} choose={(start) => set({ start })} /></Entry>
      <GroupHead b={t("rule.not counting")} />
      <Entry class="full">
        <span class="cells c2">
          {kStates.map((state) => <button key={state} type="button" class={draft.not_counting.includes(state) ? "on" : undefined} aria-pressed={draft.not_counting.includes(state)} onClick={() => leave(state)}>{t(`wheel.${state}`)}</button>)}
        </span>
      </Entry>
      <GroupHead b={t("rule.vouching")} />
      <Entry class="full"><Cells choices={[{ value: false, word: t("rule.vouching.no") }, { value: true, word: t("rule.vouching.yes") }]} chosen={draft.vouching} choose={(vouching) => set({ vouching })} /></Entry>
      <WriteLine id="rule-name" label={t("rule.name")} hint={t("rule.name.hint")} value={draft.name} say={(name) => set({ name })} most={80} />
    </>
  );
}

/** Shut until the keeper asks for it: most cheese needs no such rule. */
export function RuleRow({ on, say }: { on: boolean; say: (on: boolean) => void }) {
  return (
    <EntryButton class={`pick ${on ? "on" : ""}`} pressed={on} tap={() => say(!on)}>
      <span class="word hand">{t("rule.row")}</span><span class="note">{t("rule.row.low")}</span>
    </EntryButton>
  );
}

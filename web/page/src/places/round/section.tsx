// The head of a section: where gloves, cloth and wash change, and the rind that comes.
import type { RoundSection } from "../../api";
import { Entry, GroupHead } from "../../parts/leaf";
import { listed } from "../../figures";
import { t } from "../../words";

function Glove() {
  return (
    <svg width="20" height="20" viewBox="0 0 24 24" aria-hidden="true" fill="none" stroke="var(--ink)" stroke-width="1.8" stroke-linejoin="round">
      <path d="M5 17V9C5 4 8 2 10.5 2S15 4 15 9V11L17.5 8.5C19.5 7 21.5 9 20 11L15 17ZM5 22H15" />
    </svg>
  );
}

/** "gloves, cloth"; a mask is not changed but put on. */
export function changeWords({ change }: Pick<RoundSection, "change">): string {
  const changed = change.filter((what) => what !== "mask").map((what) => t(`change.${what}`));
  return [listed(changed), change.includes("mask") && t("change.mask")].filter(Boolean).join("; ");
}

/** "washed rinds", or "marked, last of all". */
export const sectionName = ({ rind, marked }: RoundSection) => (marked ? t("round.marked last") : t(`rinds.${rind}`));

export function SectionHead({ section }: { section: RoundSection }) {
  if (section.change.length === 0) return <GroupHead i={sectionName(section)} />;
  return <Entry class="class change" m={<>{section.change.includes("gloves") && <Glove />}{t("change")}</>}><b>{changeWords(section)}</b><i>{sectionName(section)}</i></Entry>;
}

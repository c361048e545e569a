// The rule of a wheel or its lot: typed, changed, or struck.
import { useState } from "preact/hooks";
import { queue } from "../../../house/acts";
import { Entry, WordButton } from "../../../parts/leaf";
import { t } from "../../../words";
import { DeedBook, type WheelProps } from "../deeds/of_wheel";
import { Which } from "../which";
import { draftOf, kBlank, ruleOf, wanting } from "./rule";
import { namedRule, RuleForm } from "./rule_form";

export function RuleDeed({ page, lot, leave }: WheelProps) {
  const q = page.wheel.qualifying;
  const [draft, setDraft] = useState(q ? draftOf(q.rule) : kBlank);
  const [chosen, setChosen] = useState(lot.map((w) => w.id));
  const rule = ruleOf(draft, namedRule);
  const missing = wanting(draft);
  const sign = (none: boolean) => {
    queue.add({ kind: "rule", wheels: chosen, ...(none || !rule ? {} : { rule }) });
    leave();
  };
  return (
    <DeedBook page={page} title={t("rule.title")} verb={t("rule.deed")} low={missing ? t(`rule.wanting.${missing}`) : rule!.name} off={missing !== undefined || chosen.length === 0} tap={() => sign(false)}>
      <Entry><span class="note">{t("release.law")}</span></Entry>
      <RuleForm draft={draft} say={setDraft} />
      <Which of={lot} chosen={chosen} choose={setChosen} />
      {q && <WordButton tap={() => sign(true)}>{t("rule.strike")}</WordButton>}
    </DeedBook>
  );
}

// A rule for the qualifying age that comes with the wheels: for raw milk, where the law asks for days.
import { useState } from "preact/hooks";
import type { QualifyingRule } from "../../api";
import { Entry } from "../../parts/leaf";
import { t } from "../../words";
import { kBlank, ruleOf, wanting, type RuleDraft } from "../wheels/release/rule";
import { namedRule, RuleForm, RuleRow } from "../wheels/release/rule_form";

export function RuleStep({ rule, say }: { rule: QualifyingRule | undefined; say: (rule: QualifyingRule | undefined) => void }) {
  const [draft, setDraft] = useState<RuleDraft>();
  const set = (next: RuleDraft | undefined) => {
    setDraft(next);
    say(next && ruleOf(next, namedRule));
  };
  const missing = draft && wanting(draft);
  return (
    <>
      <RuleRow on={draft !== undefined} say={(on) => set(on ? kBlank : undefined)} />
      {draft && <section class="editor" aria-label={t("rule.row")}><RuleForm draft={draft} say={set} /><Entry><span class="note strong">{missing ? t(`rule.wanting.${missing}`) : (rule?.name ?? "")}</span></Entry></section>}
    </>
  );
}

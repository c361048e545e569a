// A copy of a plan under a new name, to be changed by its keeper.
import { useState } from "preact/hooks";
import type { PlanPage } from "../../api";
import { queue } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { Book } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, TitleHead } from "../../parts/leaf";
import { WriteLine } from "../../parts/write";
import { go } from "../../route";
import { t } from "../../words";
import { Waiting } from "../waiting";

export function CopyPlace({ id, version }: { id: string; version: string }) {
  const path = `/api/plans/${encodeURIComponent(id)}/${version}`;
  const answer = useAnswer<PlanPage>(path);
  const [name, setName] = useState("");
  if (!answer.value) return <Waiting place="wheels" path={path} answer={answer} />;
  const { plan } = answer.value;
  const tap = () => {
    queue.add({ kind: "plan text", plan: plan.id, version: plan.version, copy_as: name.trim(), wheels: [] });
    go("/plans");
  };
  return (
    <Book place="wheels" title={t("plans.copy")} class="withdeed" foot={<Deed verb={t("plans.copy.deed")} low={t("plans.copy.low")} tap={tap} off={name.trim() === "" || name.trim() === plan.family} />}>
      <section class="leaf">
        <TitleHead title={t("plans.copy.title")} note={t("plans.copy.of", { family: plan.family, version: plan.version })} />
        <WriteLine id="name" label={t("plans.copy.name")} hint={t("plans.copy.hint")} value={name} say={setName} most={60} />
        <Entry><span class="note">{t("plans.copy.more")}</span></Entry>
      </section>
    </Book>
  );
}

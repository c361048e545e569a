// The library: every family with its rind, the newest version of its plan and how many wheels follow it.
import type { Plans, Wheels } from "../../api";
import { pictureOf, RindDrawing } from "../../draw/rinds";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { Book, Notices } from "../../parts/book";
import { Entry, EntryLink, GroupHead, TitleHead, WordLink } from "../../parts/leaf";
import { joined } from "../../parts/names";
import { many, t, whole } from "../../words";
import { Waiting } from "../waiting";
import { inRindOrder } from "./order";

export function PlansPlace() {
  const answer = useAnswer<Plans>("/api/plans");
  const wheels = useAnswer<Wheels>("/api/wheels").value?.wheels ?? [];
  const unsent = useEntries().some((e) => e.state === "waiting" && e.act.kind === "plan text");
  if (!answer.value) return <Waiting place="wheels" path="/api/plans" answer={answer} />;
  const follow = (id: string) => wheels.filter((w) => w.plan.id === id && w.state !== "gone").length;
  return (
    <Book place="wheels" title={t("plans.list")}>
      <section class="leaf">
        <TitleHead title={t("plans.list")} note={t("plans.list.low")} />
        <Notices />
        {unsent && <Entry><span class="hand">{t("enter.kept")}</span></Entry>}
        {inRindOrder(answer.value.plans).map(({ rind, plans }) => (
          <div key={rind}>
            <GroupHead i={t(`rinds.${rind}`)} />
            {plans.map((plan) => (
              <EntryLink key={plan.id} class="ask" href={`/plans/${encodeURIComponent(plan.id)}/${plan.version}`} m={<RindDrawing picture={pictureOf(plan)} />}>
                <span class="word">{whole(plan.family)}</span><span class="note">{joined(plan.version > 1 && t("plan.version", { version: plan.version }), follow(plan.id) > 0 && many("plans.follow", follow(plan.id)), plan.rind_words)}</span>
              </EntryLink>
            ))}
          </div>
        ))}
        <WordLink class="noprint" href="/plans/bring">{t("plans.bring")}</WordLink>
      </section>
    </Book>
  );
}

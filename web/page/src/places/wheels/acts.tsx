// A care of one wheel that is not due.
import { useState } from "preact/hooks";
import type { CareKind, Plans, WheelPage } from "../../api";
import { dayWord } from "../../parts/names";
import { sign } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { Ring } from "../../draw/rings";
import { Book } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { EntryButton, GroupHead, TitleHead } from "../../parts/leaf";
import { caredWords, careWords, joined, lotWord } from "../../parts/names";
import { Place } from "../../parts/place";
import { back } from "../../route";
import { opening, t } from "../../words";
import { Waiting } from "../waiting";

interface Props { id: string }

function useWheel(id: string) {
  const path = `/api/wheels/${id}`;
  return { path, answer: useAnswer<WheelPage>(path), plans: useAnswer<Plans>("/api/plans").value };
}

const Margin = ({ page }: { page: WheelPage }) => <Place place={page.wheel.place} ring={<Ring state={page.wheel.state} />} />;

export function DidPlace({ id }: Props) {
  const { path, answer, plans } = useWheel(id);
  const [kind, setKind] = useState<CareKind>();
  const page = answer.value;
  if (!page) return <Waiting place="wheels" path={path} answer={answer} />;
  const { wheel } = page;
  const of = plans?.plans.find((p) => p.id === wheel.plan.id)?.cares ?? [];
  const usual: CareKind[] = ["turn", "wash", "brush", "pat", "rub", "wipe", "look"];
  const kinds = [...new Set([...of, ...usual])];
  const next = page.next[0];
  const note = next ? t("did.next", { cares: careWords(next.kinds), day: dayWord(next.due, page.head.day) }) : t("did.none next");
  const deed = () => {
    if (!kind) return;
    sign([wheel.id], [kind], `did ${wheel.id}`);
    back(`/wheels/${id}`);
  };
  return (
    <Book place="wheels" title={t("did.title")} class="withdeed"
          foot={<Deed verb={kind ? opening(caredWords([kind])) : t("amend.sign")} low={t("did.low")} tap={deed} off={!kind} />}>
      <section class="leaf">
        <TitleHead m={<Margin page={page} />} title={wheel.name} note={joined(lotWord(wheel.lot), t("day.number", { day: wheel.day })) + `. ${note}`} />
        <GroupHead m={t("did.did")} b={t("did.what")} />
        {kinds.map((k) => (
          <EntryButton key={k} class={`pick ${k === kind ? "on" : ""}`} pressed={k === kind} m={<span class="sign" />} tap={() => setKind(k)}>
            <span class="verb">{t(`care.${k}`)}</span>
          </EntryButton>
        ))}
      </section>
    </Book>
  );
}

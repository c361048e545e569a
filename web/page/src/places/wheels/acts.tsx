// Acts on one wheel: a care that is not due, a move, its end.
import { useState } from "preact/hooks";
import type { CareKind, Plans, WheelPage, WhereNow } from "../../api";
import { dayWord } from "../../parts/names";
import { gone, move, sign } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { Ring } from "../../draw/rings";
import { Book } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, EntryButton, GroupHead, TitleHead } from "../../parts/leaf";
import { caredWords, careWords, joined, lotWord } from "../../parts/names";
import { Place } from "../../parts/place";
import { WherePicker } from "../../parts/where";
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

export function MovePlace({ id }: Props) {
  const { path, answer, plans } = useWheel(id);
  const [to, setTo] = useState<{ where: WhereNow; word: string }>();
  const [shelf, setShelf] = useState("");
  const page = answer.value;
  if (!page) return <Waiting place="wheels" path={path} answer={answer} />;
  const deed = () => {
    if (!to) return;
    move([page.wheel.id], { ...to.where, ...(shelf.trim() ? { shelf: shelf.trim() } : {}) });
    back(`/wheels/${id}`);
  };
  return (
    <Book place="wheels" title={t("move.title")} class="withdeed" foot={<Deed verb={t("move.deed")} low={to?.word ?? ""} tap={deed} off={!to} />}>
      <section class="leaf">
        <TitleHead m={<Margin page={page} />} title={t("move.title")} note={joined(page.wheel.name, lotWord(page.wheel.lot))} />
        <WherePicker slim caves={(plans?.caves ?? [])} chosen={to?.where} choose={(where, word) => setTo({ where, word })} />
        <Entry class="write1" m={<label for="shelf">{t("move.shelf")}</label>}>
          <input id="shelf" class="field" maxLength={20} placeholder={t("move.shelf.hint")} value={shelf} onInput={(e) => setShelf(e.currentTarget.value)} />
        </Entry>
      </section>
    </Book>
  );
}

const kWays = ["eaten", "sold", "given", "lost"] as const;

export function GonePlace({ id }: Props) {
  const { path, answer } = useWheel(id);
  const [how, setHow] = useState<(typeof kWays)[number]>();
  const page = answer.value;
  if (!page) return <Waiting place="wheels" path={path} answer={answer} />;
  const deed = () => {
    if (!how) return;
    gone([page.wheel.id], how);
    back("/wheels");
  };
  return (
    <Book place="wheels" title={t("gone.title")} class="withdeed"
          foot={<Deed verb={how ? opening(t(`gone.${how}`)) : t("wheels.gone")} low={t("gone.low")} tap={deed} off={!how} />}>
      <section class="leaf">
        <TitleHead m={<Margin page={page} />} title={t("gone.title")} note={joined(page.wheel.name, lotWord(page.wheel.lot))} />
        {kWays.map((way) => (
          <EntryButton key={way} class={`pick ${way === how ? "on" : ""}`} pressed={way === how} m={<span class="sign" />} tap={() => setHow(way)}>
            <span class="verb">{t(`gone.${way}`)}</span>
          </EntryButton>
        ))}
      </section>
    </Book>
  );
}

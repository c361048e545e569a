// The wheels: those alike stand together. How old, what the days count from, the stage, the next care.
import { useState } from "preact/hooks";
import type { Day, Wheel, Wheels } from "../../api";
import { Ring } from "../../draw/rings";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { Book, Notices } from "../../parts/book";
import { DayHead, Entry, WordLink } from "../../parts/leaf";
import { countsWords, joined, kinOf, lotWord } from "../../parts/names";
import { Place } from "../../parts/place";
import { useCutOff } from "../../parts/troubles";
import { many, t, whole } from "../../words";
import { UndoOnly } from "../round/bars";
import { useHeld } from "../round/held";
import { nextWord } from "../round/next_of";
import { Waiting } from "../waiting";
import { groups, inWalkingOrder, type Group } from "./alike";
import { saidOf, saidWords } from "./said";

export const kWheelsPath = "/api/wheels";

function Body({ wheel, count, today }: { wheel: Wheel; count: number; today: Day }) {
  return (
    <>
      <span class="top"><span class="verb">{count === 1 ? whole(wheel.name) : many("wheels.count", count, { family: kinOf(wheel.family, count) })}</span>
        <span class="word nowrap">{many("wheels.age", wheel.age)}</span></span>
      <span class="note">{joined(wheel.stage, countsWords(wheel))}{saidWords(wheel).map((word) => <b key={word}>, {word}</b>)}</span>
      <span class="note"><b>{wheel.next ? nextWord(wheel.next, today) : t("wheels.no next")}</b>{lotWord(wheel.lot) && `, ${lotWord(wheel.lot)}`}{wheel.past_plan && `, ${t("round.past")}`}</span>
    </>
  );
}

const Margin = ({ wheel }: { wheel: Wheel }) => <Place place={wheel.place} ring={<Ring state={wheel.state} {...saidOf(wheel)} />} />;

/** Those alike; their names show at a tap. */
export function GroupEntry({ group, today }: { group: Group; today: Day }) {
  const [open, setOpen] = useState(false);
  const first = group.wheels[0]!;
  if (group.wheels.length === 1) {
    return (
      <a class="entry wheelline" href={`/wheels/${first.id}`}>
        <span class="m"><Margin wheel={first} /></span>
        <span class="b"><Body wheel={first} count={1} today={today} /></span>
      </a>
    );
  }
  return (
    <>
      <button type="button" class="entry wheelline" aria-expanded={open} onClick={() => setOpen(!open)}>
        <span class="m"><Margin wheel={first} /></span>
        <span class="b"><Body wheel={first} count={group.wheels.length} today={today} /></span>
      </button>
      {open && group.wheels.map((wheel) => (
        <a key={wheel.id} class="entry pick" href={`/wheels/${wheel.id}`}><span class="m" /><span class="b"><span class="word tap">{whole(wheel.name)}</span></span></a>
      ))}
    </>
  );
}

export function WheelsPlace() {
  const answer = useAnswer<Wheels>(kWheelsPath);
  const entering = useEntries().filter((e) => e.act.kind === "enter" && e.state === "waiting").length;
  const cut = useCutOff();
  const held = useHeld();
  const page = answer.value;
  if (!page) return <Waiting place="wheels" path={kWheelsPath} answer={answer} />;
  const all = inWalkingOrder(groups(page.wheels));
  const half = Math.ceil(all.length / 2);
  const list = (part: Group[]) => part.map((group) => <GroupEntry key={group.key} group={group} today={page.head.day} />);
  return (
    <Book place="wheels" title={t("place.wheels")} class={held?.key === "enter" ? "withdeed" : ""} foot={<UndoOnly held={held} about="enter" />}>
      <section class="leaf">
        <DayHead day={page.head.day}>
          <h1 class="say">{cut || (page.wheels.length === 0 ? t("wheels.none") : many("wheels.say", page.wheels.length))}</h1>
        </DayHead>
        <Notices />
        {entering > 0 && <Entry><span class="hand">{t("enter.kept")}</span></Entry>}
        {list(all.slice(0, half))}
      </section>
      <section class="leaf">
        {list(all.slice(half))}
        {page.gone > 0 && <WordLink class="noprint" href="/wheels/gone">{many("wheels.gone", page.gone)}</WordLink>}
        <WordLink class="noprint" href="/enter">{t("wheels.enter")}</WordLink>
        <WordLink class="noprint" href="/ahead">{t("wheels.list ahead")}</WordLink>
        <WordLink class="noprint" href="/plans">{t("wheels.list plans")}</WordLink>
        <WordLink class="noprint" href="/away">{t("wheels.list away")}</WordLink>
        <WordLink class="noprint" href="/settings">{t("wheels.list settings")}</WordLink>
      </section>
    </Book>
  );
}

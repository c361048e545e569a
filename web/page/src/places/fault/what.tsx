// A fault at the shelf: which wheels, then what it is, from pictures. No number of a wheel is needed, and no name of a
// mould.
import { useState } from "preact/hooks";
import type { FaultWord, Wheel, Wheels } from "../../api";
import { FaultDrawing, kPictured } from "../../draw/faults";
import { Ring } from "../../draw/rings";
import { useAnswer } from "../../house/answers";
import { Book } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, TitleHead, WordButton, WordLink } from "../../parts/leaf";
import { joined, lotWord, whichDay } from "../../parts/names";
import { Place } from "../../parts/place";
import { go } from "../../route";
import { t } from "../../words";
import { findGroup, groupOf, shelfOf, type Group } from "../round/groups";
import { spotsOf } from "../round/pick";
import { numbersOf, Shelf } from "../round/shelf";
import { GroupPlace, groupWords, kWheelsPath, ShelvesPlace } from "../round/shelves";
import { Waiting } from "../waiting";

export const FaultShelvesPlace = () => <ShelvesPlace title={t("fault.where")} note={t("fault.where.low")} to={(key) => `/fault/shelf/${key}`} />;

/** The wheels of an address, and the shelf on which they lie. */
export function useMeant(ids: string) {
  const answer = useAnswer<Wheels>(kWheelsPath);
  const wanted = ids.split(",").map(Number);
  const all = answer.value?.wheels ?? [];
  const group = groupOf(all, wanted[0] ?? 0);
  const wheels = group?.wheels.filter((w) => wanted.includes(w.id)) ?? [];
  return { answer, group, wheels, ids: wheels.map((w) => w.id) };
}

/** "3 of 14: 2, 6, 7" */
export function meantWords(group: Group, ids: number[]): string {
  const numbers = group.wheels.length > 1 ? numbersOf(ids, spotsOf(shelfOf(group))) : "";
  return numbers ? t("fault.of numbers", { count: ids.length, of: group.wheels.length, numbers }) : t("fault.of", { count: ids.length, of: group.wheels.length });
}

/** "3 of 14: 2, 6, 7; lot 214, day 26." */
export function ofWhich(group: Group, wheels: Wheel[]): string {
  const first = wheels[0];
  return [meantWords(group, wheels.map((w) => w.id)), first && joined(lotWord(first.lot), whichDay(first))].filter(Boolean).join("; ") + ".";
}

/** Which of a shelf: tapped in its picture, or how many. */
export function FaultShelfPlace({ shelf }: { shelf: string }) {
  const answer = useAnswer<Wheels>(kWheelsPath);
  const [picked, setPicked] = useState<number[]>([]);
  if (!answer.value) return <Waiting place="round" path={kWheelsPath} answer={answer} />;
  const group = findGroup(answer.value.wheels, shelf);
  if (!group) return <FaultShelvesPlace />;
  const count = group.wheels.length;
  const spots = spotsOf(shelfOf(group));
  const meant = count === 1 ? [group.wheels[0]!.id] : picked;
  return (
    <Book place="round" title={t("fault.which")} class="withdeed"
          foot={<Deed verb={t("fault.ask")} low={meant.length === 0 ? t("fault.none") : meantWords(group, meant)} tap={() => go(`/fault/wheels/${meant.join(",")}`)} off={meant.length === 0} />}>
      <section class="leaf">
        <TitleHead m={<GroupPlace group={group} />} title={t("fault.which")} note={`${groupWords(group)}. ${t("fault.which.low")}`} />
        {count > 1 && <Shelf spots={spots} state={group.wheels[0]!.state} picked={picked} pick={setPicked} done={false} label={(number, on) => t(on ? "fault.wheel has it" : "notall.wheel", { number })} />}
        <WordLink href={`/fewer/${encodeURIComponent(group.key)}`}>{t("fewer.word", { count })}</WordLink>
      </section>
    </Book>
  );
}

function Grid({ choose }: { choose: (what: FaultWord) => void }) {
  return (
    <span class="grid8">
      {kPictured.map((what) => (
        <button key={what} type="button" onClick={() => choose(what)}>
          <FaultDrawing what={what} size={1.2} />
          <span>{t(`fault.${what}`)}</span>
        </button>
      ))}
    </span>
  );
}

export function FaultGridPlace({ ids }: { ids: string }) {
  const { answer, group, wheels } = useMeant(ids);
  if (!answer.value) return <Waiting place="round" path={kWheelsPath} answer={answer} />;
  const first = wheels[0];
  if (!group || !first) return <FaultShelvesPlace />;
  const choose = (what: FaultWord) => go(`/fault/wheels/${wheels.map((w) => w.id).join(",")}/${encodeURIComponent(what)}`);
  return (
    <Book place="round" title={t("fault.ask")}>
      <section class="leaf">
        <TitleHead m={<Place place={first.place} ring={<Ring state={first.state} />} />} title={t("fault.ask")}
                   note={ofWhich(group, wheels)} />
        <Entry class="full heavy" m={<span class="note">{t("fault.never taste")}</span>}><Grid choose={choose} /></Entry>
        <WordButton tap={() => choose("something else")}>{t("fault.something else")}</WordButton>
        <WordLink href={`/fewer/${encodeURIComponent(group.key)}`}>{t("fewer.word", { count: group.wheels.length })}</WordLink>
      </section>
    </Book>
  );
}

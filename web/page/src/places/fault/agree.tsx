// What the trade does about it: the caution, now one to three, then what changes if the keeper agrees.
import { useState } from "preact/hooks";
import type { Faults, FaultWord, Wheel, Wheels } from "../../api";
import { weekdayDate } from "../../days";
import { FaultDrawing } from "../../draw/faults";
import { Ring } from "../../draw/rings";
import { queue } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { Book } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { DeedBar, Signed } from "../../parts/deed";
import { Entry, GroupHead, TitleHead } from "../../parts/leaf";
import { careWords, joined } from "../../parts/names";
import { Place } from "../../parts/place";
import { go } from "../../route";
import { many, opening, t } from "../../words";
import type { Group } from "../round/groups";
import { hold } from "../round/held";
import { kWheelsPath } from "../round/shelves";
import { Waiting } from "../waiting";
import { adviceFor, thenDays, type Advice } from "./advice";
import { FaultShelvesPlace, ofWhich, useMeant } from "./what";

export const kFaultsPath = "/api/faults";

function Now({ advice }: { advice: Advice }) {
  return (
    <Entry class="heavy" m={<span class="strong">{t("fault.now")}</span>}>
      <ol class="orders tight">
        {advice.now.map(({ order, more }) => <li key={order}><div>{order}{more && <span class="note block">{more}</span>}</div></li>)}
      </ol>
    </Entry>
  );
}

/** What to keep in mind of one's own health, the mask first. */
const cautionOf = ({ mask, caution }: Advice): string =>
  [mask && !caution.includes(t("bring.ffp2")) && `${opening(t("bring.mask"))}.`, caution].filter(Boolean).join(" ");

/** "at these, the other 11, the shelves beside" */
function whereAgain(advice: Advice, group: Group, count: number): string {
  const others = group.wheels.length - count;
  return joined(t("fault.at these"), others > 0 && (advice.neighbours || advice.sisters) && t("fault.the other", { count: others }),
    advice.neighbours && t("fault.neighbours"), advice.sisters && group.wheels[0]!.lot && t("fault.sisters", { lot: group.wheels[0]!.lot }));
}

function Then({ advice, group, count, today }: { advice: Advice; group: Group; count: number; today: string }) {
  const on = (day: string) => <span class="place">{weekdayDate(day)}</span>;
  return (
    <>
      <GroupHead m={t("fault.then")} b={t("fault.if you agree")} />
      {advice.apart && <Entry class="then1" m={<span class="place long">{t("fault.each day")}</span>}><span class="word block">{many("fault.last of all", count)}</span><span class="note block">{t("fault.own tools")}</span></Entry>}
      {thenDays(advice, today).map(({ day, what }) => (what === "look again"
        ? <Entry key={`${day} look`} class="then1" m={on(day)}><span class="word block">{t("fault.look again")}</span><span class="note block">{whereAgain(advice, group, count)}</span></Entry>
        : (
          <Entry key={day + what.kinds.join()} class="then1" m={on(day)}>
            <span class="word block">{what.words || careWords(what.kinds)}</span>
            <span class="note block">{[what.instead_of && t("fault.instead", { cares: careWords(what.instead_of) }), many("fault.only these", count)].filter(Boolean).join("; ")}</span>
          </Entry>
        )))}
    </>
  );
}

export function FaultPlace({ ids, what }: { ids: string; what: FaultWord }) {
  const { answer, group, wheels } = useMeant(ids);
  const faults = useAnswer<Faults>(kFaultsPath);
  if (!answer.value) return <Waiting place="round" path={kWheelsPath} answer={answer} />;
  const answered = faults.value !== undefined || faults.missing === true || faults.error !== undefined; // without an answer it can still be noted
  if (!answered) return <Waiting place="round" path={kFaultsPath} answer={faults} />;
  const first = wheels[0];
  if (!group || !first) return <FaultShelvesPlace />;
  return <FaultLeaf what={what} group={group} wheels={wheels} first={first} advice={adviceFor(faults.value?.faults ?? [], what, first.rind, first.age)} head={answer.value.head} />;
}

interface LeafProps { what: FaultWord; group: Group; wheels: Wheel[]; first: Wheel; advice: Advice | undefined; head: Wheels["head"] }

function FaultLeaf({ what, group, wheels, first, advice, head }: LeafProps) {
  const [holds, setHolds] = useState<"wheels" | "lot">();
  const [note, setNote] = useState("");
  const ids = wheels.map((w) => w.id);
  const name = opening(t(`fault.${what}`));
  const said = `${t("fault.of", { count: ids.length, of: group.wheels.length })}, ${t(`fault.${what}`)}`;
  const sign = (agreed: boolean) => {
    const entry = queue.add({ kind: "fault", what, wheels: ids, of: group.wheels.length, agreed, ...(note.trim() ? { note: note.trim() } : {}), ...(holds ? { hold: holds } : {}) }, "fault");
    hold("fault", `${first.place}: ${said}`, entry.act.id);
    go("/", true);
  };
  const ways = [
    { value: "wheels" as const, word: many("fault.hold", ids.length) },
    ...(first.lot ? [{ value: "lot" as const, word: t("fault.hold lot", { lot: first.lot }) }] : []),
  ];
  return (
    <Book place="round" title={name} class="withdeed" foot={
      <Signed>
        <DeedBar of={<span>{`${first.place}: ${said}`}</span>} label={t("fault.to sign")} count={2}>
          {advice && <button type="button" onClick={() => sign(true)}>{t("fault.agree")}</button>}
          <button type="button" onClick={() => sign(false)}>{t("fault.only note")}</button>
        </DeedBar>
      </Signed>}>
      <section class="leaf">
        <TitleHead m={<Place place={first.place} ring={<Ring state={first.state} marked />} />} title={name}
                   note={ofWhich(group, wheels)} />
        <Entry class="heavy seen" m={<FaultDrawing what={what} size={0.9} />}>
          <span class="note block">{advice ? advice.known : t("fault.unknown")}</span>
          <span class="note strong block">{advice ? cautionOf(advice) : t("fault.never taste")}</span>
        </Entry>
        {advice && <Now advice={advice} />}
        {advice && <Then advice={advice} group={group} count={ids.length} today={head.day} />}
        <Entry class="full heavy" m={<span class="note">{t("fault.hold?")}</span>}>
          <Cells columns={ways.length === 1 ? 1 : 2} choices={ways} chosen={holds} choose={(way) => setHolds(way === holds ? undefined : way)} />
        </Entry>
        {advice?.hold && holds === undefined && <Entry class="plain"><span class="note strong">{t("fault.better hold")}</span></Entry>}
        <Entry class="write1" m={<label for="seen">{t("fault.seen")}</label>}>
          <input id="seen" class="field" maxLength={200} placeholder={t("fault.seen.hint")} value={note} onInput={(e) => setNote(e.currentTarget.value)} />
        </Entry>
      </section>
    </Book>
  );
}

// A care that is not due: any care on any wheel, shelf or lot. It counts all the same.
import { useState } from "preact/hooks";
import type { CareKind, Day, PlanPage, Plans, Wheel, WheelPage, Wheels } from "../../api";
import { now } from "../../clock";
import { hour } from "../../days";
import { weight } from "../../figures";
import { sign } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { useTick } from "../../house/hooks";
import { Book } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, EntryButton, GroupHead, TitleHead, WordButton, WordLink } from "../../parts/leaf";
import { caredWords, dayWord } from "../../parts/names";
import { back, go } from "../../route";
import { t } from "../../words";
import { Waiting } from "../waiting";
import { findGroup, shelfOf, type Group } from "./groups";
import { hold } from "./held";
import { spotsOf } from "./pick";
import { numbersOf, Shelf } from "./shelf";
import { groupPlace, GroupPlace, groupWords, kWheelsPath, ShelvesPlace } from "./shelves";
import { nextOf } from "./next_of";
import { nextThen } from "./next_then";
import { WhenRows, type When } from "./when";

export const DidShelvesPlace = () => <ShelvesPlace lots title={t("did.where")} note={t("did.where.low")} to={(key) => `/did/${key}`} />;

const kUsual: CareKind[] = ["turn", "wash", "brush", "rub", "pat", "wipe", "salt", "oil", "weigh", "look", "taste"];

/** What its plan knows first, then what is usual. */
export function kindsFor(plans: Plans | undefined, wheel: Wheel): CareKind[] {
  const of = plans?.plans.find((p) => p.id === wheel.plan.id)?.cares ?? [];
  const ways: CareKind[] = ["move"]; // a move says where to: it has its own page
  return [...new Set([...of, ...kUsual])].filter((kind) => !ways.includes(kind));
}

/** What it does to the next due day, once it is tapped. */
function Then({ wheel, kind, today }: { wheel: Wheel; kind: CareKind; today: Day }) {
  const plan = useAnswer<PlanPage>(`/api/plans/${encodeURIComponent(wheel.plan.id)}/${wheel.plan.version}`).value;
  const words = nextThen(plan?.plan, wheel, kind, today);
  return words ? <span class="note">{words}</span> : null;
}

interface LeafProps { group: Group; head: Wheels["head"]; last?: string; home: string }

function DidLeaf({ group, head, last, home }: LeafProps) {
  const [kinds, setKinds] = useState<CareKind[]>([]);
  const [when, setWhen] = useState<When>({ at: undefined, other: false });
  const [asksWhen, askWhen] = useState(false);
  const [left, setLeft] = useState<number[]>();
  const [grams, setGrams] = useState("");
  const plans = useAnswer<Plans>("/api/plans").value;
  const first = group.wheels[0]!;
  useTick();
  const spots = spotsOf(shelfOf(group));
  const wheels = spots.map((s) => s.wheel).filter((w) => !left?.includes(w));
  const toggle = (kind: CareKind) => setKinds(kinds.includes(kind) ? kinds.filter((k) => k !== kind) : [...kinds, kind]);
  const weighed = kinds.includes("weigh") && wheels.length === 1 ? Number(grams.replace(",", ".")) : 0;
  const deed = () => {
    const entry = sign(wheels, kinds, `did ${group.key}`, { ...(when.at === undefined ? {} : { at: when.at }), ...(weighed > 0 ? { grams: Math.round(weighed) } : {}) });
    hold("did", `${groupPlace(group)} ${caredWords(kinds)}`, entry.act.id);
    if (home) back(home);
    else go("/", true);
  };
  const late = group.wheels.some((w) => w.next && w.next.due <= head.day);
  const low = [t(late ? "did.low.due" : "did.low"), when.at !== undefined && hour(when.at), left && left.length > 0 && t("did.without", { numbers: numbersOf(left, spots) })].filter(Boolean).join(", ");
  return (
    <Book place={home ? "wheels" : "round"} title={t(late ? "did.title.due" : "did.title")} class="withdeed"
          foot={<Deed verb={kinds.length > 0 ? `${caredWords(kinds)} ${wheels.length}` : t("amend.sign")} low={low} tap={deed} off={kinds.length === 0 || wheels.length === 0} />}>
      <section class="leaf">
        <TitleHead m={<GroupPlace group={group} />} title={t(late ? "did.title.due" : "did.title")} note={`${groupWords(group)}. ${nextOf(group.wheels, head.day)}`} />
        <GroupHead m={t("did.did")} b={t("did.what")} />
        {kindsFor(plans, first).map((kind) => {
          const on = kinds.includes(kind);
          return (
            <EntryButton key={kind} class={`pick ${on ? "on" : ""}`} pressed={on} tap={() => toggle(kind)}
                         m={on ? <span class="when">{hour(when.at ?? now())}</span> : <span class="sign" />}>
              <span class="verb">{t(`care.${kind}`)}</span>
              {on ? <Then wheel={first} kind={kind} today={head.day} /> : kind === "weigh" && last && <span class="note">{last}</span>}
            </EntryButton>
          );
        })}
        {kinds.includes("weigh") && wheels.length === 1 && (
          <Entry class="write1" m={<label for="grams">{t("did.grams")}</label>}>
            <input id="grams" class="field" inputMode="decimal" maxLength={7} placeholder={t("did.grams.hint")} value={grams} onInput={(e) => setGrams(e.currentTarget.value)} />
          </Entry>
        )}
        {asksWhen ? <WhenRows when={when} set={setWhen} today={head.day} /> : <WordButton tap={() => askWhen(true)}>{t("did.earlier")}</WordButton>}
        {spots.length > 1 && (left === undefined
          ? <WordButton tap={() => setLeft([])}>{t("amend.not all", { count: spots.length })}</WordButton>
          : <Shelf spots={spots} state={first.state} picked={left} pick={setLeft} done label={(number, on) => t(on ? "notall.wheel left" : "notall.wheel", { number })} />)}
        {spots.length === 1 && <WordLink href={`/wheels/${first.id}/move`}>{t("wheels.move")}</WordLink>}
        <WordLink href={spots.length === 1 ? `/fault/wheels/${first.id}` : `/fault/shelf/${first.id}`}>{t("amend.fault")}</WordLink>
      </section>
    </Book>
  );
}

export function DidShelfPlace({ shelf }: { shelf: string }) {
  const answer = useAnswer<Wheels>(kWheelsPath);
  if (!answer.value) return <Waiting place="round" path={kWheelsPath} answer={answer} />;
  const group = findGroup(answer.value.wheels, shelf);
  return group ? <DidLeaf group={group} head={answer.value.head} home="" /> : <DidShelvesPlace />;
}

export function DidPlace({ id }: { id: string }) {
  const path = `/api/wheels/${id}`;
  const answer = useAnswer<WheelPage>(path);
  if (!answer.value) return <Waiting place="wheels" path={path} answer={answer} />;
  const { wheel, weighings, head } = answer.value;
  const newest = weighings[weighings.length - 1];
  const last = newest ? t("did.last", { day: dayWord(newest.day, head.day), weight: weight(newest.grams) }) : undefined;
  return <DidLeaf group={{ key: `wheel ${id}`, wheels: [wheel] }} head={head} home={`/wheels/${id}`} {...(last ? { last } : {})} />;
}

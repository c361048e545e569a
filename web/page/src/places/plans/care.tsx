// One care of a stage: how often, how late is no lateness, its wash, why. A tap opens what can be changed.
import { useState } from "preact/hooks";
import type { CareKind, PlanCare, PlanEdit, Span } from "../../api";
import { span } from "../../figures";
import { Cells } from "../../parts/cells";
import { Entry, EntryButton, GroupHead, WordButton } from "../../parts/leaf";
import { careWords } from "../../parts/names";
import { WriteLine } from "../../parts/write";
import { t } from "../../words";
import { cadenceWord, usualTolerance } from "./cadence";
import { careAfter, type Change } from "./edits";
import { NumberSteps, SpanSteps } from "./steps";

type Way = "every" | "week" | "once" | "twice";
const wayOf = (care: Pick<PlanCare, "every_days" | "times_a_week" | "on_day" | "morning_and_evening">): Way | undefined =>
  care.morning_and_evening ? "twice" : care.every_days !== undefined ? "every" : care.times_a_week !== undefined ? "week" : care.on_day !== undefined ? "once" : undefined;

/** The four ways of asking, and the figure that belongs to each. */
export function CadenceSteps({ care, first, say }: { care: Partial<PlanCare>; first: number; say: (change: Change) => void }) {
  const way = wayOf(care);
  const choose = (next: Way) => say(next === "twice" ? { morning_and_evening: true } : next === "every" ? { every_days: care.every_days ?? 7 } : next === "week" ? { times_a_week: care.times_a_week ?? 2 } : { on_day: care.on_day ?? first });
  return (
    <>
      <Entry class="full"><Cells chosen={way} choose={choose} choices={[{ value: "every" as const, word: t("plans.way.every") }, { value: "week" as const, word: t("plans.way.week") },
        { value: "once" as const, word: t("plans.way.once") }, { value: "twice" as const, word: t("cadence.morning and evening") }]} /></Entry>
      {care.every_days !== undefined && <NumberSteps label={t("plans.every")} unit={t(care.every_days === 1 ? "unit.days.one" : "unit.days.other")} value={care.every_days} least={1} most={120} say={(every_days) => say({ every_days })} />}
      {care.times_a_week !== undefined && <NumberSteps label={t("plans.a week")} unit={t("plans.times")} value={care.times_a_week} least={1} most={7} say={(times_a_week) => say({ times_a_week })} />}
      {care.on_day !== undefined && <NumberSteps label={t("plans.on day")} value={care.on_day} least={0} most={1000} say={(on_day) => say({ on_day })} />}
    </>
  );
}

interface Props {
  care: PlanCare;
  edit: PlanEdit | undefined;
  first: number;                  // day of the stage
  id: string;
  change: (change: Change) => void;
  why: (text: string) => void;
  remove: () => void;
}

function WashLines({ wash, cautions }: { wash: NonNullable<PlanCare["wash"]>; cautions: string[] }) {
  return (
    <>
      <span class="note block">{t("plans.wash", { salt: span(wash.salt) })}{wash.salt.source && `; ${wash.salt.source}`}</span>
      {wash.additions.map((a) => <span key={a.name} class="note block">{t("plans.addition", { name: a.name, ml: a.ml_per_litre })}{a.source && `; ${a.source}`}</span>)}
      {wash.note && <span class="note block">{wash.note}</span>}
      {cautions.map((c) => <span key={c} class="note block strong">{c}</span>)}
    </>
  );
}

export function CareEntry({ care, edit, first, id, change, why, remove }: Props) {
  const [open, setOpen] = useState(false);
  const after = careAfter(care, edit);
  const struck = edit?.remove === true;
  const kinds = careWords([...care.kinds, ...care.brings]);
  const was = cadenceWord(care) === cadenceWord(after) ? "" : t("plans.was", { before: cadenceWord(care) });
  const tolerance = after.tolerance ?? usualTolerance(after);
  return (
    <>
      <button type="button" class="entry fig2" aria-expanded={open} onClick={() => setOpen(!open)}>
        <span class="m strong">{kinds}</span>
        <span class="b">
          <span class="word">{struck ? <s class="hand">{cadenceWord(after)}</s> : <span class="tap">{cadenceWord(after)}</span>}</span>
          <span class="note block">{was && <>{was}. </>}{edit?.why ? <span class="hand">{edit.why}</span> : care.source}</span>
          {after.note && <span class="note block">{after.note}</span>}
          {after.wash ? <WashLines wash={after.wash} cautions={after.cautions} /> : after.cautions.map((c) => <span key={c} class="note block strong">{c}</span>)}
        </span>
      </button>
      {open && (
        <section class="editor" aria-label={kinds}>
          {!struck && <CadenceSteps care={after} first={first} say={change} />}
          {!struck && <NumberSteps label={t("plans.tolerance")} unit={t(tolerance === 1 ? "unit.days.one" : "unit.days.other")} value={tolerance} least={0} most={30} say={(days) => change({ tolerance: days })} />}
          {!struck && after.kinds.includes("wash") && <><GroupHead b={t("plans.salt")} i={t("plans.salt.unit")} /><SpanSteps value={after.wash?.salt ?? kSalt} unit="g" step={0.5} least={0} most={30} say={(salt) => change({ salt })} /></>}
          {!struck && <WriteLine id={`note-${id}`} label={t("plans.note")} hint={t("plans.note.hint")} value={after.note} say={(note) => change({ note })} />}
          {!struck && edit && <WriteLine id={`why-${id}`} label={t("plans.why")} hint={t("plans.why.hint")} value={edit.why ?? ""} say={why} />}
          <WordButton tap={remove}>{t(struck ? "plans.keep care" : "plans.strike care")}</WordButton>
        </section>
      )}
    </>
  );
}

/** A simple brine for a cloth, until the keeper says otherwise: common practice, no source. */
const kSalt: Span = { low: 3, high: 5 };

const kKinds: CareKind[] = ["turn", "wash", "brush", "pat", "rub", "salt", "wipe", "oil", "coat", "wax", "bandage", "pierce", "wrap", "move", "look", "weigh", "taste"];

/** Another care for the stage. */
export function AddCare({ first, add }: { first: number; add: (care: NonNullable<PlanEdit["add"]>) => void }) {
  const [open, setOpen] = useState(false);
  const [kinds, setKinds] = useState<CareKind[]>([]);
  const [turn, setTurn] = useState(false);
  const [cadence, setCadence] = useState<Change>({ every_days: 7 });
  const [salt, setSalt] = useState<Span>(kSalt);
  if (!open) return <WordButton tap={() => setOpen(true)}>{t("plans.add care")}</WordButton>;
  const toggle = (kind: CareKind) => setKinds(kinds.includes(kind) ? kinds.filter((k) => k !== kind) : [...kinds, kind]);
  const write = () => {
    const { every_days, times_a_week, on_day } = cadence;
    const asked = every_days !== undefined ? { every_days } : times_a_week !== undefined ? { times_a_week } : on_day !== undefined ? { on_day } : { every_days: 7 };
    add({ kinds, ...asked, ...(turn && !kinds.includes("turn") ? { brings: ["turn" as const] } : {}), ...(kinds.includes("wash") ? { salt } : {}) });
    setOpen(false);
    setKinds([]);
  };
  return (
    <section class="editor" aria-label={t("plans.add care")}>
      <GroupHead b={t("plans.add care")} i={kinds.length > 1 ? t("plans.in turn") : ""} />
      <Entry class="full"><span class="cells c3">{kKinds.map((kind) => <button key={kind} type="button" class={kinds.includes(kind) ? "on" : undefined} aria-pressed={kinds.includes(kind)} onClick={() => toggle(kind)}>{t(`care.${kind}`)}</button>)}</span></Entry>
      {!kinds.includes("turn") && <EntryButton class={`pick ${turn ? "on" : ""}`} pressed={turn} tap={() => setTurn(!turn)}><span class="word hand">{t("plans.with turn")}</span></EntryButton>}
      <CadenceSteps care={cadence as Partial<PlanCare>} first={first} say={(next) => setCadence("morning_and_evening" in next ? cadence : next)} />
      {kinds.includes("wash") && <><GroupHead b={t("plans.salt")} i={t("plans.salt.unit")} /><SpanSteps value={salt} unit="g" step={0.5} least={0} most={30} say={setSalt} /></>}
      {kinds.length > 0 && <WordButton tap={write}>{t("plans.add do", { care: careWords(kinds) })}</WordButton>}
      <WordButton tap={() => setOpen(false)}>{t("plans.add not")}</WordButton>
    </section>
  );
}

/** A care that is not in the plan yet. */
export function AddedCare({ edit, drop }: { edit: PlanEdit; drop: () => void }) {
  const add = edit.add!;
  return (
    <Entry class="fig2" m={<span class="strong">{careWords([...add.kinds, ...(add.brings ?? [])])}</span>}>
      <span class="word hand">{cadenceWord(add)}</span><span class="note block">{t("plans.new")}</span>
      {add.salt && <span class="note block">{t("plans.wash", { salt: span(add.salt) })}</span>}
      <button type="button" class="tap back" onClick={drop}>{t("plans.strike care")}</button>
    </Entry>
  );
}

// What, when, where, how big, one leaf and one tap each; of a wheel that was not made today a fifth: what went before.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Day, PlanOffer, Plans } from "../../api";
import { addDays, longDate } from "../../days";
import { pictureOf, RindDrawing } from "../../draw/rinds";
import { weight } from "../../figures";
import { Cells, Stepper } from "../../parts/cells";
import { Entry, EntryButton, GroupHead, WordButton } from "../../parts/leaf";
import { Month } from "../../parts/month";
import { WherePicker } from "../../parts/where";
import { many, t, whole, type WordKey } from "../../words";
import { inRindOrder } from "../plans/order";
import { ShelfChoice } from "../wheels/deeds/shelf";
import { hasShelves, stepCount, type EnterDraft } from "./draft";
import { FitWarning } from "./fit";
import { RuleStep } from "./rule";

export type Say = (more: Partial<EnterDraft>) => void;

const kTitles: WordKey[] = ["enter.rind", "enter.made", "enter.where", "enter.big", "enter.before"];

/** How many there are can be said once it is known when it was made. */
const ofHowMany = (made: Day | undefined, today: Day) => (made ? t("enter.of", { count: stepCount(made, today) }) : "");

interface Known { made?: Day | undefined; today: Day }

/** The head of one of them: its number in the margin, as in a ledger's list. */
export function StepHead({ step, note, made, today }: Known & { step: number; note?: ComponentChildren }) {
  return (
    <header class="entry head heavy">
      <div class="m"><span class="day">{step}</span>{ofHowMany(made, today)}</div>
      <div class="b"><h1 class="name">{t(kTitles[step - 1]!)}</h1>{note && <p class="note">{note}</p>}</div>
    </header>
  );
}

/** What is still to come, so that the end is in sight. */
export function Rest({ after, made, today }: Known & { after: number }) {
  const titles = kTitles.slice(after, made ? stepCount(made, today) : kTitles.length);
  return (
    <>
      {titles.map((title, i) => (
        <Entry key={title} class={`then ${i === titles.length - 1 ? "plain" : ""}`} m={after + i + 1}>{t(title === "enter.before" && !made ? "enter.before.if" : title)}</Entry>
      ))}
    </>
  );
}

const kFew = 4; // families that need no heads

function PlanRow({ plan, say }: { plan: PlanOffer; say: Say }) {
  return (
    <EntryButton class="ask" m={<RindDrawing picture={pictureOf(plan)} />} tap={() => say({ plan })}>
      <span class="word">{plan.rind_words}</span><span class="note">{whole(plan.family)}</span>
    </EntryButton>
  );
}

export function RindStep({ plans, say, other }: { plans: Plans; say: Say; other: () => void }) {
  return (
    <>
      <StepHead step={1} note={t("enter.rind.low")} today={plans.head.day} />
      {inRindOrder(plans.plans).map((group) => (
        <div key={group.rind}>
          {plans.plans.length > kFew && <GroupHead i={t(`rinds.${group.rind}`)} />}
          {group.plans.map((plan) => <PlanRow key={plan.id} plan={plan} say={say} />)}
        </div>
      ))}
      <WordButton class="heavy" tap={other}>{t("enter.other")}</WordButton>
      <Rest after={1} today={plans.head.day} />
    </>
  );
}

/** Honest about what the book knows; the nearest can be chosen. */
export function OtherStep({ plans, say }: { plans: Plans; say: Say }) {
  const families = plans.plans.map((p) => p.family).join("; ");
  return (
    <>
      <header class="entry head heavy">
        <div class="m"><span class="day">1</span></div>
        <div class="b"><h1 class="name">{t("enter.honest")}</h1><p class="note">{t("enter.honest.low", { families })}</p></div>
      </header>
      <GroupHead b={t("enter.nearest")} />
      {plans.plans.map((plan) => <PlanRow key={plan.id} plan={plan} say={say} />)}
    </>
  );
}

export function MadeStep({ today, say }: { today: Day; say: Say }) {
  const [month, setMonth] = useState(false);
  const made = (day: Day) => say({ made: day });
  return (
    <>
      <StepHead step={2} note={t("enter.made.first")} today={today} />
      <EntryButton class="ask slim" tap={() => made(today)}><span class="word">{t("day.today")}</span><span class="note">{longDate(today)}</span></EntryButton>
      <EntryButton class="ask slim" tap={() => made(addDays(today, -1))}><span class="word">{t("day.yesterday")}</span><span class="note">{longDate(addDays(today, -1))}</span></EntryButton>
      {month ? <Month today={today} choose={made} /> : <WordButton class="heavy" tap={() => setMonth(true)}>{t("enter.made.day")}</WordButton>}
      <Rest after={2} today={today} />
    </>
  );
}

export function WhereStep({ plans, draft, say }: { plans: Plans; draft: EnterDraft; say: Say }) {
  const known = { made: draft.made, today: plans.head.day };
  return (
    <>
      <StepHead step={3} {...known} />
      <WherePicker caves={plans.caves} choose={(where, word) => say({ where: { where, word } })} />
      <Rest after={3} {...known} />
    </>
  );
}

const kWeights = [100, 250, 500, 1000, 1500, 2000, 3000, 5000, 10000];

/** A weight, or "not known": the last tap for a wheel made today. How many, and a lot, may be said before it. */
export function BigStep({ plans, draft, say, done, lots }: { plans: Plans; draft: EnterDraft; say: Say; done: (more: Partial<EnterDraft>) => void; lots: boolean }) {
  const kinds = new Map(plans.caves.map((c) => [c.id, c.kind as string]));
  const { where } = draft;
  const known = { made: draft.made, today: plans.head.day };
  return (
    <>
      <StepHead step={4} note={t("enter.each")} {...known} />
      <Entry class="full" m={<span class="note strong">{t("enter.count")}</span>}>
        <Stepper less={t("enter.fewer")} more={t("enter.more")} onLess={() => say({ count: Math.max(1, draft.count - 1) })} onMore={() => say({ count: Math.min(500, draft.count + 1) })}>
          <b>{draft.count}</b> {many("enter.count.n", draft.count).replace(/^\d+ /, "")}
        </Stepper>
      </Entry>
      {lots && (
        <Entry class="write1" m={<label for="lot">{t("enter.lot")}</label>}>
          <input id="lot" class="field" maxLength={20} placeholder={t("enter.lot.hint")} value={draft.lot} onInput={(e) => say({ lot: e.currentTarget.value })} />
        </Entry>
      )}
      {where && hasShelves(where.where, kinds) && <ShelfChoice cave={"cave" in where.where ? where.where.cave : undefined} shelf={draft.shelf} say={(shelf) => say({ shelf })} />}
      {lots && <RuleStep rule={draft.rule} say={(rule) => say({ rule })} />}
      <FitWarning draft={draft} />
      <GroupHead b={t("enter.big")} />
      <Entry class="full tall heavy"><Cells columns={3} choices={kWeights.map((g) => ({ value: g, word: weight(g) }))} choose={(grams) => done({ grams })} /></Entry>
      <EntryButton class="ask slim" tap={() => done({})}><span class="word hand">{t("enter.unknown")}</span><span class="note">{t("enter.unknown.low")}</span></EntryButton>
      <Rest after={4} {...known} />
    </>
  );
}

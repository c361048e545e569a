// The four taps, one leaf each: what, when, where, how big.
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
import { many, t, type WordKey } from "../../words";
import { inRindOrder } from "../plans/order";
import { ShelfChoice } from "../wheels/deeds/shelf";
import { hasShelves, type EnterDraft } from "./draft";
import { FitWarning } from "./fit";
import { RuleStep } from "./rule";

export type Say = (more: Partial<EnterDraft>) => void;

const kTitles: WordKey[] = ["enter.rind", "enter.made", "enter.where", "enter.big"];

/** The head of one of the four: its number in the margin, as in a ledger's list. */
export function StepHead({ step, note }: { step: number; note?: ComponentChildren }) {
  return (
    <header class="entry head heavy">
      <div class="m"><span class="day">{step}</span>{t("enter.of", { count: 4 })}</div>
      <div class="b"><h1 class="name">{t(kTitles[step - 1]!)}</h1>{note && <p class="note">{note}</p>}</div>
    </header>
  );
}

/** What is still to come, so that the end is in sight. */
export function Rest({ after }: { after: number }) {
  return (
    <>
      {kTitles.slice(after).map((title, i) => (
        <Entry key={title} class={`then ${after + i === 3 ? "plain" : ""}`} m={after + i + 1}>{t(title)}</Entry>
      ))}
    </>
  );
}

const kFew = 4; // families that need no heads

function PlanRow({ plan, say }: { plan: PlanOffer; say: Say }) {
  return (
    <EntryButton class="ask" m={<RindDrawing picture={pictureOf(plan)} />} tap={() => say({ plan })}>
      <span class="word">{plan.rind_words}</span><span class="note">{plan.family}</span>
    </EntryButton>
  );
}

export function RindStep({ plans, say, other }: { plans: Plans; say: Say; other: () => void }) {
  return (
    <>
      <StepHead step={1} note={t("enter.rind.low")} />
      {inRindOrder(plans.plans).map((group) => (
        <div key={group.rind}>
          {plans.plans.length > kFew && <GroupHead i={t(`rinds.${group.rind}`)} />}
          {group.plans.map((plan) => <PlanRow key={plan.id} plan={plan} say={say} />)}
        </div>
      ))}
      <WordButton class="heavy" tap={other}>{t("enter.other")}</WordButton>
      <Rest after={1} />
    </>
  );
}

/** Honest about what the book knows; the nearest can be chosen. */
export function OtherStep({ plans, say }: { plans: Plans; say: Say }) {
  const families = plans.plans.map((p) => p.family).join("; ");
  return (
    <>
      <header class="entry head heavy">
        <div class="m"><span class="day">1</span>{t("enter.of", { count: 4 })}</div>
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
      <StepHead step={2} note={t("enter.made.first")} />
      <EntryButton class="ask slim" tap={() => made(today)}><span class="word">{t("day.today")}</span><span class="note">{longDate(today)}</span></EntryButton>
      <EntryButton class="ask slim" tap={() => made(addDays(today, -1))}><span class="word">{t("day.yesterday")}</span><span class="note">{longDate(addDays(today, -1))}</span></EntryButton>
      {month ? <Month today={today} choose={made} /> : <WordButton class="heavy" tap={() => setMonth(true)}>{t("enter.made.day")}</WordButton>}
      <Rest after={2} />
    </>
  );
}

export function WhereStep({ plans, say }: { plans: Plans; say: Say }) {
  return (
    <>
      <StepHead step={3} />
      <WherePicker caves={plans.caves} choose={(where, word) => say({ where: { where, word } })} />
      <Rest after={3} />
    </>
  );
}

const kWeights = [100, 250, 500, 1000, 1500, 2000, 3000, 5000, 10000];

/** The last tap: a weight, or "not known". How many, and a lot, may be said before it. */
export function BigStep({ plans, draft, say, done, lots }: { plans: Plans; draft: EnterDraft; say: Say; done: (more: Partial<EnterDraft>) => void; lots: boolean }) {
  const kinds = new Map(plans.caves.map((c) => [c.id, c.kind as string]));
  const { where } = draft;
  return (
    <>
      <StepHead step={4} note={t("enter.each")} />
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
    </>
  );
}

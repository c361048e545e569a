// The helper's sheet: one A4 that needs no phone. Only what cannot wait, what is normal, whom to ring, what never to do.
import type { ComponentChildren } from "preact";
import type { AwayPlan, Caves, Day, Settings } from "../../api";
import { month, shortDate, weekdayDate, dayOfMonth } from "../../days";
import { RindDrawing } from "../../draw/rinds";
import { useAnswer } from "../../house/answers";
import { Book } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { many, t, type WordKey } from "../../words";
import { Waiting } from "../waiting";
import { awayPath } from "./away";
import { visitMinutes } from "./minutes";
import { Drops, Fridge, Slimy, Spots, Swollen } from "./sheet_drawings";
import { stepsOf, type Step } from "./steps";

export function SheetPlace({ from, back, caves }: { from: string; back: string; caves: string | undefined }) {
  const path = awayPath(from, back, caves ? caves.split("-").map(Number) : []);
  const answer = useAnswer<AwayPlan>(path);
  const settings = useAnswer<Settings>("/api/settings").value;
  const known = useAnswer<Caves>("/api/caves").value?.caves ?? [];
  const plan = answer.value;
  if (!plan) return <Waiting place="round" path={path} answer={answer} />;
  const keepers = settings?.keepers ?? [];
  const fridges = known.filter((c) => c.kind === "fridge").map((c) => c.name);
  const steps = stepsOf(plan, fridges);
  return (
    <Book place="round" title={t("sheet.title")} class="withdeed paper" quiet foot={<Deed verb={t("print")} low={t("sheet.print.low")} tap={() => print()} />}>
      <section class={steps.length > kRoomy ? "sheet dense" : "sheet"}>
        <header>
          <div class="d">{month(plan.from)}<b>{t("span", { low: dayOfMonth(plan.from), high: month(plan.from) === month(plan.back) ? dayOfMonth(plan.back) : shortDate(plan.back) })}</b></div>
          <div><h1>{t("sheet.title")}</h1><p>{visitsLine(plan)} {keepers.length > 0 && <span class="by">{keepers.join(", ")}</span>}</p></div>
        </header>
        <Visits plan={plan} steps={steps} />
        {plan.normal.length > 0 && <h2>{t("sheet.normal")}</h2>}
        <div class="row">{plan.normal.filter((key) => kPictures[key]).map((key) => <See key={key} drawing={kPictures[key]!()} word={t(key as WordKey)} more={t(`${key}.low` as WordKey)} />)}</div>
        <h2>{t("sheet.ring us")}</h2>
        <div class="row">
          <See drawing={<Swollen />} word={t("sheet.swollen")} more={t("sheet.swollen.low")} />
          <See drawing={<Slimy />} word={t("sheet.slimy")} more={t("sheet.slimy.low")} />
          <See drawing={<Spots />} word={t("sheet.spots")} more={t("sheet.spots.low")} />
          <See drawing={<Fridge />} word={t(fridges.length > 0 ? "sheet.fridge" : "sheet.door")} more={t("sheet.fridge.low")} />
        </div>
        <div class="ringup"><b>{t("sheet.ring first")}</b> {telephone(keepers[0])} <i /> <b>{t("sheet.then")}</b> {telephone(keepers[1])} <i /></div>
        <div class="never"><b>{t("sheet.never")}</b><span>{t("sheet.never.taste")}</span><span>{t("sheet.never.cloth")}</span><span>{t("sheet.never.wash")}</span><span>{t("sheet.never.switch")}</span></div>
        <div class="seen"><b>{t("sheet.seen")}</b><i /><i /></div>
      </section>
    </Book>
  );
}

const kRoomy = 8; // steps and changes that stand on one A4 at their full size; more are set closer

const telephone = (name: string | undefined) => (name ? t("sheet.telephone", { name }) : t("sheet.telephone.plain"));

function visitsLine(plan: AwayPlan): string {
  if (plan.visits.length === 0) return t("sheet.no visit");
  return many("sheet.visits", plan.visits.length, { minutes: visitMinutes(plan) });
}

const kMost = 14; // visits whose initials stand beside each other on one sheet

/** As many sheets' worth of initials as there are; the steps stand on each. */
function Visits({ plan, steps }: { plan: AwayPlan; steps: Step[] }) {
  const days = plan.visits.map((v) => v.day);
  const parts = Array.from({ length: Math.ceil(days.length / kMost) }, (_, i) => days.slice(i * kMost, (i + 1) * kMost));
  return <>{parts.map((part) => <VisitTable key={part[0]} days={part} steps={steps} />)}</>;
}

function VisitTable({ days, steps }: { days: Day[]; steps: Step[] }) {
  let number = 0;
  const width = days.length > 8 ? "tight" : days.length > 4 ? "narrow-signs" : "";
  return (
    <table class={width}>
      <thead><tr><td /><th>{t("sheet.each visit")}</th>{days.map((day) => <th key={day} scope="col">{weekdayDate(day)}<small>{t("sheet.initials")}</small></th>)}</tr></thead>
      <tbody>
        {steps.map((step) => ("change" in step
          ? <tr key={`change ${step.after}`} class="chg"><td /><td colSpan={days.length + 1}>{step.change}</td></tr>
          : (
            <tr key={step.text + step.lead}>
              <td class="no">{++number}</td>
              <td><b>{step.lead}</b> {step.text}<span class="onphone">{step.days.length === days.length ? t("sheet.each time") : step.days.map(weekdayDate).join(", ")}</span></td>
              {days.map((day) => <td key={day} class={step.days.includes(day) ? "" : "nil"}>{step.days.includes(day) ? <i class={step.degrees ? "sg deg" : "sg"}>{step.degrees ? "°C" : ""}</i> : width ? "–" : t("sheet.not today")}</td>)}
            </tr>
          )))}
      </tbody>
    </table>
  );
}

const See = ({ drawing, word, more }: { drawing: ComponentChildren; word: string; more: string }) => <div class="see">{drawing}<b>{word}</b><span>{more}</span></div>;

const kPictures: Record<string, () => ComponentChildren> = {
  "sheet.normal.white": () => <RindDrawing picture="white" />,
  "sheet.normal.grey": () => <RindDrawing picture="grey" />,
  "sheet.normal.orange": () => <RindDrawing picture="washed" />,
  "sheet.normal.blue": () => <RindDrawing picture="blue" />,
  "sheet.normal.drops": () => <Drops />,
};

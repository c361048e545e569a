// First use, and every later wheel: what is ripening, when made, where it lies, how big.
import { useEffect, useState } from "preact/hooks";
import type { Plans, StartWord } from "../../api";
import { queue } from "../../house/acts";
import { signed } from "../../house/keeper";
import { useAnswer } from "../../house/answers";
import { Book, Notices } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { hold } from "../round/held";
import { go } from "../../route";
import { t } from "../../words";
import { Waiting } from "../waiting";
import { BeforeStep } from "./before";
import { actOf, kEmpty, proposedStarts, type EnterDraft } from "./draft";
import { BigStep, MadeStep, OtherStep, RindStep, WhereStep } from "./steps";

type Step = "rind" | "other" | "made" | "where" | "big" | "before";

/** Each step is an entry of the browser's history, so that "back" is the step before. */
function useSteps(): [Step, (step: Step) => void] {
  const [step, setStep] = useState<Step>("rind");
  useEffect(() => {
    history.replaceState({ ...history.state, step: "rind" }, "");
    const onPop = (event: PopStateEvent) => setStep(((event.state as { step?: Step } | null)?.step) ?? "rind");
    addEventListener("popstate", onPop);
    return () => removeEventListener("popstate", onPop);
  }, []);
  return [step, (next) => {
    history.pushState({ ...history.state, step: next }, "");
    setStep(next);
    scrollTo(0, 0);
  }];
}

export function EnterPlace() {
  return <Enter first={false} />;
}

export function Enter({ first }: { first: boolean }) {
  const answer = useAnswer<Plans>("/api/plans");
  const plans = answer.value;
  if (!plans) return <Waiting place={first ? "round" : "wheels"} path="/api/plans" answer={answer} />;
  return <EnterLeaves plans={plans} first={first} />;
}

function EnterLeaves({ plans, first }: { plans: Plans; first: boolean }) {
  const [draft, setDraft] = useState<EnterDraft>(kEmpty);
  const [starts, setStarts] = useState<StartWord[]>([]);
  const [step, setStep] = useSteps();
  const today = plans.head.day;
  const say = (more: Partial<EnterDraft>) => setDraft((d) => ({ ...d, ...more }));
  const sayAnd = (next: Step) => (more: Partial<EnterDraft>) => {
    say(more);
    setStep(next);
  };
  const enter = (whole: EnterDraft) => {
    const act = actOf(whole);
    if (!act) return setStep("rind");
    signed(() => {
      const entry = queue.add(act);
      hold("enter", t("round.said", { place: whole.where!.word, what: whole.plan!.family.split(",")[0]! }), entry.act.id);
      go(first ? "/" : "/wheels", true);
    });
  };
  // The fourth tap enters a wheel made today; of an older one it is asked what went before, all preset: the fifth enters it.
  const done = (more: Partial<EnterDraft>) => {
    const whole = { ...draft, ...more };
    if (!whole.plan || !whole.made || !whole.where) return setStep("rind");
    if (whole.made === today) return enter(whole);
    const kinds = new Map(plans.caves.map((c) => [c.id, c.kind as string]));
    const proposed = proposedStarts(whole.plan, whole.made, today, whole.where.where, kinds);
    setStarts(proposed.map((s) => s.start));
    setDraft({ ...whole, starts: proposed });
    setStep("before");
  };
  const again = () => {
    setDraft(kEmpty);
    setStep("rind");
  };
  const foot = step === "before" ? <Deed verb={t(draft.count === 1 ? "enter.deed" : "enter.deed.many")} low={draft.where?.word ?? ""} tap={() => enter(draft)} /> : undefined;
  return (
    <Book place={first ? "round" : "wheels"} title={t("enter.rind")} class={foot ? "withdeed" : ""} foot={foot}>
      <section class="leaf">
        {step === "rind" && <Notices />}
        {step === "rind" && <RindStep plans={plans} say={sayAnd("made")} other={() => setStep("other")} />}
        {step === "other" && <OtherStep plans={plans} say={sayAnd("made")} />}
        {step === "made" && <MadeStep today={today} say={sayAnd("where")} />}
        {step === "where" && <WhereStep plans={plans} draft={draft} say={sayAnd("big")} />}
        {step === "big" && <BigStep plans={plans} draft={draft} say={say} done={done} lots={!first} />}
        {step === "before" && <BeforeStep draft={draft} today={today} starts={starts} say={say} again={again} />}
      </section>
    </Book>
  );
}

// Who would not suit whom, before a wheel is put there: said while it can still go elsewhere.
import type { Fit, FitCost } from "../../api";
import { span } from "../../figures";
import { useAnswer } from "../../house/answers";
import { Entry } from "../../parts/leaf";
import { t } from "../../words";
import { fitPath, type EnterDraft } from "./draft";
import { costWords, laterWords } from "./fit_words";

const kLater = 4; // of what is to come, the soonest

const keyOf = (c: FitCost) => `${c.family} ${c.what} ${c.newcomer}`;
export function FitWarning({ draft }: { draft: EnterDraft }) {
  const path = fitPath(draft);
  return path ? <FitAsked path={path} cave={draft.where!.word} /> : null;
}

export function FitAsked({ path, cave }: { path: string; cave: string }) {
  const fit = useAnswer<Fit>(path).value;
  if (!fit || (fit.costs.length === 0 && fit.later.length === 0 && fit.advice.length === 0 && !fit.lawful_after_ready)) return null;
  const { temperature, humidity } = fit.shared;
  const bands = [temperature && `${span(temperature)}\u00a0°C`, humidity && `${span(humidity, 0)}\u00a0%`].filter(Boolean).join(", ");
  return (
    <Entry class="heavy" m={<span class="note strong">{cave}</span>}>
      <p class="word strong">{t("enter.fit")}</p>
      {fit.costs.map((c) => <p key={keyOf(c)} class="note">{costWords(c)}</p>)}
      {fit.costs.length > 0 && <p class="note">{bands ? t("enter.fit.shared", { bands }) : t("enter.fit.none")}</p>}
      {fit.later.slice(0, kLater).map((c) => <p key={`later ${keyOf(c)}`} class="note">{laterWords(c, fit.head.day)}</p>)}
      {fit.advice.map((a) => <p key={a} class="note strong">{a}</p>)}
      {fit.lawful_after_ready && <p class="note strong">{t("wheels.after ready")}</p>}
    </Entry>
  );
}

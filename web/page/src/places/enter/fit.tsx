// Who would not suit whom, before a wheel is put there: said while it can still go elsewhere.
import type { Fit } from "../../api";
import { span } from "../../figures";
import { useAnswer } from "../../house/answers";
import { Entry } from "../../parts/leaf";
import { kinOf } from "../../parts/names";
import { t } from "../../words";
import { fitPath, type EnterDraft } from "./draft";

export function FitWarning({ draft }: { draft: EnterDraft }) {
  const path = fitPath(draft);
  return path ? <FitAsked path={path} cave={draft.where!.word} /> : null;
}

export function FitAsked({ path, cave }: { path: string; cave: string }) {
  const fit = useAnswer<Fit>(path).value;
  if (!fit || (fit.costs.length === 0 && fit.advice.length === 0 && !fit.lawful_after_ready)) return null;
  const { temperature, humidity } = fit.shared;
  const bands = [temperature && `${span(temperature)}\u00a0°C`, humidity && `${span(humidity, 0)}\u00a0%`].filter(Boolean).join(", ");
  return (
    <Entry class="heavy" m={<span class="note strong">{cave}</span>}>
      <p class="word strong">{t("enter.fit")}</p>
      {fit.costs.map((c) => <p key={c.family + c.channel} class="note">{t(c.newcomer ? "enter.fit.cost new" : "enter.fit.cost", { count: c.count, family: kinOf(c.family, c.count), what: c.what })}</p>)}
      {fit.costs.length > 0 && <p class="note">{bands ? t("enter.fit.shared", { bands }) : t("enter.fit.none")}</p>}
      {fit.advice.map((a) => <p key={a} class="note strong">{a}</p>)}
      {fit.lawful_after_ready && <p class="note strong">{t("wheels.after ready")}</p>}
    </Entry>
  );
}

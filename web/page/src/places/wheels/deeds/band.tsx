// A band of its own: what this wheel is to keep, where its keeper knows better than its plan.
import { useState } from "preact/hooks";
import type { Span } from "../../../api";
import { queue } from "../../../house/acts";
import { Entry, GroupHead, WordButton } from "../../../parts/leaf";
import { t } from "../../../words";
import { SpanSteps } from "../../plans/steps";
import { Which } from "../which";
import { DeedBook, type WheelProps } from "./of_wheel";

const kDegrees: Span = { low: 10, high: 14 };
const kPoints: Span = { low: 80, high: 90 };

export function BandDeed({ page, lot, leave }: WheelProps) {
  const { wheel } = page;
  const today = page.head.day;
  const stage = page.stages.find((s) => s.from <= today && (!s.to || s.to >= today)) ?? page.stages[page.stages.length - 1];
  const [temperature, setTemperature] = useState<Span | undefined>(wheel.own_band?.temperature);
  const [humidity, setHumidity] = useState<Span | undefined>(wheel.own_band?.humidity);
  const [chosen, setChosen] = useState([wheel.id]);
  const clean = (of: Span | undefined) => (of ? { low: of.low, high: of.high } : undefined);
  const sign = (bands: { temperature?: Span | undefined; humidity?: Span | undefined }) => {
    const [warm, damp] = [clean(bands.temperature), clean(bands.humidity)];
    queue.add({ kind: "band", wheels: chosen, ...(warm ? { temperature: warm } : {}), ...(damp ? { humidity: damp } : {}) });
    leave();
  };
  return (
    <DeedBook page={page} title={t("band.title")} verb={t("band.deed")} low={t("band.low")} off={chosen.length === 0 || (!temperature && !humidity)} tap={() => sign({ temperature, humidity })}>
      <Channel name={t("channel.temperature")} unit="°C" step={0.5} least={-10} most={40} value={temperature} plan={stage?.temperature} start={kDegrees} say={setTemperature} />
      <Channel name={t("channel.humidity")} unit="%" step={1} least={0} most={100} value={humidity} plan={stage?.humidity} start={kPoints} say={setHumidity} />
      <Which of={lot} chosen={chosen} choose={setChosen} />
      {wheel.own_band && <WordButton tap={() => sign({})}>{t("band.plan again")}</WordButton>}
      <Entry><span class="note">{t("band.more")}</span></Entry>
    </DeedBook>
  );
}

interface ChannelProps { name: string; unit: string; step: number; least: number; most: number; value: Span | undefined; plan: Span | undefined; start: Span; say: (span: Span | undefined) => void }

function Channel({ name, unit, step, least, most, value, plan, start, say }: ChannelProps) {
  return (
    <>
      <GroupHead b={name} i={value ? t("band.own") : t("band.of plan")} />
      {value ? <SpanSteps value={value} unit={unit} step={step} least={least} most={most} apart={step} say={say} /> : null}
      <WordButton tap={() => say(value ? undefined : (plan ?? start))}>{t(value ? "band.drop" : "band.take")}</WordButton>
    </>
  );
}

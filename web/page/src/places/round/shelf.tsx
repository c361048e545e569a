// The wheels of a shelf as they lie, to tap those that are meant; beyond what the eye counts, how many alone.
import type { WheelStateWord } from "../../api";
import { RingShape } from "../../draw/rings";
import { Entry } from "../../parts/leaf";
import { Stepper } from "../../parts/cells";
import { t } from "../../words";
import { kPictured, numbersSaid, oneFewer, oneMore, rowsOf, toggled, type Spot } from "./pick";

export const numbersOf = (picked: number[], spots: Spot[]) =>
  numbersSaid(spots.filter((s) => picked.includes(s.wheel)).map((s) => s.number), (low, high) => t("span", { low, high }));

interface WheelProps { spot: Spot; state: WheelStateWord; on: boolean; done: boolean; tap: () => void; label: string }

/** Done: quiet and struck. Picked: full ink over an open sign line, its number bold. */
function WheelButton({ spot, state, on, done, tap, label }: WheelProps) {
  return (
    <button type="button" aria-pressed={on} aria-label={label} onClick={tap}>
      <svg width="53" height="66" viewBox="0 0 53 66" aria-hidden="true" fill="none" stroke-width={on ? 2.4 : 1.4}>
        <RingShape cx={26.5} cy={20} r={15} state={state} ink={on ? "var(--ink)" : "var(--ink-2)"} />
        {!on && done && <path d="M6.5 20h40" stroke="var(--hand)" stroke-width="2" />}
        {on && <path d="M6.5 43h40" stroke="var(--hand)" stroke-width="2.5" stroke-dasharray="2.5 3" />}
        <text class={on ? "picked" : ""} x="26.5" y={on ? 60 : 55} text-anchor="middle">{spot.number}</text>
      </svg>
    </button>
  );
}

interface ShelfProps {
  spots: Spot[];
  state: WheelStateWord;
  picked: number[];
  pick: (picked: number[]) => void;
  done: boolean;                        // those not picked are done
  label: (number: number, on: boolean) => string;
  most?: number;                        // as many can be picked
}

export function Shelf({ spots, state, picked, pick, done, label, most = spots.length }: ShelfProps) {
  const pictured = spots.length <= kPictured;
  const set = (next: number[]) => next.length <= most && pick(next);
  return (
    <>
      {pictured && rowsOf(spots).map((row, i) => (
        <Entry key={row[0]!.number} class="shelfpick plain" m={
          <>
            <span class="note">{row.length > 1 ? t("span", { low: row[0]!.number, high: row[row.length - 1]!.number }) : row[0]!.number}</span>
            {i === 0 && <span class="note block">{t("pick.from the door")}</span>}
          </>}>
          <div class="pickrow">
            {row.map((spot) => {
              const on = picked.includes(spot.wheel);
              return <WheelButton key={spot.wheel} spot={spot} state={state} on={on} done={done} tap={() => set(toggled(picked, spot.wheel))} label={label(spot.number, on)} />;
            })}
          </div>
        </Entry>
      ))}
      <Entry class="full" m={<span class="note strong">{t(pictured ? "pick.or how many" : "pick.how many")}</span>}>
        <Stepper less={t("pick.fewer")} more={t("pick.more")} onLess={() => pick(oneFewer(picked))} onMore={() => set(oneMore(picked, spots))}>
          <b>{picked.length}</b> {t("pick.of", { count: spots.length })}
        </Stepper>
      </Entry>
    </>
  );
}

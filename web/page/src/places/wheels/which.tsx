// Which wheels a deed is for: this one, some of its lot picked or counted, or all of it.
import { useState } from "preact/hooks";
import type { Wheel } from "../../api";
import { Cells, Stepper } from "../../parts/cells";
import { Entry, GroupHead } from "../../parts/leaf";
import { lotWord } from "../../parts/names";
import { many, t } from "../../words";
import { firstOf } from "./sisters";

const kToPick = 25; // up to here each wheel can be tapped; more are counted

export interface WhichProps {
  of: Wheel[];              // the lot, this wheel first
  chosen: number[];
  choose: (wheels: number[]) => void;
}

/** Nothing to ask where a lot is one wheel. */
export function Which({ of, chosen, choose }: WhichProps) {
  const [some, setSome] = useState(false);
  if (of.length < 2) return null;
  const one = of[0]!;
  const word = some ? "some" : chosen.length === of.length ? "all" : "one";
  const say = (next: "one" | "some" | "all") => {
    setSome(next === "some");
    if (next === "one") choose([one.id]);
    if (next === "all") choose(of.map((w) => w.id));
  };
  return (
    <section class="noprint" aria-label={t("which.head")}>
      <GroupHead m={lotWord(one.lot)} b={t("which.head")} />
      <Entry class="full"><Cells columns={3} chosen={word} choose={say}
        choices={[{ value: "one" as const, word: t("which.this") }, { value: "some" as const, word: t("which.some") }, { value: "all" as const, word: t("which.all", { count: of.length }) }]} /></Entry>
      {some && (of.length > kToPick ? <Counted of={of} chosen={chosen} choose={choose} /> : <Picked of={of} chosen={chosen} choose={choose} />)}
    </section>
  );
}

/** A figure of so many, the first as they stand. */
export function Counted({ of, chosen, choose }: WhichProps) {
  const count = chosen.length;
  const set = (next: number) => choose(firstOf(of, Math.max(1, Math.min(of.length, next))));
  return (
    <>
      <Entry class="full" m={<span class="note strong">{t("enter.count")}</span>}>
        <Stepper less={t("enter.fewer")} more={t("enter.more")} onLess={() => set(count - 1)} onMore={() => set(count + 1)}>
          <b>{count}</b> {t("which.of", { count: of.length })}
        </Stepper>
      </Entry>
      {of.length > 12 && <Entry class="full"><Cells choices={[{ value: -10, word: t("which.ten fewer") }, { value: 10, word: t("which.ten more") }]} choose={(by) => set(count + by)} /></Entry>}
    </>
  );
}

/** Each wheel by its number from the door, five to a row, its place named in the margin. */
function Picked({ of, chosen, choose }: WhichProps) {
  const places = [...new Set(of.map((w) => w.place))];
  const toggle = (id: number) => choose(chosen.includes(id) ? chosen.filter((c) => c !== id) : of.map((w) => w.id).filter((w) => w === id || chosen.includes(w)));
  return (
    <>
      {places.map((place) => (
        <Entry key={place} class="full" m={<span class="strong">{place}</span>}>
          <span class="cells c5">
            {of.filter((w) => w.place === place).sort((a, b) => a.number - b.number).map((w) => (
              <button key={w.id} type="button" class={chosen.includes(w.id) ? "on" : undefined} aria-pressed={chosen.includes(w.id)}
                      aria-label={t("which.wheel", { name: w.name, place })} onClick={() => toggle(w.id)}>{w.number}</button>
            ))}
          </span>
        </Entry>
      ))}
      <Entry><span class="note">{many("which.count", chosen.length)}</span></Entry>
    </>
  );
}

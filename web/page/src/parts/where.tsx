// Where a wheel lies or a probe hangs: the caves that there are, and the ones that there could be, one tap each.
import type { CaveKind, WhereNow } from "../api";
import { joined } from "./names";
import { t } from "../words";
import { EntryButton } from "./leaf";

export interface KnownCave { id: number; kind: CaveKind; name: string; inside?: number }
export interface WhereChoice { word: string; note?: string; where: WhereNow }

const fresh = (kind: CaveKind, inside?: number | { kind: CaveKind }): WhereNow => ({ new: { kind, ...(inside === undefined ? {} : { inside }) } });

/** What can be said of a place with one tap. */
export function whereChoices(caves: KnownCave[]): WhereChoice[] {
  const name = (id: number | undefined) => caves.find((c) => c.id === id)?.name;
  const have = (kind: CaveKind) => caves.some((c) => c.kind === kind);
  const known = caves.map((cave): WhereChoice => {
    const inside = name(cave.inside);
    return { word: cave.name, where: { cave: cave.id }, ...(inside ? { note: t("where.inside", { cave: inside }) } : {}) };
  });
  const hosts = caves.filter((c) => c.kind === "fridge" || c.kind === "room");
  const boxes = hosts.map((c): WhereChoice => ({ word: t("where.box in", { cave: c.name }), where: fresh("box", c.id) }));
  const possible: (WhereChoice | false)[] = [
    { word: t(have("counter") ? "where.another counter" : "where.counter"), where: fresh("counter"), note: t("where.counter.low") },
    !have("fridge") && { word: t("where.box fridge"), where: fresh("box", { kind: "fridge" }), note: t("where.box fridge.low") },
    ...boxes,
    { word: t(have("fridge") ? "where.another fridge" : "where.fridge"), where: fresh("fridge") },
    { word: t("where.ready fridge"), where: { new: { kind: "fridge", ready_cheese: true } }, note: t("where.ready fridge.low") },
    { word: t(have("room") ? "where.another room" : "where.room"), where: fresh("room") },
    !have("room") && { word: t("where.box room"), where: fresh("box", { kind: "room" }) },
  ];
  return [...known, ...possible.filter((c): c is WhereChoice => c !== false)];
}

export const sameWhere = (a: WhereNow | undefined, b: WhereNow) => JSON.stringify(a) === JSON.stringify(b);

interface Props {
  caves: KnownCave[];
  chosen?: WhereNow | undefined;
  choose: (where: WhereNow, word: string) => void;
  slim?: boolean;
}

export function WherePicker({ caves, chosen, choose, slim }: Props) {
  return (
    <>
      {whereChoices(caves).map(({ word, note, where }) => (
        <EntryButton key={word} class={slim ? `pick ${sameWhere(chosen, where) ? "on" : ""}` : "ask slim"} pressed={slim ? sameWhere(chosen, where) : undefined}
                     tap={() => choose(where, joined(word))}>
          <span class="word">{word}</span>{note && <span class="note">{note}</span>}
        </EntryButton>
      ))}
    </>
  );
}

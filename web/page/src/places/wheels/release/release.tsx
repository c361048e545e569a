// Which days count for the law, drawn and summed apart; and the release, locked until they are enough.
import { useState } from "preact/hooks";
import type { Qualifying, Wheel } from "../../../api";
import { keeperDay, longDate, shortDate, weekdayShort, addDays } from "../../../days";
import { celsius } from "../../../figures";
import { queue } from "../../../house/acts";
import { Book, Notices } from "../../../parts/book";
import { Entry, GroupHead, TitleHead, WordButton, WordLink } from "../../../parts/leaf";
import { dateWord, daySpan, joined, kinOf, lotWord } from "../../../parts/names";
import { WriteLine } from "../../../parts/write";
import { many, t } from "../../../words";
import { Margin, type WheelProps } from "../deeds/of_wheel";
import { Which } from "../which";
import { Fold, TallyKey, WeekTally } from "./tally";
import { folded, runsOf, short, weeksOf, type Week } from "./weeks";

const days = (runs: { from: string; to: string }[]) => runs.map((r) => daySpan(r.from, r.to)).join(", ");
const only = (q: Qualifying, is: Qualifying["days"][number]["is"]) => q.days.filter((d) => d.is === is);

function Sum({ word, count, note, hand, red }: { word: string; count: number; note?: string; hand?: boolean; red?: boolean }) {
  return (
    <div class="tab sums">
      <span class={red && count > 0 ? "bad plainweight" : undefined}>{word}</span><span class="r">{count}</span>
      {note && <span class={`n ${hand ? "hand" : ""}`}>{note}</span>}
    </div>
  );
}

/** Three sums apart; only what is proven and vouched comes under the double rule. */
function Sums({ q }: { q: Qualifying }) {
  const cold = only(q, "missing");
  const least = Math.min(...cold.flatMap((d) => (d.low === undefined ? [] : [d.low])));
  const min = q.rule.min_celsius;
  return (
    <Entry class="heavy" m={<span class="note strong">{t("release.days")}</span>}>
      <Sum word={t("day.is.proven")} count={q.proven} note={min === undefined ? t("release.proven.any") : t("release.proven", { degrees: celsius(min) })} />
      <Sum word={t("day.is.vouched")} count={q.vouched} hand note={q.vouches.map((v) => t("release.vouched", { name: v.name, reason: v.reason, days: days([v]) })).join("; ")} />
      <div class="tab sums last"><b>{t("release.counted")}</b><span class="r sumfig">{t("release.of", { counted: q.counted, of: q.of })}</span></div>
      <Sum word={t("day.is.missing")} red count={q.missing} note={cold.length > 0 ? joined(days(runsOf(cold.map((d) => d.day))), Number.isFinite(least) && t("release.down to", { degrees: celsius(least) })) : ""} />
      <Sum word={t("day.is.unproven")} count={q.unproven} note={q.unproven > 0 ? t("release.unproven", { days: days(runsOf(only(q, "unproven").map((d) => d.day))) }) : ""} />
      {q.not_counting > 0 && <Sum word={t("release.not counting")} count={q.not_counting} note={t("release.not counting.low")} />}
      <p class="say earliest">{q.reached ? t("release.reached") : q.earliest ? t("release.earliest", { day: longDate(q.earliest) }) : t("release.no earliest")}</p>
      {q.lawful_after_ready && <p class="note strong">{t("release.after ready")}</p>}
    </Entry>
  );
}

function weekWords(week: Week, q: Qualifying): string {
  const low = Math.min(...week.missing.flatMap((d) => (d.low === undefined ? [] : [d.low])));
  const by = q.vouches.find((v) => week.vouched.some((day) => day >= v.from && day <= v.to));
  return joined(week.missing.length > 0 && (Number.isFinite(low) ? celsius(low) : t("day.is.missing")), week.vouched.length > 0 && (by?.name ?? t("day.is.vouched")),
    week.unproven.length > 0 && t("release.no reading"));
}

const kNames = Array.from({ length: 7 }, (_, i) => weekdayShort(addDays("2024-01-01", i)).charAt(0));

/** The weeks down the page: the date in the margin, its seven strokes in the column. */
function Days({ q }: { q: Qualifying }) {
  const rows = folded(weeksOf(q.days));
  if (rows.length === 0) return null;
  const count = (week: Week, is: string) => week.cells.filter((c) => c === is).length;
  const label = (week: Week) => t("release.week", { day: longDate(week.monday), proven: count(week, "proven"), vouched: count(week, "vouched"), missing: count(week, "missing"), unproven: count(week, "unproven") });
  return (
    <section class="tallies">
      <Entry class="plain weekrow" m={<span class="note">{t("release.week of")}</span>}><span class="tally letters" aria-hidden="true">{kNames.map((name, i) => <span key={i}>{name}</span>)}</span></Entry>
      {rows.map((row) => ("week" in row ? (
        <Entry key={row.week.monday} class="plain weekrow" m={shortDate(row.week.monday)}><WeekTally week={row.week} label={label(row.week)} /><span class="note">{weekWords(row.week, q)}</span></Entry>
      ) : (
        <Entry key={row.from} class="plain weekrow" m=""><Fold /><span class="note">{t("release.folded", { count: row.folded, is: t(`day.is.${row.is}`) })}</span></Entry>
      )))}
      <Entry class="heavy"><TallyKey kinds={(["proven", "vouched", "missing", "unproven"] as const).filter((is) => q[is] > 0)} /></Entry>
    </section>
  );
}

function RuleEntry({ q, id }: { q: Qualifying | undefined; id: number }) {
  return (
    <>
      <Entry class="heavy" m={<span class="note strong">{t("release.rule")}</span>}>
        <p class="note">{q ? <><b>{q.rule.name}</b>{q.rule.typed_by !== undefined || q.rule.typed_at !== undefined ? <>, <span class="hand">{typed(q)}</span></> : null}. </> : <>{t("release.no rule")} </>}{t("release.law")}</p>
        <p class="note">{t("release.not safe")}</p>
      </Entry>
      <WordLink class="noprint" href={`/wheels/${id}/rule`}>{t(q ? "release.rule.change" : "release.rule.type")}</WordLink>
    </>
  );
}

function typed({ rule }: Qualifying): string {
  const when = rule.typed_at === undefined ? "" : shortDate(keeperDay(rule.typed_at));
  return rule.typed_by ? t("release.typed by", { name: rule.typed_by, day: when }) : t("release.typed", { day: when });
}

/** The margin of the locked deed says how many days are wanting. */
function Foot({ q, ready, wheels, held, tap }: { q: Qualifying | undefined; ready: boolean; wheels: number; held: boolean; tap: () => void }) {
  const locked = q !== undefined && !q.reached;
  const off = held || wheels === 0 || (locked && !ready);
  return (
    <button class={`deed ${locked && !ready ? "locked" : ""}`} type="button" onClick={tap} disabled={off}>
      {locked ? <span class="note strong lockedby">{many("release.short", short(q))}</span> : <span class="sign" />}
      <span>
        <span class="verb">{t(locked && ready ? "release.override" : "release.deed")}</span>
        <span class="low">{held ? t("release.held") : locked ? t("release.with reason") : t("release.deed.low")}</span>
      </span>
    </button>
  );
}

function released(wheel: Wheel): string {
  const done = wheel.qualifying?.released;
  if (!done) return t("release.done");
  const day = shortDate(keeperDay(done.at));
  return done.override ? t("release.done.override", { day, name: done.override.name, reason: done.override.reason }) : t("release.done.on", { day });
}

export function ReleaseDeed({ page, lot, leave }: WheelProps) {
  const { wheel } = page;
  const q = wheel.qualifying;
  const [reason, setReason] = useState("");
  const [name, setName] = useState("");
  const [chosen, setChosen] = useState([wheel.id]);
  const already = wheel.state === "released" || q?.released !== undefined;
  const locked = q !== undefined && !q.reached && !already;
  const ready = reason.trim() !== "" && name.trim() !== "";
  const tap = () => {
    queue.add({ kind: "release", wheels: chosen, ...(locked ? { override: { name: name.trim(), reason: reason.trim() } } : {}) });
    leave();
  };
  const title = already ? t("release.title.done") : t(locked ? "release.title.locked" : q ? "release.title.open" : "release.title");
  // What a lot may be released together: those of the same standing.
  const alike = lot.filter((w) => w.id === wheel.id || (w.state !== "released" && !w.held && (w.qualifying === undefined) === (q === undefined) && (w.qualifying?.reached ?? true) === (q?.reached ?? true)));
  const unproven = q ? only(q, "unproven").length : 0;
  return (
    <Book place="wheels" title={title} class={already ? "" : "withdeed"}
          foot={already ? undefined : <Foot q={q} ready={ready} wheels={chosen.length} held={wheel.held !== undefined} tap={tap} />}>
      <section class="leaf">
        <TitleHead m={<Margin wheel={wheel} />} title={title}
                   note={joined(wheel.name, lotWord(wheel.lot), lot.length > 1 && `${lot.length} ${kinOf(wheel.family, lot.length)}`, t("wheels.made", { day: dateWord(wheel.made, page.head.day) }))} />
        <Notices />
        {already && <Entry><span class="hand">{released(wheel)}</span></Entry>}
        {q && <Sums q={q} />}
        {q && <Days q={q} />}
      </section>
      <section class="leaf">
        <RuleEntry q={q} id={wheel.id} />
        {q && unproven > 0 && !already && (
          q.rule.vouching ? <WordLink class="noprint" href={`/wheels/${wheel.id}/vouch`}>{many("release.vouch for", unproven)}</WordLink>
            : <Entry><span class="note">{t("release.no vouching")}</span></Entry>
        )}
        {!already && <Which of={alike} chosen={chosen} choose={setChosen} />}
        {locked && (
          <>
            <GroupHead b={t("release.all the same")} />
            <WriteLine id="reason" label={t("release.reason")} value={reason} say={setReason} hint={t("release.reason.hint")} />
            <WriteLine id="name" label={t("release.name")} value={name} say={setName} hint={t("release.name.hint")} most={60} />
          </>
        )}
        <WordButton class="noprint" tap={() => print()}>{t("print")}</WordButton>
      </section>
    </Book>
  );
}

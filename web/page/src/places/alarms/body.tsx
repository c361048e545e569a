// One alarm as its page and its cave's page show it: what and since when, when it comes to whom, what to do first, and
// after it: what it was, how far it went, which days it cost.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Alarm } from "../../api";
import { useCell } from "../../cell";
import { now } from "../../clock";
import { dateOf, addDays, instantOf, shortDate } from "../../days";
import { StateGlyph, WaitGlyph } from "../../draw/glyphs";
import { Ring } from "../../draw/rings";
import { between, degrees, spoken, weight } from "../../figures";
import { aside, call, take } from "../../house/acts";
import { me, signed } from "../../house/keeper";
import type { ShownAlarm } from "../../house/overlay";
import { touch } from "../../house/touch";
import { alarmCry, alarmFigure, apartWord, asideEnds, asks, bandWord, clockWord, concernsHead, doseWord, edgeWords, farthest, gapOf, goesWord, insideWord, isTold, isUntold, lastedUntil, mayAside, ownWord, saidWord, standWord, tellerPath, tellerWord, toldSince, untilWord, unwatchedWords, whensOf, whyWord } from "../../parts/alarm_words";
import { alarmState, graveWordInFull, isInside, isLoud, isNearlyInside, sideOf, whatsOf, whatWord } from "../../parts/alarms";
import { Cells } from "../../parts/cells";
import { isOfAir, isGas } from "../../parts/kinds";
import { joined, wheelsOf } from "../../parts/names";
import { opening, t, unbroken } from "../../words";

/** `figure`: drawn larger by the page that it stands on. */
function Cry({ alarm, figure }: { alarm: ShownAlarm; figure?: ComponentChildren }) {
  const name = useCell(me);
  const house = useCell(touch);
  const inside = alarm.over === undefined && isInside(alarm);
  const blind = !house.in && alarm.over === undefined; // whether it lasts is not known
  const quiet = !isLoud(alarm) || inside || blind;
  const end = lastedUntil(alarm) ?? (blind ? house.since ?? now() : now());
  const state = blind ? "unknown" : inside ? "in band" : alarmState(alarm);
  const stands = standWord(alarm, now());
  const untold = isUntold(alarm);
  const goes = goesWord(alarm, name, now());
  const band = bandWord(alarm);
  const gap = gapOf(alarm);
  const gas = isGas(alarm.kind);
  const grave = graveWordInFull(alarm);
  return (
    <>
      <h2 class={`cry ${quiet ? "calm" : ""} ${gas ? "gas" : ""}`}>
        <StateGlyph state={state} side={sideOf(alarm)} size={quiet || gas ? 1 : 1.6} /> {asks(alarm) ? t("alarm.cry.asks") : alarmCry(alarm)}
      </h2>
      {(inside || isNearlyInside(alarm)) && <p class="word strong">{insideWord(alarm, now())}</p>}
      {blind && <p class="word strong">{t("state.unknown")}</p>}
      {figure || (isGas(alarm.kind) && alarm.value !== undefined && <p class="big"><b>{alarmFigure(alarm, alarm.value)}</b></p>)}
      {alarm.warnings?.map((warning) => <p key={warning} class="word strong">{unbroken(warning)}</p>)}
      {asks(alarm) && alarm.value !== undefined && <p class="big">{t("alarm.asks.low", { value: degrees(alarm.value) })}</p>}
      {gap && <p class="big">{t("alarm.gap", { from: clockWord(gap.from, now()), to: clockWord(gap.to, now()) })}, {between(gap.from, gap.to)}.</p>}
      {!gap && <p class="big">{grave && <><b class={quiet ? "" : "bad"}>{opening(grave)}</b>, </>}{t("alarm.since")} <b>{clockWord(toldSince(alarm), now())}</b>, {between(toldSince(alarm), end)}{band && <>; {band}</>}.</p>}
      {stands && <p class={`word ${alarm.taken !== undefined || alarm.aside_until !== undefined ? "hand" : "strong"}`}>{untold ? <span class="untold"><WaitGlyph />{stands}</span> : stands}</p>}
      {untold && alarm.over === undefined && <p class="note">{t("alarm.mine.low")}</p>}
      {goes && <p class="word strong">{goes}</p>}
    </>
  );
}

/** Why it rang, what it reached, what it gave the wheels. */
function Facts({ alarm }: { alarm: Alarm }) {
  const far = farthest(alarm), reached = far && t("alarm.reached", { value: far });
  const dose = doseWord(alarm);
  const figure = !isOfAir(alarm.kind) && !isGas(alarm.kind) && !asks(alarm) ? alarmFigure(alarm, alarm.value) : "";
  return (
    <>
      {(reached || dose) && <p class="note">{[reached, dose].filter(Boolean).join(", ")}.</p>}
      {figure && <p class="word strong">{figure}</p>}
      {alarm.probe && <p class="word">{alarm.probe}</p>}
      {alarm.freezes && <p class="word strong">{unbroken(alarm.freezes)}</p>}
      {alarm.day_mean && <p class="word">{unbroken(alarm.day_mean)}</p>}
      {alarm.cause && <p class="word strong">{t(`alarm.cause.${alarm.cause}`)}</p>}
      {alarm.said && alarm.said.length > 0 && <p class="word">{saidWord(alarm, alarm.said)}</p>}
      {whyWord(alarm) && !asks(alarm) && !alarm.inside && !alarm.eases && <p class="note">{whyWord(alarm)}</p>}
      {alarm.ended_by && <p class="note strong">{unbroken(alarm.ended_by)}</p>}
      {alarm.found_later && <p class="note">{t("alarm.found")}</p>}
      {alarm.uncounted && alarm.uncounted.length > 0 && <p class="note strong">{t("alarm.uncounted", { days: spoken(alarm.uncounted.map(shortDate)) })}</p>}
      {alarm.uncounted?.length === 0 && <p class="note">{t("alarm.costs no day")}</p>}
      {unwatchedWords(alarm, now()).map((word) => <p key={word} class="note">{word}</p>)}
      <Meanwhile alarm={alarm} />
    </>
  );
}

/** From both edges of a time in which nothing spoke, and what that means. */
function Meanwhile({ alarm }: { alarm: Alarm }) {
  const [air, wheel] = edgeWords(alarm);
  return (
    <>
      {air && <p class="word">{air}</p>}
      {alarm.edges && <p class="note">{unbroken(alarm.edges)}</p>}
      {wheel && <p class="word">{wheel}</p>}
    </>
  );
}

function Concerns({ alarm }: { alarm: Alarm }) {
  if (alarm.concerns.length === 0) return null;
  const over = alarm.over !== undefined, whenOf = whensOf(alarm, now());
  return (
    <>
      <h3 class="cap">{concernsHead(alarm)}</h3>
      {alarm.concerns.map((w) => (
        <div key={`${w.family} ${w.cave_name} ${w.state} ${w.soonest} ${w.keep?.high} ${w.past?.high}`} class="tab">
          <span class="wh"><Ring state={w.state} r={7} />{wheelsOf([{ count: w.count, family: w.family }])}</span>
          {!over && <span class="r">{whenOf(w)}</span>}
          <span class="n">{joined(w.cave_name, apartWord(alarm, w), w.grams !== undefined && weight(w.grams), ownWord(alarm, w))}</span>
        </div>
      ))}
    </>
  );
}

/** The first three things to do. */
function First({ alarm }: { alarm: Alarm }) {
  // Of a time that nobody watched the end is all that is told: it asks for a look all the same.
  if (alarm.first.length === 0 || (alarm.over !== undefined && alarm.kind !== "unwatched")) return null;
  return (
    <>
      <h3 class="cap">{t("alarm.first")}</h3>
      <ol class="orders">{alarm.first.map((order) => <li key={order}><div>{unbroken(order)}</div></li>)}</ol>
    </>
  );
}

/** Quiet for a while, always with an end; what gets worse rings all the same. */
function SetAside({ alarm }: { alarm: Alarm }) {
  const [open, setOpen] = useState(false);
  if (!mayAside(alarm)) return null;
  const at = now();
  const morning = instantOf(addDays(dateOf(at), 1), 7);
  const ends = asideEnds(at, instantOf(dateOf(at), 7) > at ? instantOf(dateOf(at), 7) : morning);
  if (!open) return <button type="button" class="tap back" aria-expanded={false} onClick={() => setOpen(true)}>{t("alarm.aside.do")}</button>;
  return (
    <>
      <h3 class="cap">{t("alarm.aside.head")}</h3>
      <Cells columns={3} choices={ends.map((end) => ({ value: end, word: untilWord(end, at) }))} chosen={alarm.aside_until}
             choose={(end) => { aside(alarm.id, end); setOpen(false); }} />
      <p class="note">{t("alarm.aside.low")}</p>
    </>
  );
}

/** Says what it was; what is over and nobody has seen yet is seen with it. */
const name = (alarm: Alarm, what: string, remark: string) => signed(() => {
  if (alarm.taken === undefined) take(alarm.id);
  call(alarm.id, what, remark);
});

/** Once it is taken or over: what it was and what was done. Both are kept in the journal: the record of what was put right. */
function WasIt({ alarm }: { alarm: Alarm }) {
  const [said, setSaid] = useState<string>();
  if (alarm.taken === undefined && alarm.over === undefined) return null;
  const remark = said ?? alarm.remark ?? "";
  const changed = said !== undefined && said.trim() !== (alarm.remark ?? "");
  return (
    <>
      <h3 class="cap">{alarm.what ? t("alarm.it was", { what: whatWord(alarm.what) }) : t("alarm.was")}</h3>
      <Cells choices={whatsOf(alarm).map((what) => ({ value: what as string, word: whatWord(what) }))} chosen={alarm.what} choose={(what) => name(alarm, what, remark.trim())} />
      {alarm.what && (
        <form onSubmit={(e) => { e.preventDefault(); call(alarm.id, alarm.what!, remark.trim()); setSaid(undefined); }}>
          <label class="note strong block" for={`remark-${alarm.id}`}>{t("alarm.remark")}</label>
          <input id={`remark-${alarm.id}`} class="field" maxLength={400} value={remark} placeholder={t("alarm.remark.hint")} autocomplete="off" onInput={(e) => setSaid(e.currentTarget.value)} />
          {changed && <button type="submit" class="tap back">{t("alarm.remark.do")}</button>}
        </form>
      )}
    </>
  );
}

/** The answers to "door perhaps ajar?": each takes it and says what it was. */
function Answers({ alarm }: { alarm: Alarm }) {
  if (!asks(alarm) || alarm.taken !== undefined) return null;
  const answer = (what: string) => name(alarm, what, "");
  return <Cells choices={[{ value: "door", word: t("alarm.asks.shut") }, { value: "other", word: t("alarm.asks.was shut") }]} choose={answer} />;
}

/** What is known of an alarm that another one tells; what there is to do stands at that one. */
function Told({ alarm }: { alarm: Alarm }) {
  return (
    <>
      <Cry alarm={alarm} />
      <p class="word">{t("alarm.told by")}</p>
      <a class="tap back" href={tellerPath(alarm)}>{tellerWord(alarm) || t("alarm.teller")}</a>
      <Concerns alarm={alarm} />
      <Facts alarm={alarm} />
      {alarm.what && <h3 class="cap">{t("alarm.it was", { what: whatWord(alarm.what) })}</h3>}
    </>
  );
}

export function AlarmBody({ alarm, figure }: { alarm: ShownAlarm; figure?: ComponentChildren }) {
  if (isTold(alarm)) return <Told alarm={alarm} />;
  return (
    <>
      <Cry alarm={alarm} figure={figure} />
      <Answers alarm={alarm} />
      <First alarm={alarm} />
      <Concerns alarm={alarm} />
      <Facts alarm={alarm} />
      <WasIt alarm={alarm} />
      <SetAside alarm={alarm} />
    </>
  );
}

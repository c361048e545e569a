// All alarms: those that stand, and those of the last weeks with what they were, by when they began.
import type { Alarm, AlarmsPage } from "../../api";
import { dateOf, shortDate } from "../../days";
import { Ring } from "../../draw/rings";
import { between, spoken } from "../../figures";
import { takeAll } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { useEntries, useTick } from "../../house/hooks";
import { overAlarms, unknownTo } from "../../house/overlay";
import { alarmPath, clockWord, farthest, isTold, lastedUntil, tellerWord, toldSince } from "../../parts/alarm_words";
import { AlarmStrips, alarmTitle, inOrder, isForPeople, takable, wasWord } from "../../parts/alarms";
import { Book, Notices } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, EntryLink, GroupHead, TitleHead } from "../../parts/leaf";
import { placeLook } from "../../parts/place";
import { joined, wheelsOf } from "../../parts/names";
import { many, t, unbroken } from "../../words";
import { Waiting } from "../waiting";
import { monthBeside } from "./month";

export const kAlarmsPath = "/api/alarms";

/** Nobody has to name what another alarm tells. */
const toldWord = (alarm: Alarm) => (tellerWord(alarm) ? t("alarms.told by", { alarm: tellerWord(alarm) }) : t("alarms.told by another"));

/** Which wheels it came to, those of one stage together: "6 bloomies, Box 1; 4 pressed". A count stays beside its name. */
const touched = ({ concerns }: Alarm): { state: Alarm["concerns"][number]["state"]; wheels: string }[] =>
  [...new Set(concerns.map((one) => one.state))].map((state) => ({ state, wheels: wheelsOf(concerns.filter((one) => one.state === state)).replace(/(\d) (?=\p{L})/gu, "$1\u00a0") }));

function Past({ alarm }: { alarm: Alarm }) {
  const until = lastedUntil(alarm);
  const lasted = until === undefined ? "" : t("alarms.lasted", { long: between(toldSince(alarm), until) });
  const came = farthest(alarm), far = came && t("alarm.reached", { value: came });
  const what = isTold(alarm) && !alarm.what ? toldWord(alarm) : wasWord(alarm);
  const uncounted = alarm.uncounted && alarm.uncounted.length > 0 ? t("alarm.uncounted", { days: spoken(alarm.uncounted.map(shortDate)) }) : "";
  return (
    <EntryLink class="pick" href={alarmPath(alarm)} m={<span><b class="block">{shortDate(dateOf(toldSince(alarm)))}</b>{clockWord(toldSince(alarm), toldSince(alarm))}</span>}>
      <span class="word">{alarmTitle(alarm)}</span>
      <span class="note">{joined(lasted, far)}</span>
      {touched(alarm).map(({ state, wheels }) => <span key={state} class="note wh"><Ring state={state} r={6} />{wheels}</span>)}
      {uncounted && <span class="note strong">{uncounted}</span>}
      {what && <span class={`note ${alarm.what ? "hand" : ""}`}>{what}</span>}
    </EntryLink>
  );
}

/** One event of the house may ring in each of its places: one tap takes them all. */
function TakeAll({ alarms, left }: { alarms: Alarm[]; left: Alarm[] }) {
  const low = left.some(isForPeople) ? t("alarms.take all but gas") : t("alarm.take.low");
  return <Deed named verb={t("alarms.take all", { count: alarms.length })} low={low} tap={() => takeAll(alarms.map((a) => a.id))} />;
}

export function AlarmsPlace() {
  const answer = useAnswer<AlarmsPage>(kAlarmsPath);
  const entries = useEntries();
  useTick();
  const page = answer.value;
  if (!page) return <Waiting place="caves" path={kAlarmsPath} answer={answer} />;
  const over = unknownTo(answer.asked_at, entries);
  const standing = overAlarms(page.head.alarms, over).filter((a) => a.over === undefined || a.taken === undefined);
  const lasting = standing.filter((a) => a.over === undefined).length;
  const unseen = standing.length - lasting;
  const asked = takable(inOrder(standing));
  const together = asked.length > 1;
  const month = monthBeside(page.month, standing, page.head.now);
  const past = overAlarms(page.past, over).filter((a) => !standing.some((s) => s.id === a.id));
  return (
    <Book place="caves" title={t("alarms.title")} class={together ? "withdeed" : ""} quiet
          foot={together && <TakeAll alarms={asked} left={standing.filter((a) => a.taken === undefined && !asked.includes(a))} />}>
      <section class="leaf">
        <TitleHead title={t("alarms.title")} note={[lasting === 0 ? t("alarms.none") : many("alarms.standing", lasting), unseen > 0 && many("alarms.unseen", unseen)].filter(Boolean).join(" ")} />
        <AlarmStrips alarms={standing} all />
        <Notices />
      </section>
      <section class="leaf">
        {month.length > 0 && <GroupHead b={t("alarms.month")} />}
        {month.map((m) => (
          <Entry key={m.cave} m={<span class={placeLook(m.cave_name)}>{m.cave_name}</span>}>
            {(m.rang > m.above || m.rang === 0) && <span class="word block">{unbroken(m.sentence)}</span>}
            {m.above > 0 && m.rang > m.above && <span class="note block">{many("alarms.month.stand", m.above)}</span>}
            {m.watch > 0 && <span class="note block">{many("alarms.month.watch", m.watch)}</span>}
          </Entry>
        ))}
        {past.length > 0 && <GroupHead b={t("alarms.past")} />}
        {past.length + page.month.length + standing.length === 0 && <Entry><span class="note">{t("alarms.no past")}</span></Entry>}
        {past.map((alarm) => <Past key={alarm.id} alarm={alarm} />)}
      </section>
    </Book>
  );
}

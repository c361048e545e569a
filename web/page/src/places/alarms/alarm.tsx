// One alarm at an address of its own, which a notice can link to: taking it works from there.
import { useRef } from "preact/hooks";
import type { Alarm, AlarmPage, Cave } from "../../api";
import { useCell } from "../../cell";
import { useAnswer } from "../../house/answers";
import { useEntries, useTick } from "../../house/hooks";
import { overAlarms, unknownTo } from "../../house/overlay";
import { take } from "../../house/acts";
import { touch } from "../../house/touch";
import { isUntaken } from "../../parts/alarm_words";
import { alarmTitle } from "../../parts/alarms";
import { Book, Notices } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, GroupHead, WordLink } from "../../parts/leaf";
import { useRoom } from "../../parts/room";
import { useTakeWord } from "../../parts/sounding";
import { useCutOff } from "../../parts/troubles";
import { t } from "../../words";
import { CaveRibbon, Figures, hasRibbon } from "../caves/drawing";
import { cutOff } from "../caves/standing";
import { JournalLines } from "../journal/line";
import { Waiting } from "../waiting";
import { AlarmBody } from "./body";

const kLeast = 380, kMost = 575; // px of a ribbon of a day and what is foreseen

/** Its ribbon down to the bar on the foot: what is foreseen is seen as the page opens. */
function Margin({ cave, alarm }: { cave: Cave | undefined; alarm: Alarm }) {
  const margin = useRef<HTMLDivElement>(null);
  const height = useRoom(margin, kLeast, kMost);
  return <div class="m" ref={margin}>{cave && hasRibbon(cave) && <CaveRibbon cave={cave} height={height} alarm={alarm} still={alarm.over !== undefined} />}</div>;
}

export function AlarmPlace({ id }: { id: string }) {
  const path = `/api/alarms/${encodeURIComponent(id)}`;
  const answer = useAnswer<AlarmPage>(path);
  const entries = useEntries();
  const house = useCell(touch);
  const cut = useCutOff();
  useTick();
  const takeWord = useTakeWord();
  const page = answer.value;
  if (!page) return <Waiting place="caves" path={path} answer={answer} />;
  const alarm = overAlarms([page.alarm], unknownTo(answer.asked_at, entries))[0]!;
  const cave = page.cave && (house.in ? page.cave : cutOff(page.cave));
  const others = page.head.alarms.filter((a) => a.id !== alarm.id);
  const untaken = isUntaken(alarm);
  return (
    <Book place="caves" title={alarmTitle(alarm)} class={untaken ? "withdeed" : ""} quiet={others.length === 0} without={(a) => a.id === alarm.id}
          foot={untaken && <Deed named verb={t(alarm.over === undefined ? "alarm.take" : "alarm.seen")} low={alarm.over === undefined ? takeWord(alarm) : t("alarm.seen.low")} tap={() => take(alarm.id)} />}>
      <section class="leaf">
        <section class="entry cave heavy">
          <Margin cave={cave} alarm={alarm} />
          <div class="b">
            {cut && <p class="note strong">{cut}</p>}
            <h1 class="cols"><span class="name in">{alarm.cave_name}</span>{cave && alarm.over === undefined && <Figures cave={cave} />}</h1>
            <AlarmBody alarm={alarm} />
          </div>
        </section>
        {page.of_power && <Entry><p class="note">{t("alarm.of power")}</p></Entry>}
        <Notices />
      </section>
      <section class="leaf">
        {page.journal.length > 0 && <GroupHead b={t("alarm.written")} />}
        <JournalLines lines={page.journal} now={page.head.now} />
        {cave && <WordLink href={`/caves/${alarm.cave}`}>{t("caves.page", { name: alarm.cave_name })}</WordLink>}
        <WordLink href={`/caves/${alarm.cave}/limits`}>{t("limits.go")}</WordLink>
        <WordLink href="/alarms">{t("alarms.go")}</WordLink>
      </section>
    </Book>
  );
}

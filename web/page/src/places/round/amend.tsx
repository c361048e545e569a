// Done earlier, or in part: a line signed a moment ago (or not yet), said more exactly.
import { useState } from "preact/hooks";
import type { Act, CareKind, Day, Instant, Round, RoundQuestion } from "../../api";
import { now } from "../../clock";
import { addDays, hour, weekdayDate } from "../../days";
import { queue, sign } from "../../house/acts";
import { signed } from "../../house/keeper";
import { useEntries, useTick } from "../../house/hooks";
import { overQuestions, unknownTo, type ShownLine } from "../../house/overlay";
import { Book } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Deed } from "../../parts/deed";
import { Entry, GroupHead, TitleHead, WordLink } from "../../parts/leaf";
import { careWords, dayWord, joined, kinOf, lotWord, whichDay } from "../../parts/names";
import { Place } from "../../parts/place";
import { go } from "../../route";
import { many, t } from "../../words";
import { Waiting } from "../waiting";
import { held, release } from "./held";
import { kindsLeft, LineRing } from "./line";
import { isSettled } from "./sum";
import { WhenRows, type When } from "./when";
import { kRoundPath, LineGone, useRound } from "./one_line";
import { partsOf } from "./what";

const kReasons = ["rind wet", "no cloth", "no time", "none"] as const;
type Reason = (typeof kReasons)[number];

interface PartProps { line: ShownLine; next: Day | undefined; today: Day; only: CareKind[] | undefined; setOnly: (kinds: CareKind[] | undefined) => void; reason: Reason; setReason: (reason: Reason) => void; at: Instant }

/** All of it, or a part of it; for what was left out a reason, or none: then it stays on the round. */
function PartRows({ line, next, today, only, setOnly, reason, setReason, at }: PartProps) {
  if (line.kinds.length < 2) return null;
  const parts: (CareKind[] | undefined)[] = [undefined, ...partsOf(line.kinds)];
  const choices = parts.map((part) => ({ value: part && part.join(), word: part ? t("amend.only", { kind: careWords(part) }) : t("amend.all") }));
  const left = only === undefined ? [] : line.kinds.filter((k) => !only.includes(k));
  return (
    <>
      <GroupHead m={t("amend.what")} b={t("amend.what.b")} />
      <Entry class="full"><Cells choices={choices} chosen={only?.join()} choose={(chosen) => setOnly(parts.find((part) => part?.join() === chosen))} columns={choices.length === 3 ? 3 : 2} /></Entry>
      {only !== undefined && (
        <>
          <Entry class="part" m={<span class="when">{hour(at)}</span>}><span class="verb"><s>{careWords(only)}</s></span></Entry>
          <Entry class="part" m={reason === "none" ? <span class="sign" /> : <span class="when">{hour(at)}</span>}>
            <span class="verb">{reason === "none" ? careWords(left) : `(${careWords(left)})`}</span>
            <span class="note">{reason === "none" ? t("amend.stays") : next ? t("amend.settled.next", { day: dayWord(next, today) }) : t("amend.settled")}</span>
          </Entry>
          <Entry class="full plain" m={<span class="note strong">{t("amend.why")}</span>}>
            <Cells choices={kReasons.map((r) => ({ value: r, word: t(`amend.why.${r}`) }))} chosen={reason} choose={setReason} />
          </Entry>
        </>
      )}
    </>
  );
}

/** When what is left out now is asked again, as far as the round knows: a day to come names the place and the care. */
function nextOf(round: Round, line: ShownLine, only: CareKind[] | undefined): Day | undefined {
  const left = line.kinds.filter((kind) => !only?.includes(kind));
  const days = [...(round.next ? [round.next] : []), ...round.coming];
  return days.find((day) => day.lines.some((ahead) => ahead.place === line.place && left.every((kind) => ahead.kinds.includes(kind))))?.day;
}

function LineLeaf({ round, line }: { round: Round; line: ShownLine }) {
  const today = round.head.day;
  const [when, setWhen] = useState<When>({ at: undefined, other: false });
  const [only, setOnly] = useState<CareKind[]>();
  const [reason, setReason] = useState<Reason>("none");
  useTick();
  const at = when.at ?? now();
  const verb = only === undefined ? (when.at === undefined ? t("amend.sign") : careWords(line.kinds)) : t("amend.only", { kind: careWords(only) });
  const said = [when.at !== undefined && hour(when.at), only !== undefined && reason !== "none" && t(`amend.why.${reason}`)].filter(Boolean).join(", ");
  const late = when.at !== undefined && now() - when.at > 600_000 ? t("amend.late entry") : "";
  const deed = () => {
    // What is settled is said anew; what was done in part stands, and the rest is added to it.
    const again = line.settled_by !== undefined && isSettled(line);
    if (again) queue.undo(line.settled_by!, line.key);
    const kinds = again ? line.kinds : kindsLeft(line);
    const skipped = only === undefined || reason === "none" ? [] : kinds.filter((k) => !only.includes(k));
    sign(line.wheels, only ?? kinds, line.key,
         { skipped, ...(skipped.length > 0 ? { reason: t(`amend.why.${reason}`) } : {}), ...(when.at === undefined ? {} : { at: when.at }) });
    release();
    go("/");
  };
  const note = joined(many("wheels.count", line.wheels.length, { family: kinOf(line.family, line.wheels.length) }), lotWord(line.lot), whichDay(line));
  return (
    <Book place="round" title={careWords(line.kinds)} class="withdeed" foot={<Deed verb={verb} low={[said, late].filter(Boolean).join(". ") || t("amend.just now")} tap={deed} />}>
      <section class="leaf">
        <TitleHead m={<Place place={line.place} ring={<LineRing line={line} />} />} title={careWords(line.kinds)}
                   note={`${note}. ${line.late_since ? t("round.due", { day: dayWord(line.late_since, today) }) : ""}`} />
        <WhenRows when={when} set={setWhen} today={today} />
        <PartRows line={line} next={nextOf(round, line, only)} today={today} only={only} setOnly={setOnly} reason={reason} setReason={setReason} at={at} />
        {line.wheels.length > 1 && <WordLink href={`/round/${encodeURIComponent(line.key)}/not-all`}>{t("amend.not all", { count: line.wheels.length })}</WordLink>}
        <WordLink href={line.wheels.length === 1 ? `/fault/wheels/${line.wheels[0]}` : `/fault/shelf/${line.wheels[0]}`}>{t("amend.fault")}</WordLink>
      </section>
    </Book>
  );
}

/** An answer given for an earlier day: it was dry yesterday. */
function QuestionLeaf({ question, given, today }: { question: RoundQuestion; given: Act | undefined; today: string }) {
  const days = Array.from({ length: 9 }, (_, i) => addDays(today, -i));
  const choose = (day: string) => signed(() => {
    if (given) queue.undo(given.id, question.key);
    const moved = given && "move_to" in given && given.move_to ? { move_to: given.move_to } : {};
    queue.add({ kind: "answer", wheels: question.wheels, start: question.start ?? "dry", ...(day === today ? {} : { day }), ...moved }, question.key);
    release();
    go("/");
  });
  return (
    <Book place="round" title={question.text}>
      <section class="leaf">
        <TitleHead m={<Place place={question.place} />} title={question.text} note={t("amend.day")} />
        <Entry class="full"><Cells columns={3} choices={days.map((day) => ({ value: day, word: weekdayDate(day) }))} choose={choose} /></Entry>
      </section>
    </Book>
  );
}

export function AmendPlace({ line: key }: { line: string }) {
  const { answer, round, lines } = useRound();
  const entries = useEntries();
  const [just] = useState(() => (held.value?.key === key ? held.value : undefined));
  if (!round) return <Waiting place="round" path={kRoundPath} answer={answer} />;
  const line = lines.find((l) => l.key === key);
  if (line) return <LineLeaf round={round} line={line} />;
  const asked = overQuestions(round.questions, unknownTo(answer.asked_at, entries)).find((q) => q.key === key);
  const question = asked ?? just?.question; // once answered the house asks it no more
  const given = asked?.answered?.entry.act ?? entries.find((e) => e.act.id === just?.act)?.act;
  if (question?.kind === "start") return <QuestionLeaf question={question} given={given} today={round.head.day} />;
  return <LineGone />;
}

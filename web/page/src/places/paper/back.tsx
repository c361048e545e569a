// A paper round written back: which sheet, what stands on it, shown as lines before it is signed.
import { useState } from "preact/hooks";
import type { Day, Instant, Round, Settings } from "../../api";
import { now } from "../../clock";
import { addDays, dateOf, hour, weekdayDate } from "../../days";
import { useAnswer } from "../../house/answers";
import { useTick } from "../../house/hooks";
import { keepersOf, kSettingsPath, useMe } from "../../house/keeper";
import type { ShownLine } from "../../house/overlay";
import { Book } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Deed } from "../../parts/deed";
import { Entry, EntryButton, GroupHead, TitleHead, WordButton } from "../../parts/leaf";
import { careWords } from "../../parts/names";
import { Place } from "../../parts/place";
import { go } from "../../route";
import { many, opening, t } from "../../words";
import { LineRing } from "../round/line";
import { kRoundPath, useRound } from "../round/one_line";
import { Waiting } from "../waiting";
import { actsOf, openOf } from "./acts";
import { numberedOf, paperRows } from "./numbered";
import { parsePaper, type Said } from "./parse";
import { instantOfStamp, keptSheets, printedWord, sheetPath } from "./sheets";
import { queue } from "../../house/acts";

/** Its day and hour, as they stand at its foot. */
function Another({ today, choose }: { today: Day; choose: (at: Instant) => void }) {
  const [day, setDay] = useState(today);
  const [text, setText] = useState("");
  const at = instantOfStamp(day, text);
  const days = Array.from({ length: 9 }, (_, i) => addDays(today, i - 8));
  return (
    <>
      <Entry class="full"><Cells columns={3} choices={days.map((d) => ({ value: d, word: weekdayDate(d) }))} chosen={day} choose={setDay} /></Entry>
      <Entry class="write1" m={<label for="printed">{t("paper.printed at")}</label>}>
        <input id="printed" class="field" inputMode="text" maxLength={8} placeholder="07:14:50" value={text} onInput={(e) => setText(e.currentTarget.value)} />
      </Entry>
      {at !== undefined && at <= now() && <WordButton tap={() => choose(at)}>{t("paper.this sheet", { printed: printedWord(at) })}</WordButton>}
    </>
  );
}

function Which({ today, choose }: { today: Day; choose: (at: Instant) => void }) {
  const sheets = keptSheets();
  const [other, setOther] = useState(sheets.length === 0);
  return (
    <Book place="round" title={t("more.back")}>
      <section class="leaf">
        <TitleHead title={t("paper.which")} note={t("paper.which.low")} />
        {!other && <WordButton tap={() => setOther(true)}>{t("paper.another")}</WordButton>}
        {other ? <Another today={today} choose={choose} />
          : [...sheets].reverse().map((at) => (
            <EntryButton key={at} class="pick" m={hour(at)} tap={() => choose(at)}><span class="word">{t("paper.printed", { printed: printedWord(at) })}</span></EntryButton>
          ))}
      </section>
    </Book>
  );
}

/** One line as it will be signed. */
function SaidRow({ said, open }: { said: Said; open: number[] }) {
  const time = [hour(said.at), said.keeper].filter(Boolean).join(" ");
  const of = said.row.kind === "line" ? said.row.line : said.row.question;
  const margin = <><Place place={`${said.row.number}. ${of.place}`} ring={said.row.kind === "line" ? <LineRing line={said.row.line as ShownLine} /> : undefined} /><span class="when">{time}</span></>;
  if (said.row.kind === "question") return <Entry class="said" m={margin}><span class="verb">{said.row.question.text}</span><span class="low">{said.answer}</span></Entry>;
  const gone = open.length === 0;
  const words = [
    gone && t("paper.already"), !gone && open.length < of.wheels.length && many("paper.still open", open.length),
    said.left.length > 0 && many("paper.left", said.left.length), said.skipped.length > 0 && `(${careWords(said.skipped)})`, said.reason,
  ].filter(Boolean).join(". ");
  return (
    <Entry class="said" m={margin}>
      <span class="top"><span class="verb">{gone || said.done.length === 0 ? `(${careWords(said.row.line.kinds)})` : <s>{careWords(said.done)}</s>}</span><span class="count">{open.length - said.left.length > 0 ? open.length - said.left.length : ""}</span></span>
      {words && <span class="low">{words}</span>}
    </Entry>
  );
}

function Writing({ round, printed }: { round: Round; printed: Instant }) {
  const [text, setText] = useState("");
  const present = useRound();
  const settings = useAnswer<Settings>(kSettingsPath).value;
  const keepers = keepersOf(settings);
  const me = useMe(keepers);
  useTick();
  const rows = numberedOf(paperRows(round));
  const { said, troubles } = parsePaper(text, { rows, day: round.day, now: now(), keepers, me });
  const open = (one: Said) => openOf(one, present.round?.day === round.day ? present.lines : []);
  const acts = said.flatMap((one) => actsOf(one, open(one)));
  const deed = () => {
    for (const act of acts) queue.add(act, "paper");
    go("/", true);
  };
  const low = troubles.length > 0 ? t("paper.first right") : text.trim() === "" ? t("paper.example") : many("paper.acts", acts.length);
  return (
    <Book place="round" title={opening(t("more.back"))} class="withdeed" foot={<Deed verb={many("paper.sign", acts.length)} low={low} tap={deed} off={acts.length === 0 || troubles.length > 0} named={said.every((one) => one.keeper)} />}>
      <section class="leaf">
        <TitleHead title={opening(t("more.back"))} note={t("paper.of", { printed: printedWord(printed), count: rows.length })} />
        <Entry class="write1 tall" m={<label for="paper">{t("paper.what")}</label>}>
          <textarea id="paper" class="field" rows={3} autoComplete="off" autoCapitalize="characters" spellcheck={false} placeholder={t("paper.example")} value={text} onInput={(e) => setText(e.currentTarget.value)} />
        </Entry>
        <Entry><span class="note">{t("paper.ways")}</span></Entry>
        {troubles.map(({ piece, what }) => <Entry key={piece} class="trouble" m={<span class="strong">{t("paper.look")}</span>}><b>{piece}</b><span class="note block">{what}</span></Entry>)}
        {said.length > 0 && <GroupHead m={t("paper.will")} b={t("paper.will.b")} />}
        {said.map((one) => <SaidRow key={one.row.number} said={one} open={open(one)} />)}
      </section>
    </Book>
  );
}

export function BackPlace() {
  const [printed, setPrinted] = useState<Instant>();
  const present = useAnswer<Round>(kRoundPath);
  const path = printed === undefined ? kRoundPath : sheetPath(printed);
  const answer = useAnswer<Round>(path);
  const round = printed === undefined ? undefined : answer.value;
  if (!present.value) return <Waiting place="round" path={kRoundPath} answer={present} />;
  if (printed === undefined) return <Which today={dateOf(now())} choose={(at) => setPrinted(at)} />;
  return round ? <Writing round={round} printed={printed} /> : <Waiting place="round" path={path} answer={answer} />;
}

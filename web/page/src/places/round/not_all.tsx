// Not all of a shelf: those left out are tapped in a picture of it, and why. They stay on the round.
import { useState } from "preact/hooks";
import { Book } from "../../parts/book";
import { Cells } from "../../parts/cells";
import { Deed } from "../../parts/deed";
import { Entry, WordLink } from "../../parts/leaf";
import { hour } from "../../days";
import { go } from "../../route";
import { many, t } from "../../words";
import { Waiting } from "../waiting";
import { release } from "./held";
import { kRoundPath, LineGone, LineHead, lotAndDay, signAgain, useRound } from "./one_line";
import { spotsOf } from "./pick";
import { numbersOf, Shelf } from "./shelf";

const kWhys = ["rind wet", "sticks", "a fault", "too high", "no time", "other"] as const;

export function NotAllPlace({ line: key }: { line: string }) {
  const { answer, round, lines } = useRound();
  const [picked, setPicked] = useState<number[]>([]);
  const [why, setWhy] = useState<(typeof kWhys)[number]>();
  if (!round) return <Waiting place="round" path={kRoundPath} answer={answer} />;
  const line = lines.find((l) => l.key === key);
  if (!line || line.wheels.length < 2) return <LineGone />;
  const spots = spotsOf(line);
  const count = spots.length;
  const left = line.wheels.filter((w) => picked.includes(w));
  const signed = line.settled_at !== undefined ? t("notall.signed", { time: [hour(line.settled_at), line.keeper].filter(Boolean).join(" ") }) : lotAndDay(line);
  const deed = () => {
    signAgain(line, line.wheels.filter((w) => !picked.includes(w)), { left: { wheels: left, why: why ? t(`why.${why}`) : "" } });
    release();
    go(why === "a fault" ? `/fault/wheels/${left.join(",")}` : "/", why !== "a fault");
  };
  const ready = left.length > 0 && left.length < count;
  return (
    <Book place="round" title={t("notall.title", { count })} class="withdeed"
          foot={<Deed verb={t("notall.deed", { done: count - left.length, left: left.length })} tap={deed} off={!ready}
                      low={left.length === 0 ? t("notall.none") : left.length === count ? t("notall.every") : many("notall.stay", left.length, { numbers: numbersOf(left, spots) })} />}>
      <section class="leaf">
        <LineHead line={line} title={t("notall.title", { count })} note={`${signed}. ${t(count > 25 ? "notall.how many" : "notall.tap")}`} />
        <Shelf spots={spots} state={line.wheel_state} picked={picked} pick={setPicked} done label={(number, on) => t(on ? "notall.wheel left" : "notall.wheel", { number })} />
        <Entry class="full heavy" m={<span class="note strong">{t("amend.why")}</span>}>
          <Cells columns={3} choices={kWhys.map((w) => ({ value: w, word: t(`why.${w}`) }))} chosen={why} choose={setWhy} />
        </Entry>
        <WordLink href={`/round/${encodeURIComponent(key)}/fewer`}>{t("fewer.word", { count })}</WordLink>
        {line.kinds.length > 1 && <WordLink href={`/round/${encodeURIComponent(key)}`}>{t("notall.in part", { count })}</WordLink>}
      </section>
    </Book>
  );
}

// Who hears what and when; by which ways; and what went out.
import { useState } from "preact/hooks";
import type { Day, Hearer, NoticesPage } from "../../api";
import { dateOf, shortDate } from "../../days";
import { useAnswer } from "../../house/answers";
import { useEntries } from "../../house/hooks";
import { Book, Notices } from "../../parts/book";
import { Entry, GroupHead, TitleHead, WordButton } from "../../parts/leaf";
import { WriteLine } from "../../parts/write";
import { t } from "../../words";
import { Waiting } from "../waiting";
import { HearerRows, keep } from "./hearer";
import { Log } from "./log";
import { newHearer, overHearers } from "./over";

export const kNoticesPath = "/api/notices";

export function NoticesPlace() {
  const answer = useAnswer<NoticesPage>(kNoticesPath);
  const entries = useEntries();
  if (!answer.value) return <Waiting place="caves" path={kNoticesPath} answer={answer} />;
  const page = answer.value;
  return (
    <Book place="caves" title={t("notices.title")}>
      <section class="leaf">
        <TitleHead title={t("notices.title")} note={t("notices.low")} />
        <Notices />
        <Ways page={page} />
        <Hearers page={page} hearers={overHearers(page.hearers, answer.asked_at, entries)} />
      </section>
      <section class="leaf"><Log page={page} /></section>
    </Book>
  );
}

const isHere = (page: string) => /^https?:\/\/(127\.|localhost|\[::1\])/.test(page);

function Ways({ page: { ways, sends } }: { page: NoticesPage }) {
  const from = ways.mail?.from ?? t("notices.mail");
  const hooks = ways.webhooks.map((w) => `${w.name} (${w.host})`).join(", ");
  return (
    <>
      {!sends && <Entry><span class="strong">{t("notices.trial")}</span></Entry>}
      <Entry><span class="note strong">{ways.bell ? t("notices.wakes", { from, bell: ways.bell }) : t("notices.wakes phone", { from })}</span></Entry>
      {sends && <Entry><span class="note">{ways.mail ? t("notices.by", ways.mail) : t("notices.no server")}</span></Entry>}
      {hooks && <Entry><span class="note">{t("notices.webhooks", { names: hooks })}</span></Entry>}
      {ways.page && <Entry><span class="note">{t(isHere(ways.page) ? "notices.links here" : "notices.links", { page: ways.page })}</span></Entry>}
      {ways.ping && <Entry><span class="note">{t("notices.ping", ways.ping)}</span></Entry>}
      <Entry><span class="note">{t("alarm.of power")}</span></Entry>
    </>
  );
}

/** Who is away today is asked only where all are. */
function awayWord({ holidays }: Hearer, today: Day): string {
  const holiday = holidays.find(({ from, back }) => from <= today && today < back);
  return holiday ? t("notices.away now", { back: shortDate(holiday.back) }) : "";
}

function Hearers({ page, hearers }: { page: NoticesPage; hearers: Hearer[] }) {
  const [open, setOpen] = useState<string>();
  const [adding, setAdding] = useState(false);
  const [name, setName] = useState("");
  const known = hearers.some((h) => h.name === name.trim());
  const earlier = (at: number) => {
    // Ranks are made anew, so that two of one rank change places too.
    const order = [...hearers];
    [order[at - 1], order[at]] = [order[at]!, order[at - 1]!];
    order.forEach((hearer, i) => { if (hearer.rank !== i + 1) keep({ ...hearer, rank: i + 1 }); });
  };
  const add = () => {
    keep(newHearer(name.trim(), hearers.length + 1));
    setOpen(name.trim());
    setAdding(false);
    setName("");
  };
  return (
    <>
      <GroupHead b={t("notices.hearers")} i={hearers.length === 0 ? t("notices.nobody") : ""} />
      {hearers.map((hearer, at) => (
        <div key={hearer.name}>
          <Entry class="pick posted" m={<span class="strong">{at + 1}</span>}>
            <span class="pairwords">
              <button type="button" class="tap back" aria-expanded={open === hearer.name} onClick={() => setOpen(open === hearer.name ? undefined : hearer.name)}>{hearer.name || t("notices.you")}</button>
              {at > 0 && <button type="button" class="tap back" onClick={() => earlier(at)}>{t("notices.earlier")}<span class="sr"> {hearer.name}</span></button>}
            </span>
            <span class="low">{[...hearer.mail, ...hearer.webhooks].join(", ")}</span>
            {awayWord(hearer, dateOf(page.head.now)) && <span class="low strong">{awayWord(hearer, dateOf(page.head.now))}</span>}
            <span class="low">{t("notices.hears", { least: t(`notices.least.${hearer.least}`), list: t(`notices.list.${hearer.list}`) })}{hearer.quiet && `; ${t("notices.quiet of", hearer.quiet)}`}</span>
          </Entry>
          {open === hearer.name && <HearerRows hearer={hearer} ways={page.ways} sends={page.sends} shut={() => setOpen(undefined)} />}
        </div>
      ))}
      {hearers.length > 1 && <Entry><span class="note">{t("notices.order low")}</span></Entry>}
      {hearers.length === 0 || adding
        ? <>
            <WriteLine id="hearer-name" label={t("notices.name")} hint={t("settings.keeper.hint")} value={name} say={setName} most={12} />
            {!known && (hearers.length === 0 || name.trim() !== "") && <WordButton tap={add}>{t("notices.begin")}</WordButton>}
          </>
        : <WordButton tap={() => setAdding(true)}>{t("notices.add")}</WordButton>}
    </>
  );
}

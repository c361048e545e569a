// One keeper: by which addresses they hear, of what, when; the trying of an address.
import { useState } from "preact/hooks";
import type { Hearer, NoticesPage, TestOutcome } from "../../api";
import { shortDate } from "../../days";
import { queue } from "../../house/acts";
import { Cells } from "../../parts/cells";
import { Entry, GroupHead, WordButton } from "../../parts/leaf";
import { WriteLine } from "../../parts/write";
import { t } from "../../words";
import { addressesOf, dayOf, hourOf } from "./over";

const kLeast = ["hint", "watch", "act", "urgent"] as const;
const kLists = ["work", "daily", "never"] as const;

export const keep = (hearer: Hearer) => queue.add({ kind: "hearing", ...hearer });

interface Props { hearer: Hearer; ways: NoticesPage["ways"]; sends: boolean; shut: () => void }

export function HearerRows({ hearer, ways, sends, shut }: Props) {
  const [draft, setDraft] = useState(hearer);
  const [mail, setMail] = useState(hearer.mail.join(", "));
  const [hours, setHours] = useState({ from: hearer.quiet?.from ?? "", to: hearer.quiet?.to ?? "", morning: hearer.morning, evening: hearer.evening ?? "" });
  const set = (part: Partial<Hearer>) => setDraft({ ...draft, ...part });
  const hear = (part: Partial<typeof hours>) => setHours({ ...hours, ...part });
  const from = hourOf(hours.from), to = hourOf(hours.to);
  const morning = hourOf(hours.morning), evening = hourOf(hours.evening);
  const sound = Boolean(morning) && (hours.evening.trim() === "" || Boolean(evening)) && Boolean(from) === Boolean(to);
  const next: Hearer = { ...draft, mail: addressesOf(mail), quiet: from && to ? { from, to } : null, morning: morning ?? draft.morning, evening: evening ?? null };
  const write = () => {
    keep(next);
    shut();
  };
  const id = (part: string) => `hearer-${part}`;
  return (
    <section aria-label={hearer.name || t("notices.you")}>
      <WriteLine id={id("mail")} label={t("notices.mail")} hint={t("notices.mail.hint")} value={mail} say={setMail} most={600} />
      {ways.webhooks.map(({ name }) => (
        <Entry key={name} class="full" m={<span class="note strong">{t("notices.webhook")}</span>}>
          <Cells columns={1} chosen={draft.webhooks.includes(name) ? name : undefined} choices={[{ value: name, word: name }]}
                 choose={() => set({ webhooks: draft.webhooks.includes(name) ? draft.webhooks.filter((w) => w !== name) : [...draft.webhooks, name] })} />
        </Entry>
      ))}
      <Entry class="full" m={<span class="note strong">{t("notices.least")}</span>}>
        <Cells chosen={draft.least} choose={(least) => set({ least })} choices={kLeast.map((value) => ({ value, word: t(`notices.least.${value}`) }))} />
      </Entry>
      <GroupHead b={t("notices.quiet")} />
      <WriteLine id={id("from")} label={t("notices.quiet.from")} hint={t("notices.quiet.hint")} value={hours.from} say={(v) => hear({ from: v })} most={5} figure />
      <WriteLine id={id("to")} label={t("notices.quiet.to")} value={hours.to} say={(v) => hear({ to: v })} most={5} figure />
      <Entry><span class="note">{t("notices.quiet.low")}</span></Entry>
      <GroupHead b={t("notices.list")} />
      <Entry class="full"><Cells columns={3} chosen={draft.list} choose={(list) => set({ list })} choices={kLists.map((value) => ({ value, word: t(`notices.list.${value}`) }))} /></Entry>
      {draft.list !== "never" && (
        <>
          <WriteLine id={id("morning")} label={t("notices.morning")} value={hours.morning} say={(v) => hear({ morning: v })} most={5} figure />
          <WriteLine id={id("evening")} label={t("notices.evening")} value={hours.evening} say={(v) => hear({ evening: v })} most={5} figure />
          <Entry><span class="note">{t("notices.list.low")} {t("notices.evening.low")}</span></Entry>
        </>
      )}
      <Holidays hearer={draft} set={set} />
      {sound && <WordButton class="hand" tap={write}>{t("notices.keep")}</WordButton>}
      {hearer.mail.map((address) => <TryOut key={address} way="mail" address={address} sends={sends} />)}
      {hearer.webhooks.map((name) => <TryOut key={name} way="webhook" address={name} sends={sends} />)}
      <WordButton tap={() => { queue.add({ kind: "hearing", name: hearer.name, leaves: true }); shut(); }}>{t("notices.leaves")}</WordButton>
      <WordButton tap={shut}>{t("settings.shut")}</WordButton>
    </section>
  );
}

function Holidays({ hearer, set }: { hearer: Hearer; set: (part: Partial<Hearer>) => void }) {
  const [from, setFrom] = useState("");
  const [until, setUntil] = useState("");
  const first = dayOf(from), back = dayOf(until);
  const add = () => {
    if (!first || !back) return;
    set({ holidays: [...hearer.holidays, { from: first, back }].sort((a, b) => a.from.localeCompare(b.from)) });
    setFrom("");
    setUntil("");
  };
  return (
    <>
      <GroupHead b={t("notices.holiday")} />
      {hearer.holidays.map((one) => (
        <Entry key={one.from + one.back} class="pick"><span class="pairwords"><span class="word">{t("notices.holiday.of", { from: shortDate(one.from), back: shortDate(one.back) })}</span>
          <button type="button" class="tap back" onClick={() => set({ holidays: hearer.holidays.filter((h) => h !== one) })}>{t("notices.drop")}<span class="sr"> {one.from}</span></button></span></Entry>
      ))}
      <WriteLine id="holiday-from" label={t("notices.holiday.from")} hint={t("notices.holiday.hint")} value={from} say={setFrom} most={10} />
      <WriteLine id="holiday-back" label={t("notices.holiday.back")} value={until} say={setUntil} most={10} />
      {first && back && back > first && <WordButton tap={add}>{t("notices.holiday.add")}</WordButton>}
      <Entry><span class="note">{t("notices.holiday.low")}</span></Entry>
    </>
  );
}

/** A test message, with its outcome in the house's words. */
function TryOut({ way, address, sends }: { way: "mail" | "webhook"; address: string; sends: boolean }) {
  const [said, setSaid] = useState<string>();
  const [busy, setBusy] = useState(false);
  const run = async () => {
    setBusy(true);
    setSaid(t("notices.testing"));
    try {
      const response = await fetch("/api/notices/test", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ way, address }) });
      const answer = (await response.json()) as Partial<TestOutcome> & { error?: { what: string } };
      setSaid(answer.what ?? answer.error?.what ?? String(response.status));
    } catch (error) {
      setSaid(t("notices.test.no", { what: String(error) }));
    }
    setBusy(false);
  };
  return (
    <>
      <Entry><span class="topic">{address}</span></Entry>
      {!busy && sends && <WordButton tap={() => void run()}>{t("notices.test")}<span class="sr"> {address}</span></WordButton>}
      {said && <Entry><span class="hand" role="status">{said}</span></Entry>}
    </>
  );
}

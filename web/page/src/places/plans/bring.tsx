// A plan brought in as a file or as pasted text. What is wrong in it is said with its line and field.
import { useState } from "preact/hooks";
import type { Plans } from "../../api";
import { queue } from "../../house/acts";
import { useAnswer } from "../../house/answers";
import { Book, Notices } from "../../parts/book";
import { Deed } from "../../parts/deed";
import { Entry, TitleHead } from "../../parts/leaf";
import { WriteText } from "../../parts/write";
import { go } from "../../route";
import { many, t } from "../../words";
import { namedIn } from "./export";
import { usePreview } from "./preview";
import { Fault } from "./thirty";

const kMost = 200_000; // letters of a plan's file

export function BringPlace() {
  const [text, setText] = useState("");
  const named = namedIn(text);
  const known = useAnswer<Plans>("/api/plans").value?.plans.find((p) => p.id === named?.id);
  // held against the newest there is, whatever version the file was written from
  const found = usePreview(text.trim() === "" ? undefined : { plan: named?.id ?? "", version: known?.version ?? named?.version ?? 1, text });
  const faults = found.preview?.faults ?? [];
  const same = known !== undefined && found.preview?.same === true;
  const ready = named !== undefined && found.preview !== undefined && faults.length === 0 && !found.asking && !same;
  const tap = () => {
    if (!named) return;
    queue.add({ kind: "plan text", plan: named.id, version: named.version, text, wheels: [] });
    go("/plans");
  };
  const read = (file: File | undefined) => void file?.text().then(setText);
  const low = text.trim() === "" ? t("bring.low") : faults.length > 0 ? many("bring.faults", faults.length) : same ? t("bring.same", { version: known.version }) : ready ? (known ? t("bring.next", { family: known.family, version: known.version + 1 }) : t("bring.new", { id: named.id })) : found.error || t("plans.reckoning");
  return (
    <Book place="wheels" title={t("bring.title")} class="withdeed" foot={<Deed verb={t("bring.deed")} low={low} tap={tap} off={!ready} />}>
      <section class="leaf">
        <TitleHead title={t("bring.title")} note={t("bring.more")} />
        <Notices />
        <Entry class="write1" m={<label for="file">{t("bring.file")}</label>}>
          <input id="file" class="field" type="file" accept=".toml,text/plain,application/toml" onChange={(e) => read(e.currentTarget.files?.[0])} />
        </Entry>
        <WriteText id="text" label={t("bring.text")} hint={t("bring.hint")} value={text} say={setText} most={kMost} />
        {found.error !== undefined && text.trim() !== "" && <Entry class="trouble"><span class="strong">{found.error || t("plans.no word")}</span></Entry>}
        {known && found.preview && found.preview.changed.length > 0 && faults.length === 0 && <Entry m={<span class="note strong">{t("plans.changed")}</span>}>{found.preview.changed.map((c) => <p key={c} class="note">{c}</p>)}</Entry>}
        {faults.map((f) => <Fault key={`${f.line} ${f.field} ${f.what}`} fault={f} />)}
      </section>
    </Book>
  );
}

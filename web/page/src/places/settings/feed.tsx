// The calendar's secret address: opened, shown, revoked; and the file, for calendars that cannot reach this house.
import { queue } from "../../house/acts";
import { useEntries } from "../../house/hooks";
import { Entry, GroupHead, WordButton } from "../../parts/leaf";
import { t } from "../../words";

/** A name that means "this machine" on every machine: no other one reaches the house by it. */
export const isOwnName = (host: string) => host === "localhost" || host === "[::1]" || /^127\./.test(host);

export function Feed({ feed }: { feed: string | undefined }) {
  const waiting = useEntries().some((e) => e.act.kind === "feed" && e.state === "waiting");
  const address = feed && `${location.origin}${feed}`;
  return (
    <>
      <GroupHead b={t("feed.title")} />
      <Entry><span class="note">{t("feed.low")}</span></Entry>
      {waiting && <Entry><span class="hand">{t("round.waiting")}</span></Entry>}
      {address ? (
        <>
          <Entry m={<span class="note strong">{t("feed.address")}</span>}><span class="topic">{address}</span></Entry>
          <Entry><span class="note">{t(isOwnName(location.hostname) ? "feed.own" : "feed.secret")}</span></Entry>
          <a class="entry word1" href={feed} download="rindwatch.ics"><span class="m" /><span class="b"><span class="tap">{t("feed.file")}</span></span></a>
          <WordButton tap={() => queue.add({ kind: "feed", open: true })}>{t("feed.new")}</WordButton>
          <WordButton tap={() => queue.add({ kind: "feed", open: false })}>{t("feed.revoke")}</WordButton>
        </>
      ) : <WordButton tap={() => queue.add({ kind: "feed", open: true })}>{t("feed.open")}</WordButton>}
      <Entry><span class="note">{t("feed.reach")}</span></Entry>
    </>
  );
}

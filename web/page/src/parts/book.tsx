// The open book: alarms on top, the leaves, what the house says about itself, the four words at the foot.
import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect } from "preact/hooks";
import type { Head, Settings } from "../api";
import { useCell } from "../cell";
import { cellOf, head as newestHead, headAskedAt } from "../house/answers";
import { useEntries } from "../house/hooks";
import { overAlarms, unknownTo } from "../house/overlay";
import { keepersOf, kSettingsPath, unsigned } from "../house/keeper";
import { t, type WordKey } from "../words";
import { AlarmStrips, type Near } from "./alarms";
import { AskedFirst } from "./deed";
import { Refused } from "./refused";
import { Sounding } from "./sounding";
import { Troubles } from "./troubles";

export type PlaceWord = "round" | "caves" | "wheels" | "journal";
const kPlaces: PlaceWord[] = ["round", "caves", "wheels", "journal"];

function told(head: Head | undefined): string {
  if (!head) return "";
  const speed = Math.round(head.speed);
  if (head.trial && head.open) return t("told.both", { speed });
  if (head.trial) return speed > 1 ? t("told.trial", { speed }) : t("told.trial.plain");
  return head.open ? t("told.open") : "";
}

export function Foot({ place }: { place?: PlaceWord | undefined }) {
  const line = told(useCell(newestHead));
  useEffect(() => {
    document.documentElement.toggleAttribute("data-told", line !== "");
  }, [line]);
  return (
    <>
      <Sounding />
      <nav class="foot" aria-label={t("places")}>
        {line && <p class="told">{line}</p>}
        {kPlaces.map((word) => (
          <a key={word} href={word === "round" ? "/" : `/${word}`} aria-current={word === place ? "page" : undefined}>
            {t(`place.${word}` as WordKey)}
          </a>
        ))}
      </nav>
    </>
  );
}

/** How high the alarms on top stand: a list that begins at half the glass begins there with them. */
function useStrips() {
  useLayoutEffect(() => {
    const strips = [...document.querySelectorAll<HTMLElement>(".book > .ring")];
    const measure = () => document.documentElement.style.setProperty("--strips", `${strips.reduce((sum, strip) => sum + strip.offsetHeight, 0)}px`);
    measure();
    const watch = new ResizeObserver(measure);
    for (const strip of strips) watch.observe(strip);
    return () => watch.disconnect();
  });
}

interface BookProps {
  place?: PlaceWord;
  title: string;
  class?: string;
  asked_at?: number;
  children: ComponentChildren;    // leaves
  foot?: ComponentChildren;       // what stands on the foot
  quiet?: boolean;                // no alarms on top: the page is about the alarm itself
  without?: Near;                 // those that the page itself is about
  near?: Near;                    // beside those: of another place, and this page's matter too
}

export function Book({ place, title, class: name = "", children, foot, quiet, without, near }: BookProps) {
  const head = useCell(newestHead);
  const entries = useEntries();
  const asking = useCell(unsigned) !== undefined;
  useEffect(() => {
    document.title = t("app.title", { place: title, house: t("app.name") });
  }, [title]);
  const all = overAlarms(head?.alarms ?? [], unknownTo(headAskedAt(), entries));
  const about = all.filter((a) => without?.(a));
  useStrips();
  return (
    <>
      <main class={`book ${name}`}>
        {!quiet && <AlarmStrips alarms={all.filter((a) => !about.includes(a))} beside={without && (near ?? (() => false))} about={about} />}
        {children}
      </main>
      {asking ? <AskedFirst keepers={keepersOf(cellOf<Settings>(kSettingsPath).value.value)} /> : foot}
      <Foot place={place} />
    </>
  );
}

/** What stands between a head and a place's own lines: troubles of the watch, acts that were not taken. */
export function Notices() {
  return (
    <>
      <Troubles />
      <Refused />
    </>
  );
}

// The leaf: a margin and a column, ruled entries, the head with the day.
import type { ComponentChildren } from "preact";
import type { Day } from "../api";
import { dayOfMonth, month, weekdayShort } from "../days";

interface EntryProps {
  m?: ComponentChildren;
  class?: string;
  children?: ComponentChildren;
}

/** One ruled entry: what stands in the margin, what stands in the column. */
export function Entry({ m, class: name = "", children }: EntryProps) {
  return (
    <div class={`entry ${name}`}>
      <div class="m">{m}</div>
      <div class="b">{children}</div>
    </div>
  );
}

interface TapProps extends EntryProps {
  tap: () => void;
  label?: string;
  pressed?: boolean;
  opens?: boolean;  // what lies under it: open or shut
}

/** An entry that is tapped as a whole. */
export function EntryButton({ m, class: name = "", children, tap, label, pressed, opens }: TapProps) {
  return (
    <button type="button" class={`entry ${name}`} onClick={tap} aria-label={label} aria-pressed={pressed} aria-expanded={opens}>
      <span class="m">{m}</span>
      <span class="b">{children}</span>
    </button>
  );
}

export function EntryLink({ m, class: name = "", children, href, label }: EntryProps & { href: string; label?: string }) {
  return (
    <a class={`entry ${name}`} href={href} aria-label={label}>
      <span class="m">{m}</span>
      <span class="b">{children}</span>
    </a>
  );
}

/** A word to tap that has a line to itself. */
export function WordButton({ m, tap, children, class: name = "" }: { m?: ComponentChildren; tap: () => void; children: ComponentChildren; class?: string }) {
  return <EntryButton class={`word1 ${name}`} m={m} tap={tap}><span class="tap">{children}</span></EntryButton>;
}

export function WordLink({ m, href, children, class: name = "" }: { m?: ComponentChildren; href: string; children: ComponentChildren; class?: string }) {
  return <EntryLink class={`word1 ${name}`} m={m} href={href}><span class="tap">{children}</span></EntryLink>;
}

/** The head of a place: the day in the margin, how things stand beside it. */
export function DayHead({ day, children }: { day: Day; children: ComponentChildren }) {
  return (
    <header class="entry head heavy">
      <div class="m">{weekdayShort(day)}<span class="day">{dayOfMonth(day)}</span>{month(day)}</div>
      <div class="b">{children}</div>
    </header>
  );
}

/** The head of a page about one thing. */
export function TitleHead({ m, title, note, children }: { m?: ComponentChildren; title: ComponentChildren; note?: ComponentChildren; children?: ComponentChildren }) {
  return (
    <header class="entry head heavy">
      <div class="m">{m}</div>
      <div class="b">
        <h1 class="name">{title}</h1>
        {note && <p class="note">{note}</p>}
        {children}
      </div>
    </header>
  );
}

/** The head of a group: a word in the margin, a line in the column, a name in italics at the right. */
export function GroupHead({ m, b, i, class: name = "" }: { m?: string; b?: string; i?: string; class?: string }) {
  return (
    <Entry class={`class ${name}`} m={m}>
      {b && <b>{b}</b>}
      {i && <i>{i}</i>}
    </Entry>
  );
}

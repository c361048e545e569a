// Lines to write on: a word, a text, a figure. What is said stays with the screen until it is signed.
import { Entry } from "./leaf";

interface Props {
  id: string;
  label: string;
  value: string;
  say: (text: string) => void;
  hint?: string;
  most?: number;      // letters
  figure?: boolean;   // a phone shows its figures
}

export function WriteLine({ id, label, value, say, hint, most = 200, figure }: Props) {
  return (
    <Entry class="write1" m={<label for={id}>{label}</label>}>
      <input id={id} class="field" maxLength={most} placeholder={hint} value={value} autocomplete="off" inputMode={figure ? "decimal" : "text"}
             onInput={(e) => say(e.currentTarget.value)} />
    </Entry>
  );
}

/** Room for more than a line. */
export function WriteText({ id, label, value, say, hint, most = 2000 }: Props) {
  return (
    <Entry class="write1" m={<label for={id}>{label}</label>}>
      <textarea id={id} class="field" maxLength={most} placeholder={hint} value={value} onInput={(e) => say(e.currentTarget.value)} />
    </Entry>
  );
}

/** The figure that a keeper wrote, with a point or a comma; none if it is no figure above nothing. */
export function figureOf(text: string): number | undefined {
  const value = Number(text.trim().replace(",", "."));
  return text.trim() !== "" && Number.isFinite(value) && value > 0 ? value : undefined;
}

// Who holds this phone. One keeper alone is never asked; where there are several each phone keeps its own answer, and
// every act that it makes carries it.
import type { Settings } from "../api";
import { Cell, useCell } from "../cell";
import { cellOf } from "./answers";

const kKey = "keeper";
export const kSettingsPath = "/api/settings";

function kept(): string {
  try {
    return localStorage.getItem(kKey) ?? "";
  } catch {
    return "";
  }
}

/** Initials; empty while nobody has said so. */
export const me = new Cell<string>(kept());

export function iAm(name: string): void {
  try {
    localStorage.setItem(kKey, name);
  } catch {
    // Asked again when the page is opened anew.
  }
  me.set(name);
  const act = unsigned.value?.act;
  unsigned.set(undefined);
  act?.();
}

/** What was tapped before anybody has said whose phone this is: with the answer it goes through. */
export const unsigned = new Cell<{ act: () => void } | undefined>(undefined);

/** Does what a tap signs; where several keep and nobody is chosen on this phone, it is asked first who signs. */
export function signed(act: () => void): void {
  const keepers = keepersOf(cellOf<Settings>(kSettingsPath).value.value);
  if (keepers.length > 1 && !keepers.includes(me.value)) unsigned.set({ act });
  else act();
}

export const keepersOf = (settings: Settings | undefined): string[] => settings?.keepers ?? [];

/** Who signs, as an act carries it: nobody where there is one keeper alone, or where it is not said yet. */
export function signer(): { keeper?: string } {
  const settings = cellOf<Settings>(kSettingsPath).value.value;
  if (me.value === "") return {};
  if (!settings) return { keeper: me.value }; // out of touch since the page was opened: it was asked because there were several
  const { keepers } = settings;
  return keepers.length > 1 && keepers.includes(me.value) ? { keeper: me.value } : {};
}

/** The keepers of whom nobody said yet that this phone is theirs; none: nothing is to be asked. */
export function useAsked(): string[] {
  const keepers = keepersOf(useCell(cellOf<Settings>(kSettingsPath)).value);
  const name = useMe(keepers);
  return keepers.length > 1 && name === "" ? keepers : [];
}

/** Whose initials are worth showing: where one keeper is alone her own tell nothing. */
export const isTold = (name: string | undefined, keepers: string[]): name is string => Boolean(name) && (keepers.length > 1 || keepers[0] !== name);

/** Who signs, drawn again when it changes; "" where no name is shown. */
export function useMe(keepers: string[]): string {
  const name = useCell(me);
  return keepers.length > 1 && keepers.includes(name) ? name : "";
}

// What the house says in whole sentences, found again by the words that it says them with. Pure but for words.
import { t, type WordKey } from "../words";

const plain = (text: string) => text.replace(/\u00a0/g, " ");

/** What stands in the places of `{name}` where a sentence was said with the words of `key`; nothing where it was said with others. */
export function heard(key: WordKey, sentence: string): Record<string, string> | undefined {
  const shape = plain(t(key)).replace(/[.?]/g, "\\$&").replace(/\{(\w+)\}/g, "(?<$1>.+)");
  const found = new RegExp(`^${shape}$`).exec(plain(sentence));
  return found ? { ...found.groups } : undefined;
}

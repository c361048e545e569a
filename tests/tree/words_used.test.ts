// Every word of the words file is said somewhere: by its whole key, or by a key that page or daemon put together.
// A word that nothing says is translated for nothing, and what it promises is not there.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";

const tree = new URL("../../", import.meta.url);
const text = (path: string) => readFileSync(new URL(path, tree), "utf8");

function sources(folder: string, ending: RegExp): string {
  const names = readdirSync(new URL(folder, tree), { recursive: true }).map(String).filter((name) => ending.test(name));
  return names.map((name) => text(`${folder}${name}`)).join("\n");
}

const escaped = (part: string) => part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
const hasKeyAhead = (part: string) => /^[a-z][a-z ]*\./.test(part);   // "alarm.cry."; not the "." of any other text

const kGap = "(?:[^.]+|\\d\\.\\d+)";   // what stands in a gap has no full stop, but for a decimal

/** Keys that the page builds: `limit.${id}.low`. */
function ofTemplates(code: string): RegExp[] {
  const templates = [...code.matchAll(/`([^`\n]*\$\{[^`\n]*)`/g)].map(([, inner]) => inner!);
  return templates.filter(hasKeyAhead).map((inner) => new RegExp(`^${inner.split(/\$\{[^}]*\}/).map(escaped).join(kGap)}$`));
}

/** Keys that the daemon builds: "alarm.cry." + what, fmt::format("weekday.short.{}", day). */
function ofPrefixes(code: string): RegExp[] {
  const literals = [...code.matchAll(/"((?:[^"\\\n]|\\.)*)"/g)].map(([, inner]) => inner!);
  return literals.filter((inner) => hasKeyAhead(inner) && /[.]$|\{\}/.test(inner)).map((inner) => new RegExp(`^${inner.split("{}").map(escaped).join(kGap)}${inner.endsWith(".") ? ".+" : "$"}`));
}

test("every key of the words file is used, whole or put together, by page or daemon", () => {
  const page = sources("web/page/src/", /\.tsx?$/), daemon = sources("daemon/", /\.[ch]pp$/);
  const code = `${page}\n${daemon}`;
  const whole = (key: string) => [`"${key}"`, `'${key}'`, `\`${key}\``].some((literal) => code.includes(literal));
  const built = [...ofTemplates(page), ...ofPrefixes(daemon)];
  const used = (key: string) => whole(key) || built.some((shape) => shape.test(key));
  // Forms that are chosen by a count: the key without them is what stands in the code.
  const stem = (key: string) => /^(.+)(?:\.one|\.other|\.both| many)$/.exec(key)?.[1];
  const keys = Object.keys(JSON.parse(text("web/words/en.json")));
  assert.ok(keys.length > 2000 && built.length > 50);
  const dead = keys.filter((key) => !used(key) && !(stem(key) && used(stem(key)!)));
  assert.deepEqual(dead, []);
});

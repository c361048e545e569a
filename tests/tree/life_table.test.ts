// The life of an alarm as DEVELOPERS.md draws it is the one that the code has: either alone would drift.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

const tree = new URL("../../", import.meta.url);
const text = (path: string) => readFileSync(new URL(path, tree), "utf8");

type Table = Map<string, Map<string, string>>;  // state -> event -> where it leads

/** The cells of a row of letters, under the events of the head. */
function rowOf(events: string[], cells: string[], state: string): Map<string, string> {
  assert.equal(cells.length, events.length, state);
  return new Map(events.map((event, at) => [event, cells[at]!] as const).filter(([, cell]) => cell !== ""));
}

/** kTable in rules/alarms/life.cpp: a line with the events, then `/* A *\/ {B, o, ...},` for each state. */
function ofCode(): Table {
  const table = text("rules/alarms/life.cpp").split("constexpr Cell kTable")[1]!.split("\n};")[0]!;
  const events = /\/\/ +(raise.*)/.exec(table)![1]!.trim().split(/ +/);
  const rows = [...table.matchAll(/\/\* ([A-I]) \*\/ \{([^}]*)\}/g)];
  return new Map(rows.map(([, state, cells]) => [
    state!, rowOf(events, cells!.split(",").map((cell) => cell.trim().replace(/^o$/, "")), state!),
  ]));
}

/** The table under "An alarm's life": `| A normal | B | | ...`. */
function ofDocuments(): Table {
  const section = text("DEVELOPERS.md").split("\n## An alarm's life\n")[1]!.split("\n## ")[0]!;
  const lines = section.split("\n").filter((line) => line.startsWith("|")).map((line) =>
    line.slice(1, line.lastIndexOf("|")).split("|").map((cell) => cell.trim()));
  const [head, , ...rows] = lines;
  return new Map(rows.map(([state, ...cells]) => [state![0]!, rowOf(head!.slice(1), cells, state!)]));
}

test("the table of an alarm's life in DEVELOPERS.md is the one in the code", () => {
  const [code, documents] = [ofCode(), ofDocuments()];
  assert.equal(code.size, 7);
  assert.deepEqual([...documents.keys()].sort(), [...code.keys()].sort());
  for (const [state, row] of code) assert.deepEqual(documents.get(state), row, state);
});

test("each state of the table has the name that the code gives its letter", () => {
  const names = new Map([...text("rules/alarms/life.cpp").matchAll(/case Cell::k([A-I]):\s+return Life::k(\w+);/g)]
    .map(([, letter, name]) => [letter!, name!]));
  const section = text("DEVELOPERS.md").split("\n## An alarm's life\n")[1]!;
  const drawn = [...section.matchAll(/^\| ([A-I]) ([a-z ]+?) +\|/gm)].map(([, letter, name]) => [letter!, name!] as const);
  assert.equal(drawn.length, 7);
  for (const [letter, name] of drawn) {
    const camel = name.split(" ").map((word) => word[0]!.toUpperCase() + word.slice(1)).join("");
    assert.equal(camel, names.get(letter), letter);
  }
});

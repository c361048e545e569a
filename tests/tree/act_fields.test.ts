// The acts that the description offers have the fields that the daemon takes, and no others: either alone would drift.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { parse } from "yaml";

const tree = new URL("../../", import.meta.url);
const text = (path: string) => readFileSync(new URL(path, tree), "utf8");

interface Schema { allOf?: { $ref?: string }[]; properties?: Record<string, { const?: string }> }

/** kind of act -> its fields, as web/openapi.yaml tells them; a kind with several shapes has the fields of all. */
function described(): Map<string, Set<string>> {
  const { schemas } = (parse(text("web/openapi.yaml")) as { components: { schemas: Record<string, Schema> } }).components;
  const acts = new Map<string, Set<string>>();
  for (const schema of Object.values(schemas)) {
    const kind = schema.properties?.kind?.const;
    if (!kind || !schema.allOf?.some((one) => one.$ref?.endsWith("/ActBase"))) continue;
    const fields = acts.get(kind) ?? new Set<string>();
    for (const field of Object.keys(schema.properties!)) if (field !== "kind") fields.add(field);
    acts.set(kind, fields);
  }
  return acts;
}

/** The same as daemon/book/known_fields.cpp tells it. */
function taken(): Map<string, Set<string>> {
  const table = text("daemon/book/known_fields.cpp").split("constexpr Kind kKinds[] = {")[1]!.split("};")[0]!;
  return new Map([...table.matchAll(/\{"([^"]+)", "([^"]*)"\}/g)].map((row) => [row[1]!, new Set(row[2]!.split(" "))]));
}

test("every act has the fields that its description names", () => {
  const [described_, taken_] = [described(), taken()];
  assert.ok(described_.size > 25);
  assert.deepEqual([...taken_.keys()].sort(), [...described_.keys()].sort());
  for (const [kind, fields] of described_) assert.deepEqual([...taken_.get(kind)!].sort(), [...fields].sort(), kind);
});

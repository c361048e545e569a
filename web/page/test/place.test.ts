import assert from "node:assert/strict";
import { test } from "node:test";
import { placeLook } from "../src/parts/place.tsx";

test("a place of several words may be broken between them: in the margin it never stands over the rule", () => {
  for (const name of ["Make room", "Warm room", "Box 1 left"]) assert.ok(placeLook(name).split(" ").includes("wrap"), name);
  assert.equal(placeLook("A1"), "place");
  assert.equal(placeLook("Box 1"), "place long");
});

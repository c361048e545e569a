import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { describe, test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { OpenApi } from "../support/openapi.ts";

const text = `
openapi: 3.1.0
paths:
  /api/wheels/{wheel}:
    get:
      responses:
        "200":
          content:
            application/json:
              schema: { $ref: "#/components/schemas/Wheel" }
        "404": { $ref: "#/components/responses/Nothing" }
  /api/acts:
    post:
      requestBody:
        content:
          application/json:
            schema: { type: object, required: [id] }
      responses:
        "204": { description: taken }
components:
  responses:
    Nothing:
      content:
        application/json:
          schema: { type: object, required: [error] }
  schemas:
    Grams: { type: number }
    Wheel:
      type: object
      required: [id]
      properties: { id: { type: integer }, grams: { $ref: "#/components/schemas/Grams" } }
      unevaluatedProperties: false
`;

describe("the checker of the API's description", () => {
  const file = path.join(temporaryFolder(), "openapi.yaml");
  writeFileSync(file, text);
  const api = new OpenApi(file);
  const answer = (status: number, json: unknown, type = "application/json; charset=utf-8") => ({
    status,
    headers: { "content-type": type },
    text: JSON.stringify(json) ?? "",
    json,
  });

  test("lets pass what is as described, through references", () => {
    assert.deepEqual(api.faults("GET", "/api/wheels/3?x=1", answer(200, { id: 3, grams: 2100 })), []);
    assert.deepEqual(api.faults("GET", "/api/wheels/9", answer(404, { error: {} })), []);
    assert.deepEqual(api.requestFaults("POST", "/api/acts", { id: "x" }), []);
    assert.ok(api.seen.has("GET /api/wheels/{wheel} 200"));
  });

  const wrong: [string, string, string, ReturnType<typeof answer>, RegExp][] = [
    ["a missing field", "GET", "/api/wheels/3", answer(200, {}), /required property 'id'/],
    ["a field too many", "GET", "/api/wheels/3", answer(200, { id: 3, name: "x" }), /unevaluated/],
    ["a wrong type behind a reference", "GET", "/api/wheels/3", answer(200, { id: 3, grams: "x" }), /must be number/],
    ["a status that is not described", "GET", "/api/wheels/3", answer(500, {}), /status is not described/],
    ["a path that is not described", "GET", "/api/lots", answer(200, {}), /no such operation/],
    ["another content type", "GET", "/api/wheels/3", answer(200, {}, "text/html"), /expected application\/json/],
    ["a body where none is described", "POST", "/api/acts", answer(204, {}), /no body is described/],
  ];
  for (const [name, method, target, given, expected] of wrong)
    test(`finds ${name}`, () => assert.match(api.faults(method, target, given).join("\n"), expected));

  test("finds a request that is not as described", () => {
    assert.match(api.requestFaults("POST", "/api/acts", {}).join("\n"), /required property 'id'/);
  });
});

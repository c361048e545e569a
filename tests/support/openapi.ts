// Holds requests and responses against web/openapi.yaml (OpenAPI 3.1, whose schemas are JSON Schema 2020-12).
import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { readFileSync } from "node:fs";
import path from "node:path";
import { parse } from "yaml";
import type { Answer } from "./http.ts";
import { root } from "./tree.ts";

type Methods = Record<string, { responses: Record<string, unknown>; requestBody?: unknown }>;
interface Description {
  openapi: string;
  paths: Record<string, Methods>;
}

const name = "openapi.yaml";

export class OpenApi {
  private readonly description: Description;
  private readonly ajv: Ajv2020;
  /** Every operation and status that was held against the description: "GET /api/round 200". */
  readonly seen = new Set<string>();

  constructor(file = path.join(root, "web/openapi.yaml")) {
    this.description = parse(readFileSync(file, "utf8")) as Description;
    // Not strict: the description holds keywords of OpenAPI beside those of JSON Schema.
    this.ajv = new Ajv2020({ strict: false, allErrors: true, validateSchema: false });
    (addFormats as unknown as (ajv: Ajv2020) => void)(this.ajv);
    this.ajv.addSchema(this.description as object, name);
  }

  /** Every operation that is described: "GET /api/round". */
  operations(): string[] {
    return Object.entries(this.description.paths).flatMap(([template, methods]) =>
      Object.keys(methods)
        .filter((method) => ["get", "post", "put", "delete", "patch"].includes(method))
        .map((method) => `${method.toUpperCase()} ${template}`),
    );
  }

  /** What is wrong with an answer; empty if it is as described. */
  faults(method: string, target: string, answer: Answer): string[] {
    const where = `${method} ${target} ${answer.status}`;
    const found = this.find(method, target);
    if (!found) return [`${where}: no such operation is described`];
    const { template, pointer, operation } = found;
    const status = [String(answer.status), `${String(answer.status)[0]}XX`, "default"].find((key) => key in operation.responses);
    if (!status) return [`${where}: this status is not described`];
    this.seen.add(`${method} ${template} ${answer.status}`);
    const [place, response] = this.follow(`${pointer}/responses/${status}`);
    const content = (response["content"] ?? {}) as Record<string, unknown>;
    const types = Object.keys(content);
    const type = String(answer.headers["content-type"] ?? "").split(";")[0]!.trim();
    if (types.length === 0) return answer.text === "" ? [] : [`${where}: no body is described, found ${type}`];
    if (!types.includes(type)) return [`${where}: expected ${types.join(" or ")}, found ${type || "no type"}`];
    if (type !== "application/json") return [];
    if (answer.json === undefined) return [`${where}: the body is not JSON: ${answer.text.slice(0, 80)}`];
    return this.check(`${place}/content/application~1json/schema`, answer.json).map((fault) => `${where}: ${fault}`);
  }

  /** What is wrong with a request's JSON body; empty if it is as described. */
  requestFaults(method: string, target: string, body: unknown): string[] {
    const found = this.find(method, target);
    if (!found) return [`${method} ${target}: no such operation is described`];
    const [place] = this.follow(`${found.pointer}/requestBody`);
    return this.check(`${place}/content/application~1json/schema`, body).map((fault) => `${method} ${target}: ${fault}`);
  }

  private check(pointer: string, value: unknown): string[] {
    const validate = this.ajv.getSchema(`${name}#${pointer}`);
    if (!validate) return [`the description has no schema at ${pointer}`];
    if (validate(value)) return [];
    return (validate.errors ?? []).map(
      (error) => `${error.instancePath || "/"} ${error.message} ${JSON.stringify(error.params)}`,
    );
  }

  private find(method: string, target: string) {
    const wanted = target.split("?")[0]!.split("/");
    const fits = (template: string) => {
      const parts = template.split("/");
      return parts.length === wanted.length && parts.every((part, i) => /^\{.*\}$/.test(part) || part === wanted[i]);
    };
    // A path without braces wins over one with them.
    const template = Object.keys(this.description.paths)
      .filter(fits)
      .sort((a, b) => a.split("{").length - b.split("{").length)[0];
    const operation = template === undefined ? undefined : this.description.paths[template]![method.toLowerCase()];
    if (template === undefined || !operation) return undefined;
    return { template, operation, pointer: `/paths/${escape(template)}/${method.toLowerCase()}` };
  }

  /** Goes where a pointer leads, through references. */
  private follow(pointer: string): [string, Record<string, unknown>] {
    let node: unknown = this.description;
    for (const part of pointer.split("/").slice(1)) node = (node as Record<string, unknown>)[unescape(part)];
    const reference = (node as { $ref?: string })["$ref"];
    return reference ? this.follow(reference.replace(/^#/, "")) : [pointer, node as Record<string, unknown>];
  }
}

const escape = (part: string) => encodeURI(part.replaceAll("~", "~0").replaceAll("/", "~1"));
const unescape = (part: string) => decodeURI(part).replaceAll("~1", "/").replaceAll("~0", "~");

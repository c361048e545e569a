// Plain HTTP, where a test may also say what a browser or fetch would not let it: any Host, any Origin, any bytes.
import { request } from "node:http";

export interface Answer {
  status: number;
  headers: Record<string, string | string[] | undefined>;
  text: string;
  /** The body as JSON; undefined if it is none. */
  json: unknown;
}

export interface Ask {
  method?: string;
  path: string;
  port: number;
  headers?: Record<string, string>;
  body?: string | Buffer;
}

/** One request over a connection of its own. */
export function ask({ method = "GET", path, port, headers = {}, body }: Ask): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const outgoing = request({ host: "127.0.0.1", port, method, path, headers, agent: false }, (incoming) => {
      const pieces: Buffer[] = [];
      incoming.on("data", (piece: Buffer) => pieces.push(piece));
      incoming.on("error", reject);
      incoming.on("end", () => {
        const text = Buffer.concat(pieces).toString("utf8");
        resolve({ status: incoming.statusCode ?? 0, headers: incoming.headers, text, json: parsed(text) });
      });
    });
    outgoing.setTimeout(30_000, () => outgoing.destroy(new Error(`${method} ${path}: no answer within 30 s`)));
    outgoing.on("error", reject);
    outgoing.end(body);
  });
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

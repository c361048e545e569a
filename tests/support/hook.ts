// A web server of the test's own that webhooks and pings go to: answers, refuses, or hangs.
import { createServer, type IncomingHttpHeaders, type Server, type ServerResponse } from "node:http";
import { createServer as createTlsServer } from "node:https";
import type { AddressInfo } from "node:net";
import { atExit } from "./cleanup.ts";

export interface Call { method: string; path: string; headers: IncomingHttpHeaders; body: string }

export class Hook {
  readonly calls: Call[] = [];
  /** The status of each answer; 0: none, the connection hangs. */
  status = 200;
  private readonly hanging: ServerResponse[] = [];

  private constructor(private readonly server: Server, private readonly scheme: string) {
    atExit(() => server.close());
  }

  static async start(tls?: { key: string; cert: string }): Promise<Hook> {
    const server = tls ? createTlsServer(tls) : createServer();
    const hook = new Hook(server, tls ? "https" : "http");
    server.on("request", (request, response) => {
      const pieces: Buffer[] = [];
      request.on("data", (piece: Buffer) => pieces.push(piece));
      request.on("end", () => {
        hook.calls.push({ method: request.method ?? "", path: request.url ?? "", headers: request.headers, body: Buffer.concat(pieces).toString("utf8") });
        if (hook.status === 0) hook.hanging.push(response);
        else response.writeHead(hook.status).end();
      });
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    server.unref();
    return hook;
  }
  get url(): string {
    return `${this.scheme}://127.0.0.1:${(this.server.address() as AddressInfo).port}/bell`;
  }
  letGo(): void {
    for (const response of this.hanging.splice(0)) response.destroy();
  }
}

// Ports of the loopback that nobody listens on.
import { createServer } from "node:net";

/** A port that was free a moment ago. Another process may be quicker: whoever uses it tries again with a new one. */
export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once("error", reject);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => (typeof address === "object" && address ? resolve(address.port) : reject(new Error("no port"))));
    });
  });
}

// What the tests use of two packages that come without types.
declare module "smtp-server" {
  import type { Server } from "node:net";
  import type { Readable } from "node:stream";
  interface Session { envelope: { mailFrom: { address: string } | false; rcptTo: { address: string }[] }; secure: boolean; user?: unknown }
  type Done = (error?: Error | null, answer?: unknown) => void;
  export class SMTPServer {
    constructor(options: {
      secure?: boolean; key?: string; cert?: string; authOptional?: boolean; disabledCommands?: string[]; banner?: string;
      logger?: boolean; closeTimeout?: number;
      onConnect?(session: Session, done: Done): void;
      onAuth?(auth: { username: string; password: string }, session: Session, done: Done): void;
      onRcptTo?(address: { address: string }, session: Session, done: Done): void;
      onData?(stream: Readable, session: Session, done: Done): void;
    });
    listen(port: number, host: string, done: () => void): Server;
    close(done: () => void): void;
    on(event: "error", listener: (error: Error) => void): void;
  }
}
declare module "mailparser" {
  export interface Mail {
    subject?: string; text?: string; html?: string | false; messageId?: string; date?: Date;
    from?: { value: { address: string; name: string }[] };
    to?: { value: { address: string }[] };
    headers: Map<string, unknown>;
  }
  export function simpleParser(source: Buffer): Promise<Mail>;
}

// A mail server of the test's own on the loopback, with TLS by a certificate of its own: takes mails, and can be down,
// refuse, be slow, or never say its last word. What it took is parsed by a library that knows nothing of ours.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import path from "node:path";
import { SMTPServer } from "smtp-server";
import { simpleParser, type Mail } from "mailparser";
import { atExit, temporaryFolder } from "./cleanup.ts";
import { freePort } from "./ports.ts";
import { until } from "./until.ts";

export interface Got {
  to: string[];
  from: string;
  secure: boolean;
  user: unknown;
  mail: Mail;
  raw: string;
}

/** How it behaves; may be changed while it runs. */
export interface Manners {
  refuses?: number;            // each recipient, with this code
  refusesData?: number;        // the message, after its end
  slow?: number;               // milliseconds before it says anything
  silentAtEnd?: boolean;       // takes the message and never says so
}

export interface MailboxOptions {
  tls?: "starttls" | "tls" | "none";
  user?: string;
  password?: string;
}

/** A certificate for 127.0.0.1 and localhost that is its own authority, and its key. */
export function ownCertificate(): { key: string; cert: string; file: string } {
  const folder = temporaryFolder();
  const key = path.join(folder, "key.pem"), file = path.join(folder, "cert.pem");
  execFileSync("openssl", [
    "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "400",
    // Tests move the clock: valid since long ago.
    "-keyout", key, "-out", file, "-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1",
  ], { stdio: "ignore" });
  return { key: readFileSync(key, "utf8"), cert: readFileSync(file, "utf8"), file };
}

export class Mailbox {
  readonly got: Got[] = [];
  manners: Manners = {};
  connections = 0;
  private server: SMTPServer | undefined;
  private readonly held: (() => void)[] = [];

  private constructor(readonly port: number, readonly ca: string, private readonly options: MailboxOptions, private readonly own: { key: string; cert: string }) {
    atExit(() => this.server?.close(() => undefined));
  }

  static async start(options: MailboxOptions = {}): Promise<Mailbox> {
    const box = await Mailbox.stopped(options);
    await box.up();
    return box;
  }
  static async stopped(options: MailboxOptions = {}): Promise<Mailbox> {
    const own = ownCertificate();
    return new Mailbox(await freePort(), own.file, options, own);
  }

  async up(): Promise<void> {
    const { tls = "starttls", user, password } = this.options;
    const server = new SMTPServer({
      secure: tls === "tls",
      key: this.own.key,
      cert: this.own.cert,
      authOptional: !user,
      disabledCommands: [...(tls === "starttls" ? [] : ["STARTTLS"]), ...(user ? [] : ["AUTH"])],
      closeTimeout: 10,
      onConnect: (_session, done) => {
        ++this.connections;
        if (this.manners.slow) setTimeout(done, this.manners.slow);
        else done();
      },
      onAuth: (auth, _session, done) => {
        if (auth.username === user && auth.password === password) done(null, { user });
        else done(Object.assign(new Error("wrong user or password"), { responseCode: 535 }));
      },
      onRcptTo: (address, _session, done) => {
        const code = this.manners.refuses;
        done(code ? Object.assign(new Error(`not for ${address.address}`), { responseCode: code }) : null);
      },
      onData: (stream, session, done) => {
        const pieces: Buffer[] = [];
        stream.on("data", (piece: Buffer) => pieces.push(piece));
        stream.on("end", () => {
          const raw = Buffer.concat(pieces);
          const code = this.manners.refusesData;
          if (code) return done(Object.assign(new Error("not now"), { responseCode: code }));
          void simpleParser(raw).then((mail) => {
            this.got.push({
              to: session.envelope.rcptTo.map((one) => one.address),
              from: session.envelope.mailFrom ? session.envelope.mailFrom.address : "",
              secure: session.secure, user: session.user, mail, raw: raw.toString("utf8"),
            });
            if (this.manners.silentAtEnd) this.held.push(() => done());
            else done();
          });
        });
      },
    });
    server.on("error", () => {
      // A client that goes away in the middle is a case of the tests.
    });
    this.server = server;
    // A test that failed does not wait for its server.
    await new Promise<void>((resolve) => server.listen(this.port, "127.0.0.1", resolve).unref());
  }

  async down(): Promise<void> {
    const server = this.server;
    this.server = undefined;
    if (server) await new Promise<void>((resolve) => server.close(resolve));
  }

  /** Lines of [mail] that lead to it. */
  get settings(): string[] {
    const { tls = "starttls", user, password } = this.options;
    return [
      'server = "127.0.0.1"', `port = ${this.port}`, `security = "${tls}"`, 'from = "watch@cave.example"', `ca = "${this.ca}"`,
      ...(user ? [`user = "${user}"`, `password = "${password}"`] : []),
    ];
  }

  /** The mails of this kind that came, once there are so many. */
  async has(count: number, what: (got: Got) => boolean = () => true, milliseconds = 60_000): Promise<Got[]> {
    return until(`${count} mails are there`, () => {
      const those = this.got.filter(what);
      return those.length >= count && those;
    }, milliseconds);
  }
}

// A datagram socket that stands for systemd's, to hear what a service tells its manager. Node speaks no Unix datagrams,
// so a few lines of Perl, which every Debian has, hold the socket and print what arrives.
import path from "node:path";
import { existsSync } from "node:fs";
import { temporaryFolder } from "./cleanup.ts";
import { Running } from "./running.ts";
import { InVain, until } from "./until.ts";

const script = `
use IO::Socket::UNIX; use Socket;
my $socket = IO::Socket::UNIX->new(Type => SOCK_DGRAM, Local => $ARGV[0]) or die "$!";
$| = 1;
while (defined $socket->recv(my $text, 4096)) { $text =~ s/\\n/;/g; print "$text\\n"; }
`;

export class Manager {
  private constructor(
    readonly socket: string,
    private readonly running: Running,
  ) {}

  static async start(): Promise<Manager> {
    const socket = path.join(temporaryFolder(), "notify");
    const running = new Running("perl", ["-e", script, socket]);
    await until("the manager's socket is there", () => {
      if (running.ending) throw new InVain(running.said);
      return existsSync(socket);
    });
    return new Manager(socket, running);
  }

  /** Every message so far; the lines of one are joined by ";". */
  get heard(): string[] {
    return this.running.out.split("\n").filter(Boolean);
  }
  has(state: string): boolean {
    return this.heard.some((message) => message.split(";").includes(state));
  }
  count(state: string): number {
    return this.heard.filter((message) => message.split(";").includes(state)).length;
  }
}

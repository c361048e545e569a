// deploy/install.sh against a Debian of paper: each tool that it asks is a script that reads a file of the test.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { chmodSync, copyFileSync, existsSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import path from "node:path";
import { describe, test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { run } from "../support/running.ts";
import { root } from "../support/tree.ts";

interface Debian {
  /** name: version */
  installed?: Record<string, string>;
  known?: Record<string, string>;
  /** What apt knows after its lists were read again. */
  knownLater?: Record<string, string>;
  removes?: string[];
  node?: string;
  nodeIsDebians?: boolean;
  npm?: boolean;
  sudo?: boolean;
  /** How often an install fails before it works. */
  failures?: number;
}

const packages = `
# a comment
[build]
g++ (>= 4:12)
libboost1.81-dev | libboost-dev (>= 1.81)
[node]
nodejs (>= 18)
npm
[run]
mosquitto
`;

const scripts: Record<string, string> = {
  "dpkg-query": `
if [ "$1" = -S ]; then [ -e "$STATE/debians-node" ] && echo "nodejs: $2"; exit; fi
shift 2
for name in "$@"; do while read -r n v; do [ "$n" = "$name" ] && printf 'installed\\t%s\\t%s\\n' "$n" "$v"; done < "$STATE/installed"; done
exit 1`,
  "apt-cache": `
shift
for name in "$@"; do while read -r n v; do [ "$n" = "$name" ] && printf '%s:\\n  Installed: (none)\\n  Candidate: %s\\n  Version table:\\n' "$n" "$v"; done < "$STATE/known"; done
exit 0`,
  "apt-get": `
echo "$*" >> "$STATE/log"
case "$*" in
  *-s\\ install*) cat "$STATE/removes" ;;
  *update*) [ -e "$STATE/later" ] && cat "$STATE/later" > "$STATE/known" ;;
  *install*)
    left=$(cat "$STATE/failures")
    if [ "$left" -gt 0 ]; then echo $((left - 1)) > "$STATE/failures"; echo "E: 404" >&2; exit 100; fi
    for word in "$@"; do while read -r n v; do [ "$n" = "$word" ] && echo "$n $v" >> "$STATE/installed"; done < "$STATE/known"; done ;;
esac
exit 0`,
  sudo: `exec "$@"`,
  npm: `exit 0`,
};

/** A checkout with its own list, a PATH with nothing but these tools, and what the paper Debian has. */
class Machine {
  readonly folder = temporaryFolder();
  private readonly tools = path.join(this.folder, "tools");

  constructor(debian: Debian) {
    const deploy = path.join(this.folder, "a checkout/deploy");
    mkdirSync(deploy, { recursive: true });
    copyFileSync(path.join(root, "deploy/install.sh"), path.join(deploy, "install.sh"));
    writeFileSync(path.join(deploy, "packages"), packages);
    mkdirSync(this.tools);
    for (const tool of ["bash", "sh", "awk", "sed", "grep", "env", "dirname", "readlink", "dpkg", "cat"])
      symlinkSync(execFileSync("which", [tool], { encoding: "utf8" }).trim(), path.join(this.tools, tool));
    for (const [name, body] of Object.entries(scripts)) {
      if (name === "sudo" && debian.sudo === false) continue;
      if (name === "npm" && !debian.npm) continue;
      this.tool(name, body);
    }
    if (debian.node) this.tool("node", `echo "${debian.node}"`);
    this.state("installed", lines(debian.installed));
    this.state("known", lines(debian.known));
    if (debian.knownLater) this.state("later", lines(debian.knownLater));
    if (debian.nodeIsDebians) this.state("debians-node", "");
    this.state("removes", (debian.removes ?? []).map((name) => `Remv ${name} [1]\n`).join(""));
    this.state("failures", `${debian.failures ?? 0}\n`);
    // Root may become nobody in one of the cases.
    execFileSync("chmod", ["-R", "a+rwX", this.folder]);
  }

  /** Runs install.sh; unlike root, nobody needs sudo. */
  install(args: string[], options: { ci?: boolean; asNobody?: boolean } = {}) {
    const script = path.join(this.folder, "a checkout/deploy/install.sh");
    const bash = path.join(this.tools, "bash");
    const nobody = ["--reuid", "65534", "--clear-groups", bash, script, ...args];
    return run(options.asNobody ? "/usr/bin/setpriv" : bash, options.asNobody ? nobody : [script, ...args], {
      cwd: "/",
      env: { PATH: this.tools, STATE: this.folder, CI: options.ci ? "true" : "" },
    });
  }

  get log(): string[] {
    const file = path.join(this.folder, "log");
    return existsSync(file) ? readFileSync(file, "utf8").trim().split("\n") : [];
  }
  /** The lines of apt-get that changed something. */
  get changes(): string[] {
    return this.log.filter((line) => !line.startsWith("-s "));
  }

  private tool(name: string, body: string): void {
    const file = path.join(this.tools, name);
    writeFileSync(file, `#!/bin/sh\n${body}\n`);
    chmodSync(file, 0o755);
  }
  private state(name: string, text: string): void {
    writeFileSync(path.join(this.folder, name), text);
  }
}
const lines = (versions: Record<string, string> = {}) =>
  Object.entries(versions).map(([name, version]) => `${name} ${version}\n`).join("");

const debian12 = { "g++": "4:12.2", "libboost1.81-dev": "1.81.0", "libboost-dev": "1.74.0", nodejs: "18.20", npm: "9.2", mosquitto: "2.0.11" };
const debian13 = { "g++": "4:14.2", "libboost-dev": "1.83.0", nodejs: "20.19", npm: "9.2", mosquitto: "2.0.21" };

describe("installing what is missing", () => {
  test("does nothing, and asks apt nothing, when all is there", async () => {
    const machine = new Machine({ installed: debian12 });
    const result = await machine.install(["build", "run"]);
    assert.deepEqual([result.status, result.out + result.err, machine.log], [0, "", []]);
  });

  test("installs what is missing and nothing else, never removing", async () => {
    const machine = new Machine({ installed: { "g++": "4:12.2" }, known: debian12 });
    assert.equal((await machine.install(["build", "run"])).status, 0);
    assert.deepEqual(machine.changes, [
      "-q -o DPkg::Lock::Timeout=120 install -y --no-install-recommends --no-remove libboost1.81-dev mosquitto",
    ]);
    const second = await machine.install(["build", "run"]);
    assert.deepEqual([second.status, second.err, machine.changes.length], [0, "", 1]);
  });

  test("takes the alternative that the release has", async () => {
    const machine = new Machine({ known: debian13 });
    assert.equal((await machine.install(["build"])).status, 0);
    assert.match(machine.changes.join(), /--no-remove g\+\+ libboost-dev$/);
  });

  test("does not take an alternative that is too old for one that will do", async () => {
    const machine = new Machine({ installed: { "g++": "4:12.2", "libboost-dev": "1.74.0" }, known: debian12 });
    assert.equal((await machine.install(["build"])).status, 0);
    assert.match(machine.changes.join(), /--no-remove libboost1\.81-dev$/);
  });

  test("reads the lists first when they know nothing", async () => {
    const machine = new Machine({ known: {}, knownLater: debian12 });
    assert.equal((await machine.install(["build"])).status, 0);
    assert.deepEqual(machine.changes.map((line) => line.split(" ")[3]), ["update", "install"]);
  });

  test("reads the lists again when they name files that are gone", async () => {
    const machine = new Machine({ known: debian12, failures: 1 });
    assert.equal((await machine.install(["run"])).status, 0);
    assert.deepEqual(machine.changes.map((line) => line.split(" ")[3]), ["install", "update", "install"]);
  });

  test("says what a release does not have", async () => {
    const machine = new Machine({ known: { "g++": "4:10" } });
    const result = await machine.install(["build"]);
    assert.equal(result.status, 1);
    assert.match(result.err, /This Debian release has no package for: g\+\+ \(>= 4:12\); libboost1\.81-dev \| libboost-dev \(>= 1\.81\)/);
  });

  test("says which packages would go and stops", async () => {
    const machine = new Machine({ known: debian12, removes: ["libboost1.74-dev", "python3-x"] });
    const result = await machine.install(["build"]);
    assert.equal(result.status, 1);
    assert.match(result.err, /would remove: libboost1\.74-dev python3-x\. Nothing was changed; .*--replace/);
    assert.deepEqual(machine.changes, []);
  });

  for (const [name, args, ci] of [["--replace", ["--replace", "build"], false], ["CI=true", ["build"], true]] as const)
    test(`lets them go with ${name}`, async () => {
      const machine = new Machine({ known: debian12, removes: ["libboost1.74-dev"] });
      const result = await machine.install([...args], { ci });
      assert.equal(result.status, 0);
      assert.match(result.err, /libboost1\.74-dev will be removed/);
      assert.deepEqual(machine.changes, ["-q -o DPkg::Lock::Timeout=120 install -y --no-install-recommends g++ libboost1.81-dev"]);
    });

  test("fails in one sentence when Debian's archive cannot be had", async () => {
    const machine = new Machine({ known: debian12, failures: 9 });
    const result = await machine.install(["run"]);
    assert.equal(result.status, 1);
    assert.match(result.err, /could not be installed/);
  });

  const notRoot = process.getuid?.() === 0 ? { asNobody: true } : {};
  test("says what to install where there is no sudo", async () => {
    const machine = new Machine({ known: debian12, sudo: false });
    const result = await machine.install(["run"], notRoot);
    assert.equal(result.status, 1);
    assert.match(result.err, /there is no sudo here: as root, run: apt-get install --no-install-recommends mosquitto$/m);
  });
  test("asks sudo where the user is not root", async () => {
    const machine = new Machine({ known: debian12 });
    assert.equal((await machine.install(["run"], notRoot)).status, 0);
    assert.match(machine.changes.join(), /mosquitto$/);
  });

  test("says so where there is no such group", async () => {
    const result = await new Machine({}).install(["brewing"]);
    assert.equal(result.status, 1);
    assert.match(result.err, /has no group \[brewing\]/);
  });
});

describe("Node for the page", () => {
  test("on the PATH and new enough is taken", async () => {
    const machine = new Machine({ known: debian12, node: "v22.1.0", npm: true });
    assert.equal((await machine.install(["node"])).status, 0);
    assert.deepEqual(machine.log, []);
  });
  test("comes from Debian where there is none", async () => {
    const machine = new Machine({ known: debian12 });
    assert.equal((await machine.install(["node"])).status, 0);
    assert.match(machine.changes.join(), /nodejs npm$/);
  });
  test("of Debian without npm gets Debian's npm", async () => {
    const machine = new Machine({ known: debian12, installed: { nodejs: "18.20" }, node: "v18.20.4", nodeIsDebians: true });
    assert.equal((await machine.install(["node"])).status, 0);
    assert.match(machine.changes.join(), /--no-remove npm$/);
  });
  test("from elsewhere and too old stands in the way, in one sentence", async () => {
    const machine = new Machine({ known: debian12, node: "v16.0.0", npm: true });
    const result = await machine.install(["node"]);
    assert.equal(result.status, 1);
    assert.match(result.err, /v16\.0\.0.* is older than 18 or has no npm/);
    assert.deepEqual(machine.log, []);
  });
});

// The unit file: systemd finds it sound and well shut in, and it watches the watch.
import assert from "node:assert/strict";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { temporaryFolder } from "../support/cleanup.ts";
import { run } from "../support/running.ts";
import { root } from "../support/tree.ts";

const unit = readFileSync(path.join(root, "deploy/rindwatch.service"), "utf8");

test("the service tells its manager when it is ready and is begun anew when it hangs", () => {
  assert.match(unit, /^Type=notify$/m);
  // It is fed each third: a copy that holds the database for a minute costs at most two of them.
  assert.ok(Number(/^WatchdogSec=(\d+)$/m.exec(unit)?.[1]) >= 3 * 60);
  assert.match(unit, /^Restart=always$/m);
});

test("the unit reads the configuration where the program's other verbs look for it, and says so", () => {
  const file = /^ExecStart=.* --config (\S+)$/m.exec(unit)?.[1];
  const places = readFileSync(path.join(root, "daemon/command/config_places.cpp"), "utf8");
  assert.ok(file && places.includes(`"${file}"`), file);
  assert.ok(unit.slice(0, unit.indexOf("[Unit]")).includes(`${file},`));
});

test("systemd finds the unit sound, and little of the machine open to it", { skip: existsSync("/usr/bin/systemd-analyze") ? false : "systemd is not there" }, async () => {
  const file = path.join(temporaryFolder(), "rindwatch.service");
  // The program need not be installed to check the rest.
  writeFileSync(file, unit.replaceAll("/usr/bin/rindwatch", "/bin/true"));
  const sound = await run("systemd-analyze", ["verify", file]);
  assert.equal(sound.status, 0, sound.err);
  const shut = await run("systemd-analyze", ["security", "--offline=true", "--threshold=30", file]);
  assert.equal(shut.status, 0, shut.out);
});

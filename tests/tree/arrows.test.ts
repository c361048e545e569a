import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { describe, test } from "node:test";
import { build, filesBelow, root } from "../support/tree.ts";
import { impureLines, judge, partOf, parts, readDependencies, type Part } from "./arrows.ts";

const dependencies = () =>
  readDependencies(execFileSync("ninja", ["-C", build, "-t", "deps"], { encoding: "utf8", maxBuffer: 1 << 30 }), build);

describe("the arrows of the tree", () => {
  const opened = dependencies();

  for (const part of parts) {
    test(`${part} opened nothing that it must not know`, () => {
      const mine = opened.filter((one) => partOf(one.object) === part);
      assert.ok(mine.length > 0, `no object of ${part} in ${build}: build it first`);
      const faults = mine.flatMap((one) => judge(one, part, root));
      assert.deepEqual(faults, []);
    });

    test(`every source and header of ${part} is in the build`, () => {
      const seen = new Set(opened.filter((one) => partOf(one.object) === part).flatMap((one) => one.files));
      const unseen = filesBelow(part, /\.[ch]pp$/).filter((file) => !seen.has(file) && file !== `${root}/daemon/main.cpp`);
      assert.deepEqual(unseen, []);
    });
  }

  test("no part of ours but the tests hides what it opens behind a precompiled header of its own", () => {
    // A compiler names a precompiled header in its dependencies, but not what lies in it.
    const hidden = opened.filter((one) => partOf(one.object) === "rules" && one.files.some((file) => /\.gch$/.test(file)));
    assert.deepEqual(hidden.map((one) => one.object), []);
  });

  test("the rules' own lines name no file, thread, clock or chance", () => {
    const faults = filesBelow("rules", /\.[ch]pp$/).flatMap((file) =>
      impureLines(readFileSync(file, "utf8")).map((fault) => `${path.relative(root, file)}:${fault.line}: ${fault.why}`),
    );
    assert.deepEqual(faults, []);
  });
});

describe("the test of the arrows", () => {
  /** Compiles one source in a tree of its own and judges it, as if it were `part`'s. */
  function judgedSource(part: Part, source: string, others: Record<string, string> = {}) {
    const tree = mkdtempSync(path.join(tmpdir(), "rindwatch-arrows-"));
    try {
      for (const [name, text] of Object.entries({ [`${part}/wrong.cpp`]: source, ...others })) {
        mkdirSync(path.dirname(path.join(tree, name)), { recursive: true });
        writeFileSync(path.join(tree, name), text);
      }
      const made = execFileSync("g++", ["-std=c++20", "-I", tree, "-M", "-MT", "x.o", `${part}/wrong.cpp`], {
        cwd: tree,
        encoding: "utf8",
      });
      const files = made.replace(/^x\.o:/, "").replace(/\\\n/g, " ").split(/\s+/).filter(Boolean);
      return judge({ object: "x.o", files: files.map((file) => path.resolve(tree, file)) }, part, tree);
    } finally {
      rmSync(tree, { recursive: true });
    }
  }

  const wrong: [Part, string, string][] = [
    ["rules", "#include <sqlite3.h>\n", "rules opened SQLite"],
    ["rules", "#include <boost/json.hpp>\n", "rules opened Boost"],
    ["rules", "#include <mqtt/async_client.h>\n", "rules opened the MQTT client"],
    ["rules", "#include <spdlog/spdlog.h>\n", "rules opened spdlog"],
    ["rules", '#include "sensors/x.hpp"\n', "rules opened sensors"],
    ["sensors", '#include "web/x.hpp"\n', "sensors opened web"],
    ["sensors", "#include <sqlite3.h>\n", "sensors opened SQLite"],
    ["web", '#include "sensors/x.hpp"\n', "web opened sensors"],
    ["web", '#include "daemon/x.hpp"\n', "web opened daemon"],
    ["web", "#include <sqlite3.h>\n", "web opened SQLite"],
  ];
  for (const [part, source, why] of wrong)
    test(`finds that ${why}`, () => {
      const others = Object.fromEntries(parts.map((name) => [`${name}/x.hpp`, "#pragma once\n"]));
      assert.ok(judgedSource(part, source, others).some((fault) => fault.why === why));
    });

  test("finds a wrong include behind a header that may be opened", () => {
    const faults = judgedSource("web", '#include "rules/x.hpp"\n', { "rules/x.hpp": "#include <sqlite3.h>\n" });
    assert.deepEqual([...new Set(faults.map((fault) => fault.why))], ["web opened SQLite"]);
  });

  test("lets right includes pass", () => {
    const others = { "rules/x.hpp": "#pragma once\n#include <vector>\n" };
    assert.deepEqual(judgedSource("sensors", '#include "rules/x.hpp"\n#include <boost/json.hpp>\n', others), []);
    assert.deepEqual(judgedSource("rules", '#include "rules/x.hpp"\n', others), []);
  });

  test("reads what ninja prints", () => {
    const text = "rules/CMakeFiles/rindwatch-rules.dir/time.cpp.o: #deps 2, deps mtime 1 (VALID)\n    ../rules/time.cpp\n    /usr/include/x.h\n\n";
    assert.deepEqual(readDependencies(text, "/t/build"), [
      { object: "rules/CMakeFiles/rindwatch-rules.dir/time.cpp.o", files: ["/t/rules/time.cpp", "/usr/include/x.h"] },
    ]);
  });

  test("finds impure lines, and not words in comments", () => {
    assert.deepEqual(impureLines("#include <mutex>\n// std::rand is not used\nauto t = system_clock::now();\nstd::snprintf(b, 9, x);\nstd::printf(x);\n"), [
      { line: 1, why: "a thread or a lock" },
      { line: 3, why: "a clock" },
      { line: 5, why: "input or output" },
    ]);
  });
});

// The arrows daemon -> {sensors, web} -> rules, judged by what the compiler opened. Debian's headers all lie in one
// folder, so a link list alone keeps nobody from including a library that its part must not know.
import path from "node:path";

/** The parts of the tree that have arrows. */
export const parts = ["rules", "sensors", "web", "daemon"] as const;
export type Part = (typeof parts)[number];

/** What one object file was made from: absolute paths. */
export interface Opened {
  object: string;
  files: string[];
}

export interface Fault {
  object: string;
  file: string;
  why: string;
}

/** A library is known by a piece of the path under which Debian installs its headers. */
const libraries: Record<string, RegExp> = {
  Boost: /\/include\/boost\//,
  SQLite: /\/include\/sqlite3(ext)?\.h$/,
  "the MQTT client": /\/include\/(mqtt\/|MQTT(Async|Client|Properties|ReasonCodes)[^/]*\.h$)/,
  curl: /\/include\/([^/]+\/)?curl\//,
  spdlog: /\/include\/spdlog\//,
  fmt: /\/include\/fmt\//,
  OpenSSL: /\/include\/([^/]+\/)?openssl\//,
  CLI11: /\/include\/CLI\//,
  "the zone library": /\/include\/date\//,
  qrencode: /\/include\/qrencode\.h$/,
};

/** What each part may not open: libraries by name, parts by folder. */
const forbidden: Record<Part, { libraries: string[]; parts: Part[] }> = {
  rules: { libraries: Object.keys(libraries), parts: ["sensors", "web", "daemon"] },
  sensors: { libraries: ["SQLite", "curl", "CLI11", "qrencode"], parts: ["web", "daemon"] },
  web: { libraries: ["SQLite", "curl", "the MQTT client", "CLI11", "qrencode"], parts: ["sensors", "daemon"] },
  daemon: { libraries: ["the MQTT client"], parts: [] },
};

/** Reads what `ninja -t deps` prints, with paths made absolute from the build folder. */
export function readDependencies(text: string, build: string): Opened[] {
  const opened: Opened[] = [];
  for (const line of text.split("\n")) {
    if (line.startsWith("    ")) opened.at(-1)?.files.push(path.resolve(build, line.trim()));
    else if (line.includes(": #deps")) opened.push({ object: line.slice(0, line.indexOf(": #deps")), files: [] });
  }
  return opened;
}

/** The part that an object belongs to, if any: its library's objects, or those of its headers compiled alone. */
export function partOf(object: string): Part | undefined {
  return parts.find(
    (part) => object.startsWith(`${part}/CMakeFiles/`) || object.startsWith(`tests/CMakeFiles/headers-${part}.dir/`),
  );
}

/** Everything that an object opened and its part must not know. */
export function judge(opened: Opened, part: Part, root: string): Fault[] {
  const faults: Fault[] = [];
  const blame = (file: string, why: string) => faults.push({ object: opened.object, file, why });
  for (const file of opened.files) {
    for (const name of forbidden[part].libraries) if (libraries[name]!.test(file)) blame(file, `${part} opened ${name}`);
    const own = path.relative(root, file).split(path.sep)[0];
    for (const other of forbidden[part].parts) if (own === other) blame(file, `${part} opened ${other}`);
  }
  return faults;
}

/** What the rules' own lines may not name: files, threads, clocks and chance reach them only as values. */
const impure: [RegExp, string][] = [
  [
    /^\s*#\s*include\s*<(thread|mutex|shared_mutex|condition_variable|future|semaphore|latch|barrier|stop_token)>/,
    "a thread or a lock",
  ],
  [/^\s*#\s*include\s*<(fstream|iostream|filesystem|unistd\.h|fcntl\.h|sys\/[^>]*)>/, "input or output"],
  // snprintf, which only writes into memory, comes with the same header.
  [/\b(f?printf|puts|fputs|fopen|fread|fwrite|f?scanf)\s*\(/, "input or output"],
  [/\b(system|steady|high_resolution|utc)_clock::now\b|\bstd::time\s*\(|\bgettimeofday\b|\bclock_gettime\b/, "a clock"],
  [/\brandom_device\b|\bstd::rand\b/, "chance"],
  [/\bgetenv\b/, "the environment"],
];

/** The lines of one source of the rules that reach outside. */
export function impureLines(source: string): { line: number; why: string }[] {
  return source.split("\n").flatMap((text, index) => {
    const code = text.replace(/\/\/.*$/, "");
    return impure.filter(([pattern]) => pattern.test(code)).map(([, why]) => ({ line: index + 1, why }));
  });
}

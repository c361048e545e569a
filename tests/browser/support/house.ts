// A stand-in for the daemon: it serves the built page under the daemon's content policy and answers an invented scene.
// It keeps acts as the daemon promises to: an id counts once, an undo takes back. For looks and for the page's own tests;
// the whole program is tested against the daemon itself.
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Act, Alarm, Cave, JournalLine, RoundLine, RoundQuestion } from "../../../web/page/src/api.ts";
import * as ringing from "./alarm_scene.ts";
import * as more from "./plans_scene.ts";
import * as scenes from "./scene.ts";

const kDist = fileURLToPath(new URL("../../../web/page/dist/", import.meta.url));
const kTypes: Record<string, string> = { ".js": "text/javascript", ".css": "text/css", ".html": "text/html; charset=utf-8" };

function policy(index: string): string {
  const style = /<style>(.*?)<\/style>/s.exec(index)?.[1];
  const hash = style ? ` 'sha256-${createHash("sha256").update(style).digest("base64")}'` : "";
  return `default-src 'none'; script-src 'self'; style-src 'self'${hash}; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`;
}

export class House {
  readonly acts = new Map<string, Act>();
  readonly sent: string[] = [];        // every sending that arrived, by id
  gas: NonNullable<Cave["gas"]>[number]["grade"] | undefined;   // of carbon dioxide, whatever the scene says
  refuse: { status: number; what: string } | undefined;
  private readonly started = Date.now();
  private readonly streams = new Set<ServerResponse>();
  private lines: RoundLine[];
  private asked: RoundQuestion[];
  private alarms: Alarm[];
  private written: JournalLine[] = [];    // what was answered
  private limits: ringing.Typed = { settings: {}, off: [], ready_cheese: false };
  private here: number | undefined;
  private looks = 0;
  private server: Server | undefined;
  private position = 200;

  constructor(private readonly scene: scenes.SceneName, private readonly keepers = scenes.settings(scene, scenes.kStart).keepers) {
    this.lines = scenes.lines(scene);
    this.asked = scenes.questions(scene);
    this.alarms = scenes.alarms(scene);
  }

  now(): number {
    return scenes.kStart + (Date.now() - this.started) * (this.scene === "trial" ? 60 : 1);
  }

  async open(port = 0): Promise<number> {
    this.server = createServer((request, response) => void this.answer(request, response));
    await new Promise<void>((resolve) => this.server!.listen(port, "127.0.0.1", resolve));
    const timer = setInterval(() => this.tell("clock"), 10_000);
    this.server.on("close", () => clearInterval(timer));
    return (this.server.address() as { port: number }).port;
  }

  async close(): Promise<void> {
    for (const stream of this.streams) stream.destroy();
    this.server?.closeAllConnections();
    await new Promise<void>((resolve) => this.server!.close(() => resolve()));
  }

  /** These stand from now on, whatever the scene says. */
  ring(alarms: Alarm[]): void {
    this.alarms = alarms;
    this.tell("alarms");
  }

  tell(event: string): void {
    const data = JSON.stringify({ now: this.now(), speed: this.scene === "trial" ? 60 : 1 });
    for (const stream of this.streams) stream.write(`id: 1-${++this.position}\nevent: ${event}\ndata: ${data}\n\n`);
  }

  private async answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const url = new URL(request.url ?? "/", "http://house");
    if (url.pathname === "/api/events") return this.stream(response);
    if (url.pathname === "/api/plans/preview") return this.preview(request, response);
    if (url.pathname.endsWith("/limits/trials")) return this.json(response, 202, { trial: 1 });
    if (url.pathname === "/api/limits/trials/1") return this.json(response, 200, { done: ++this.looks > 1, ...(this.looks > 1 ? { from: this.now() - 91 * 86_400_000, to: this.now(), then: 31, now: 4, compared: { real: { rang: 2, still: 2 }, called: { door: { rang: 4, still: 1 } }, unsaid: { rang: 25, still: 1 }, fresh: 0 }, sentence: "With these limits the last three months would have rung 4 times instead of 31, and rung for both that you called real. It would have kept quiet about 3 of the 4 that you called a door and 24 of the 25 that nobody named." } : {}) });
    if (url.pathname === "/api/acts") return this.take(request, response);
    if (url.pathname.startsWith("/api/")) {
      const found = this.state(url);
      return this.json(response, found ? 200 : 404, found ?? { error: { what: "There is nothing here." } });
    }
    this.file(url.pathname, response);
  }

  private json(response: ServerResponse, status: number, body: unknown): void {
    response.writeHead(status, { "Content-Type": "application/json", "Cache-Control": "no-store" }).end(JSON.stringify(body));
  }

  private file(path: string, response: ServerResponse): void {
    const ending = /\.\w+$/.exec(path)?.[0];
    const name = ending ? path.slice(1) : "index.html";
    try {
      const bytes = readFileSync(join(kDist, name));
      response.writeHead(200, { "Content-Type": kTypes[ending ?? ".html"] ?? "application/octet-stream", "Content-Security-Policy": policy(String(readFileSync(join(kDist, "index.html")))) }).end(bytes);
    } catch {
      response.writeHead(404).end();
    }
  }

  private stream(response: ServerResponse): void {
    response.writeHead(200, { "Content-Type": "text/event-stream", "Cache-Control": "no-store" });
    response.write(`event: clock\ndata: ${JSON.stringify({ now: this.now(), speed: this.scene === "trial" ? 60 : 1 })}\n\n`);
    this.streams.add(response);
    response.on("close", () => this.streams.delete(response));
  }

  private state(url: URL): unknown {
    const now = this.now();
    const head = scenes.head(this.scene, now, this.alarms);
    head.empty = this.scene === "empty" && this.lines.length === 0;
    const [, , place, id, part] = url.pathname.split("/");
    switch (place) {
      case "round": {
        const whole = { ...scenes.round(this.scene, now, this.alarms, this.asOf(Number(url.searchParams.get("at") ?? now)), this.asked), head };
        const minutes = Number(url.searchParams.get("minutes"));
        return minutes > 0 ? { ...whole, short: scenes.short(whole, minutes) } : whole;
      }
      case "faults": return { ...scenes.faults(this.scene, now), head };
      case "settings": return { ...(more.answers(url, head) as object), keepers: this.keepers };
      case "caves":
        if (part === "limits") return ringing.limitsPage(head, this.caves().find((c) => c.id === Number(id))!, this.limits);
        return id ? this.cave(Number(id), head) : { head, sentences: scenes.cavesSentences(this.scene), caves: this.caves() };
      case "alarms": {
        if (!id) return ringing.alarmsPage(head, now);
        const alarm = [...this.alarms, ...ringing.past(now)].find((a) => a.id === decodeURIComponent(id));
        return ringing.alarmPage(head, alarm, this.caves().find((c) => c.id === alarm?.cave), scenes.journal(this.scene));
      }
      case "wheels": {
        const all = scenes.wheels(this.scene).map((w) => more.whole(w, now));
        const one = all.find((w) => w.id === Number(id));
        return id ? one && { ...scenes.wheelPage(this.scene, now, one, this.alarms), weighings: more.weighings(one, now), head } : { head, wheels: all, gone: 12 };
      }
      case "journal": return { head, lines: [...scenes.journal(this.scene), ...this.written], older: !url.searchParams.has("before") && this.scene !== "empty" };
      case "plans": return id ? more.answers(url, head) : { ...scenes.plans(this.scene, now, this.alarms), head };
      case "arriving": return { ...scenes.arriving(this.scene, now, this.alarms), head };
      default: return more.answers(url, head);
    }
  }

  private async preview(request: IncomingMessage, response: ServerResponse): Promise<void> {
    let text = "";
    for await (const piece of request) text += piece;
    this.json(response, 200, more.preview(scenes.head(this.scene, this.now(), this.alarms), JSON.parse(text)));
  }

  /** As it stood then: what was settled later is open. */
  private asOf(at: number): RoundLine[] {
    return this.lines.map((line) => {
      if ((line.settled_at ?? 0) <= at) return line;
      const { settled_by: _b, settled_at: _a, keeper: _k, ...rest } = line;
      return { ...rest, state: line.late_since ? "late" : "due", done_kinds: [], skipped_kinds: [] };
    });
  }

  private caves(): Cave[] {
    const grade = this.gas;
    const all = scenes.caves(this.scene, this.now()).map((c) => (grade && c.gas ? { ...c, gas: c.gas.map((g) => (g.kind === "carbon dioxide" ? { ...g, grade } : g)) } : c));
    return this.here === undefined ? all : all.map((c) => (c.id === this.here ? { ...c, here_until: this.now() + 3_600_000, quiet_until: this.now() + 3_600_000 } : c));
  }

  private cave(id: number, head: unknown): unknown {
    const cave: Cave | undefined = this.caves().find((c) => c.id === id);
    if (!cave) return undefined;
    const probes = cave.temperature.watched || cave.humidity.watched
      ? [{ id: 9, name: cave.name.toLowerCase(), topic: `cellar/${cave.name.toLowerCase()}/air`, silent: false, invalid: 2, channels: [{ id: 1, kind: "temperature", latest: 12.4, latest_at: this.now() - 40_000 }, { id: 2, kind: "humidity", latest: 79, latest_at: this.now() - 40_000 }],
          invalid_last: { at: this.now() - 7_200_000, topic: "cellar/fridge/air", first_bytes: "nan", why: "not a number" } }] : [];
    return { head, cave, probes, journal: scenes.journal(this.scene).filter((l) => l.cave === id) };
  }

  private async take(request: IncomingMessage, response: ServerResponse): Promise<void> {
    let text = "";
    for await (const piece of request) text += piece;
    const act = JSON.parse(text) as Act;
    this.sent.push(act.id);
    if (this.refuse) return this.json(response, this.refuse.status, { error: { what: this.refuse.what } });
    const known = this.acts.get(act.id);
    if (known && JSON.stringify(known) !== text) return this.json(response, 409, { error: { what: "This id is known with another body." } });
    if (!known) {
      this.acts.set(act.id, act);
      this.apply(act);
    }
    this.json(response, 200, { id: act.id, position: ++this.position, at: this.now(), late_entry: act.said_at !== undefined });
    for (const event of ["round", "caves", "wheels", "journal", "alarms"]) this.tell(event);
  }

  /** The house asks it no more; the journal keeps it. */
  private noteAnswer(act: Extract<Act, { kind: "answer" | "later" }>): void {
    const of = this.asked.find((q) => q.wheels.some((w) => act.wheels.includes(w)));
    this.asked = this.asked.filter((q) => q !== of);
    if (!of) return;
    const moved = act.kind === "answer" && "move_to" in act && act.move_to && "cave" in act.move_to ? act.move_to.cave : of.cave;
    const place = moved === of.cave ? of.place : this.caves().find((c) => c.id === moved)!.name;
    const said = act.kind === "later" ? { text: act.question, ...(act.start ? { start: act.start } : {}) } : "option" in act ? { option: act.option } : { start: act.start };
    this.written.push({ position: 300 + this.written.length, id: act.id, at: this.now(), received_at: this.now(), kind: act.kind, keeper: act.keeper ?? "IH", late_entry: false, undone: false,
      cave: moved, cave_name: place, place, count: of.wheels.length, lot: of.lot, family: of.family, ...said } as JournalLine);
  }

  private apply(act: Act): void {
    const now = this.now();
    if (act.kind === "care") {
      const parts = this.lines.flatMap((line) => {
        const of = (keep: (wheel: number) => boolean, key: string) => ({ ...line, key, wheels: line.wheels.filter(keep), numbers: line.numbers.filter((_, i) => keep(line.wheels[i]!)) });
        const left = of((w) => !act.wheels.includes(w), `${line.key} left`);
        return left.wheels.length === 0 || left.wheels.length === line.wheels.length ? [line] : [of((w) => act.wheels.includes(w), line.key), left];
      });
      this.lines = parts.map((line) => {
        if (!line.wheels.some((w) => act.wheels.includes(w))) return line;
        if (!line.kinds.some((k) => act.done.includes(k) || act.skipped.includes(k))) return line;
        const done_kinds = [...new Set([...line.done_kinds, ...act.done])];
        const settled = line.kinds.every((k) => done_kinds.includes(k) || act.skipped.includes(k));
        return { ...line, done_kinds, skipped_kinds: act.skipped, state: settled ? "done" : line.state, settled_at: act.said_at ? now - (act.tapped_at - act.said_at) : now, settled_by: act.id, keeper: "IH", ...(act.reason ? { reason: act.reason } : {}) } as RoundLine;
      });
    }
    if (act.kind === "undo") {
      this.written = this.written.map((line) => (line.id === act.of ? { ...line, undone: true } : line));
      const of = this.acts.get(act.of);
      if (of?.kind === "answer" || of?.kind === "later") this.asked = scenes.questions(this.scene).filter((q) => this.asked.some((a) => a.key === q.key) || q.wheels.some((w) => of.wheels.includes(w)));
      this.lines = this.lines.map((line) => {
        if (line.settled_by !== act.of) return line;
        const { settled_by: _b, settled_at: _a, keeper: _k, ...rest } = line;
        return { ...rest, state: line.late_since ? "late" : "due", done_kinds: [], skipped_kinds: [] };
      });
    }
    if (act.kind === "answer" || act.kind === "later") this.noteAnswer(act);
    if (act.kind === "take") this.alarms = this.alarms.map((a) => (a.id === act.alarm ? { ...a, taken: now } : a));
    if (act.kind === "called") this.alarms = this.alarms.map((a) => (a.id === act.alarm ? { ...a, what: act.what, ...(act.remark ? { remark: act.remark } : {}) } : a));
    if (act.kind === "aside") this.alarms = this.alarms.map((a) => (a.id === act.alarm ? { ...a, aside_until: act.until } : a));
    if (act.kind === "here") this.here = act.cave;
    if (act.kind === "out") this.here = undefined;
    if (act.kind === "limits") this.limits = { ...this.limits, temperature: act.temperature, humidity: act.humidity } as ringing.Typed;
    if (act.kind === "watching") this.limits = { ...this.limits, settings: act.settings, off: act.off, ready_cheese: act.ready_cheese };
    if (act.kind === "enter") {
      this.lines.push({ key: "new", section: 1, minutes: 1, numbers: [1], two_people: false, look_first: [], held: false, cut: 0, rind: "natural and pressed", cave: 1, cave_name: "Counter", place: "Counter", wheels: [1], lot: "", lot_here: 1, family: act.plan, day: 0, age: 0, stage: "drying", wheel_state: "drying", kinds: ["turn"], done_kinds: [], skipped_kinds: [], state: "due", due: "2026-11-27", away: false, evening: false, note: "", past_plan: false });
    }
  }
}

// By hand: npx tsx browser/support/house.ts [scene] [port]
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const scene = (process.argv[2] ?? "round") as scenes.SceneName;
  const port = await new House(scene).open(Number(process.argv[3] ?? 8087));
  console.log(`scene ${scene} at http://127.0.0.1:${port}/`);
}

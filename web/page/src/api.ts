// What the daemon answers under /api/, as openapi.yaml describes it. Instants are UTC milliseconds, dates are the
// keeper's days as "2026-11-25". The page never uses its own clock for what it shows.

export type Instant = number;
export type Day = string;

export type CareKind =
  | "turn" | "wash" | "brush" | "pat" | "rub" | "salt" | "wipe" | "oil" | "coat" | "pierce" | "wrap" | "move" | "look"
  | "weigh";
export type CaveKind = "counter" | "box" | "fridge" | "room";
export type CaveStateWord = "in band" | "drifting" | "out of band" | "unknown" | "not watched";
export type WheelStateWord =
  | "drying" | "rind forming" | "ripening" | "ready" | "holding" | "released" | "gone";
export type RindWord = "fresh and white" | "natural and pressed" | "washed" | "blue";
export type StartWord = "made" | "salted" | "dry" | "entered box" | "entered cave" | "pierced" | "wrapped";
export type AlarmWord = "too warm" | "too cold" | "too dry" | "too damp" | "probe silent";
export type SeverityWord = "hint" | "watch" | "act" | "urgent";

// ---- every place opens with the same head ----
export interface Head {
  now: Instant;
  speed: number;        // 1; more in a trial: the page shows the clock and says so
  trial: boolean;       // invented data on a clock of its own; every screen says so
  open: boolean;        // anyone on the network can write until there is sign-in
  zone: string;         // IANA, for showing instants with Intl.DateTimeFormat
  day: Day;             // the keeper's day now
  event: string;        // id of the newest event: open /api/events?after= with it
  empty: boolean;       // no wheel yet: ask the first question
  sentence: string;     // how things stand: "Five left. Box 1 drifts damp."
  alarms: Alarm[];      // most severe first; those over stay until they are taken
  troubles: Trouble[];
}
// What is wrong with the watch itself, said once, in words.
export interface Trouble {
  kind: "store" | "broker" | "clock" | "topic";   // the text says it all; the page tells no kind from another
  since: Instant;
  text: string;         // "The disk is full: readings are refused. Free some space."
}
export interface Alarm {
  id: string;
  kind: AlarmWord;
  severity: SeverityWord;
  cave: number;
  cave_name: string;
  probe?: string;       // of a silent probe
  since: Instant;
  raised: Instant;
  taken?: Instant;
  over?: Instant;
  aside_until?: Instant;
  value?: number;       // the mean: degrees Celsius or percent
  extreme?: number;
  dose?: number;        // degree-hours or point-hours
  band?: Span;
  wheels: { count: number; family: string; cave_name: string; state: WheelStateWord }[];
  first: string[];      // the first three things to do
  found_later: boolean; // decided at a start, after nobody had watched
  what?: string;        // what it was, once a keeper said so
}
export interface Span { low: number; high: number; source?: string }

// ---- GET /api/round ----
export interface Round {
  head: Head;
  lines: RoundLine[];   // in working order: due and late, and what was settled today where it stands
  questions: RoundQuestion[];
  next?: { day: Day; from?: Instant; lines: { place: string; kinds: CareKind[]; count: number }[] };  // the next day with work
  // may be done today, due later; with the wheels it is one tap
  open: { place: string; kinds: CareKind[]; due: Day; cave: number; wheels: number[]; lot: string; family: string }[];
}
export interface RoundLine {
  key: string;          // stable while the line is the same: its element
  rind: RindWord;
  cave: number;
  cave_name: string;
  place: string;        // what stands in the margin: the board's name, else the cave's
  wheels: number[];
  lot: string;          // empty where the lot does not show
  family: string;
  day: number;          // of the part
  age: number;
  stage: string;
  wheel_state: WheelStateWord;
  kinds: CareKind[];    // the leading one first
  done_kinds: CareKind[];     // done in part today
  skipped_kinds: CareKind[];
  state: "due" | "late" | "done" | "skipped" | "retired" | "not done";
  due: Day;
  late_since?: Day;
  away: boolean;
  evening: boolean;
  note: string;         // of the plan, for the keeper
  settled_at?: Instant;
  settled_by?: string;  // id of the act, to undo it
  keeper?: string;
  reason?: string;
  past_plan: boolean;
}
export interface RoundQuestion {
  key: string;
  cave: number;
  place: string;
  wheels: number[];
  lot: string;
  family: string;
  day: number;
  wheel_state: WheelStateWord;
  kind: "start" | "branch";
  text: string;         // "Dry to the touch?"
  start?: StartWord;    // what a yes names
  options?: string[];   // of a branch
  // a start that is a move asks where to: the caves it may be
  where?: { cave: number; cave_name: string }[];
}

// ---- GET /api/caves, GET /api/caves/{id} ----
export interface Caves { head: Head; caves: Cave[] }
export interface CavePage { head: Head; cave: Cave; probes: Probe[]; journal: JournalLine[] }
export interface Cave {
  id: number;
  kind: CaveKind;
  name: string;
  inside?: number;
  state: CaveStateWord;
  temperature: Channel;
  humidity: Channel;
  boards: Board[];
  gaps: { from: Instant; to: Instant }[];   // of the ribbon's span: nothing was recorded
  does_not_suit: { count: number; family: string }[];
  ribbon: Ribbon;
}
export interface Channel {
  state: CaveStateWord;
  watched: boolean;
  borrowed: boolean;    // the temperature of the cave it stands inside, set light
  judged: boolean;
  mean?: number;
  latest?: number;
  latest_at?: Instant;
  side: -1 | 0 | 1;     // cold or dry, warm or damp
  target?: Span;
  band?: Span;
  silent_since?: Instant;
}
export interface Board { place: string; wheels: BoardWheel[] }
export interface BoardWheel { id: number; state: WheelStateWord }
// The trace of a day: the same mean that the alarm uses.
export interface Ribbon {
  from: Instant;
  to: Instant;          // now
  temperature: [Instant, number][];
  humidity: [Instant, number][];
  bands: { from: Instant; temperature?: Span; humidity?: Span }[];   // steps
  marks: { at: Instant; kind: "round" | "door" }[];
}
export interface Probe {
  id: number;
  name: string;
  topic: string;
  channels: { id: number; kind: string; latest?: number; latest_at?: Instant }[];
  silent: boolean;
  invalid: number;      // payloads that could not be read
  invalid_last?: { at: Instant; topic: string; first_bytes: string; why: string };
}

// ---- GET /api/wheels, GET /api/wheels/{id} ----
export interface Wheels { head: Head; wheels: Wheel[]; gone: number }
export interface Wheel {
  id: number;
  name: string;         // "Bloomy 3"
  lot: string;
  family: string;
  plan: { id: string; version: number };
  rind: RindWord;
  cave?: number;
  place: string;
  grams?: number;
  age: number;          // days since made
  made: Day;
  counts_from: { start: StartWord; day: Day; reckoned: boolean };
  day: number;          // of the part
  stage: string;
  state: WheelStateWord;
  past_plan: boolean;
  next?: { kinds: CareKind[]; due: Day; late_since?: Day };
  ready?: { from: Day; to: Day };
}
export interface WheelPage {
  head: Head;
  wheel: Wheel;
  stages: { name: string; state: WheelStateWord; from: Day; to?: Day; temperature?: Span; humidity?: Span;
            target_temperature?: Span; target_humidity?: Span; cares: string[] }[];   // past, present, to come
  cares: { at: Instant; day: Day; kinds: CareKind[]; skipped: CareKind[]; reason?: string; keeper?: string;
           id: string; undone: boolean; before_watch: boolean }[];
  next: { kinds: CareKind[]; due: Day; window_end: Day }[];
  climate: { day: Day; low: number; high: number }[];       // air temperature where it lay; no entry: no reading
  excursions: { kind: AlarmWord; from: Instant; to?: Instant; extreme: number; what?: string }[];
  cautions: string[];
  entered: Instant;     // before it: before the watch
}

// ---- GET /api/journal?before=POSITION ----
export interface Journal { head: Head; lines: JournalLine[]; older: boolean }   // oldest first
export interface JournalLine {
  position: number;
  id: string;
  at: Instant;
  received_at: Instant;
  kind: "care" | "undo" | "enter" | "answer" | "take" | "called" | "probe" | "unhang" | "note" | "move" | "gone" | "limits"
      | "alarm" | "started" | "stopped" | "cave" | "aside";
  keeper?: string;
  late_entry: boolean;
  undone: boolean;
  cave?: number;
  cave_name?: string;
  place?: string;
  count: number;        // of wheels
  lot?: string;
  family?: string;
  // what the kind needs, and no more
  done?: CareKind[];
  skipped?: CareKind[];
  reason?: string;
  of?: { kind: string; at: Instant; done?: CareKind[] };   // of an undo
  start?: StartWord;
  day?: Day;
  option?: string;
  text?: string;
  topic?: string;
  alarm?: { id: string; kind: AlarmWord; severity: SeverityWord; change: "raised" | "severity" | "back" | "over";   // back: the time it was set aside for has passed
            since: Instant; extreme: number; dose: number; value: number; probe?: string; band?: Span; found_later: boolean };
  unwatched?: { from: Instant; to: Instant };   // of a start
  what?: string;
}

// ---- GET /api/plans: what can be ripening ----
export interface Plans { head: Head; plans: PlanOffer[]; caves: { id: number; kind: CaveKind; name: string; inside?: number }[] }
export interface PlanOffer {
  id: string;
  version: number;
  family: string;
  rind: RindWord;
  rind_words: string;
  // each later part: what it counts from, and after how many days it usually begins (counted from the part before)
  parts: { start: StartWord; question: string; usual_low?: number; usual_high?: number; cares: CareKind[] }[];
  cares: CareKind[];    // of the whole plan
  cautions: string[];
}

// ---- GET /api/arriving: the topics that are arriving ----
export interface Arriving { head: Head; connected: boolean; broker: string; topics: ArrivingTopic[] }
export interface ArrivingTopic {
  topic: string;
  sample: string;       // first bytes, escaped
  at: Instant;
  count: number;
  routed?: { probe: string; cave_name?: string };
  // what the daemon can read in the sample: a plain number has the pointer ""
  values: { pointer: string; value: number; guess?: "temperature" | "humidity" | "battery" | "weight" | "time" }[];
}

// ---- POST /api/acts, header Sent-At: UTC milliseconds by the phone ----
// 200 AckedAct; 409 the id is known with another body; 422 with `error`: never taken; 503 the store refuses: keep the act
// and those behind it; any other: keep the act, send it again later, and go on with those behind it.
export interface ActBase {
  id: string;           // 32 hexadecimal digits by getRandomValues
  tapped_at: Instant;   // by the phone's clock
  said_at?: Instant;    // the earlier time that the keeper names
  keeper?: string;
}
export type Act = ActBase &
  (
    | { kind: "care"; wheels: number[]; done: CareKind[]; skipped: CareKind[]; reason?: string }
    | { kind: "undo"; of: string; wheels?: number[] }
    | { kind: "answer"; wheels: number[]; start: StartWord; day?: Day; move_to?: WhereNow }   // yes; "not yet" is not sent
    | { kind: "answer"; wheels: number[]; option: string }                                     // of a branch
    | EnterAct
    | { kind: "take"; alarm: string }
    | { kind: "called"; alarm: string; what: string }      // what it was: door, defrost, delivery, plant, probe, power, other
    | { kind: "aside"; alarm: string; until: Instant }
    | ProbeAct
    | { kind: "unhang"; probe: number }
    | { kind: "move"; wheels: number[]; to: WhereNow }
    | { kind: "gone"; wheels: number[]; how: string }      // eaten, sold, given, lost
    | { kind: "limits"; cave: number; temperature?: Span; humidity?: Span }
    | { kind: "cave"; cave: number; name: string }
    | { kind: "note"; text: string; cave?: number; wheels?: number[] }
  );
export type WhereNow =
  | { cave: number; shelf?: string }
  | { new: { kind: CaveKind; name?: string; inside?: number | { kind: CaveKind; name?: string } }; shelf?: string };
export interface EnterAct {
  kind: "enter";
  plan: string;
  made: Day;
  count: number;
  grams?: number;       // of one wheel
  lot?: string;
  where: WhereNow;
  // starts of later parts that lie behind: "entered box" on a day, reckoned from the plan's usual length or seen
  starts: { start: StartWord; day: Day; reckoned: boolean }[];
  // "last turned? washed?": today, yesterday, some days ago; what is not known is left out
  last: { kind: CareKind; day: Day }[];
}
export interface ProbeAct {
  kind: "probe";
  name: string;
  topic: string;        // a topic filter
  format: "plain" | "json";
  time_pointer?: string;
  channels: { kind: "temperature" | "humidity" | "wheel temperature" | "battery" | "weight"; pointer: string;
              unit?: "celsius" | "fahrenheit" | "kelvin" | "percent" | "fraction" | "gram" | "kilogram" }[];   // none: the usual one
  where: WhereNow;
}
export interface AckedAct { id: string; position: number; at: Instant; late_entry: boolean; wheels?: number[]; cave?: number; probe?: number }
export interface ApiError { error: { what: string; field?: string; expected?: string; found?: string; do?: string } }

// ---- GET /api/events: text/event-stream. The page asks the place it shows again. ----
// event: "clock" {now, speed} each 10 real seconds; "round" | "caves" | "wheels" | "journal" | "alarms" {now};
// "reload" when the ids are too old to resume.
export interface ChangeEvent { now: Instant; speed: number }

// What the daemon answers under /api/, as openapi.yaml describes it. Instants are UTC milliseconds, dates are the
// keeper's days as "2026-11-25". The page never uses its own clock for what it shows.

export type Instant = number;
export type Day = string;

export type CareKind =
  | "turn" | "wash" | "brush" | "pat" | "rub" | "salt" | "wipe" | "oil" | "coat" | "wax" | "bandage" | "pierce" | "wrap"
  | "move" | "look" | "weigh" | "taste";
export type FaultWord =
  | "crack" | "slime" | "blue spot" | "bulge" | "mite dust" | "soft" | "sticks" | "smell" | "something else";
export type CaveKind = "counter" | "box" | "fridge" | "room";
export type CaveStateWord = "in band" | "drifting" | "out of band" | "unknown" | "not watched";
export type WheelStateWord =
  | "drying" | "rind forming" | "ripening" | "ready" | "holding" | "released" | "gone";
export type RindWord = "fresh and white" | "natural and pressed" | "washed" | "blue";
export type StartWord =
  | "made" | "salted" | "dry" | "entered box" | "entered cave" | "entered cold store" | "pierced" | "wrapped" | "waxed";
export type AlarmWord =
  | "too warm" | "too cold" | "too dry" | "too damp" | "probe silent" | "condensation" | "probe stuck" | "probe wet"
  | "probes disagree" | "battery low" | "plant weak" | "door open" | "power gone" | "carbon dioxide" | "ammonia"
  | "humidifier dry" | "drain blocked" | "unwatched";
// By which rule it rang.
export type WhyWord =
  | "band" | "dose" | "plan step" | "not turning" | "not turning yet" | "wheel" | "one probe" | "ready cheese" | "below normal" | "slow fall" | "day mean up" | "runs on"
  | "stands still" | "after round" | "contact" | "together" | "everywhere" | "only the watch" | "warmed meanwhile" | "unheard"
  | "freezes soon";
export type EndingWord = "returned" | "inside" | "struck" | "taken down" | "asked otherwise" | "not asked" | "not known";
export type SeverityWord = "hint" | "watch" | "act" | "urgent";

// ---- every place opens with the same head ----
export interface Head {
  now: Instant;
  speed: number;        // 1; more in a trial: the page shows the clock and says so
  trial: boolean;       // invented data on a clock of its own; every screen says so
  open: boolean;        // anyone on the network can write until there is sign-in
  zone: string;         // IANA, for showing instants with Intl.DateTimeFormat
  day: Day;             // the keeper's day now
  day_turn?: number;    // the hour on the wall at which it began; 4 unless said
  event: string;        // id of the newest event: open /api/events?after= with it
  empty: boolean;       // no wheel yet: ask the first question
  sentence: string;     // how things stand: "Five left. Box 1 drifts damp."
  alarms: Alarm[];      // what rings first, the most severe before; then what lasts quietly, what is taken, what is over and nobody has seen
  troubles: Trouble[];
}
// What is wrong with the watch itself, said once, in words.
export interface Trouble {
  kind: "store" | "broker" | "clock" | "topic" | "notices";   // the text says it all; the page tells no kind from another
  since: Instant;
  text: string;         // "The disk is full: readings are refused. Free some space."
  more?: string;        // beside what is wrong and what to do
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
  over?: Instant;       // when its end was decided
  back_since?: Instant; // of one that is over: since when it was back, where an off-delay was waited for
  ending?: EndingWord;  // of one that is over
  aside_until?: Instant;
  value?: number;       // the mean: degrees Celsius or percent
  trend?: 1 | -1;       // of the mean now: rising, falling
  inside?: true;        // the air had left its band and is well within it again, while the alarm lasts
  inside_since?: Instant; // the air is back in its band since then
  ends_at?: number;     // the air is back in its band, and the mean has to come to this before it can end
  day_mean?: string;    // of a mean of the day that is up: that mean, the air of now and its band, in a sentence
  freezes?: string;     // of air that is too cold and falls: in how long it is at freezing at this pace, in a sentence
  warnings?: string[];  // what has to be known before any step; of people first
  grade?: "unknown" | "low" | "watch" | "act" | "urgent"; // of gas, while it lasts: how bad it is now
  worse_beside?: true;  // of gas, while it lasts: another gas is worse there, and its steps are the ones to follow
  here_by?: string[];   // of gas and of what darkens it, while it lasts: who may be in it; empty: somebody without a name
  darkens_gas?: true;   // while it lasts nobody knows the gas where people go in by its probe
  eases?: true;         // while it lasts: the air is out of its band and on its way back
  still_out?: string[]; // then: boxes inside the cave that follow later
  extreme?: number;
  dose?: number;        // degree-hours or point-hours
  band?: Span;
  band_for?: string;    // who asks for it, where another alarm of the place is told against another band
  wheels: { count: number; family: string; cave_name: string; state: WheelStateWord }[];
  first: string[];      // the first three things to do
  found_later: boolean; // decided at a start, after nobody had watched
  unseen?: true;        // ended only because the rules of now, newer than those that raised it, do not see it
  what?: string;        // what it was, once a keeper said so
  why?: WhyWord;        // by which rule it rang
  // How long until it matters if nothing changes, ms from now, soonest first; 0: already; no latest: perhaps never.
  matters?: { soonest: number; latest?: number; wheels: { count: number; family: string }[] }[];
  uncounted?: Day[];    // too cold to count towards a qualifying age; empty: over, none is lost, and wheels with such an age were touched
  before?: number;      // power, unwatched: the air before
  warmest?: number;     // and the warmest that a wheel can have become
  edges?: string;       // of a silence or a power cut that is over: what the air before and after says of the plant
  ended_by?: string;    // why it is over where its air did not come back by enough, in sentences
  unwatched?: { from: Instant; to: Instant };   // of a silent probe: nobody watched then, the last time but for the next
  unwatched_first?: { from: Instant; to: Instant };   // of one whose next word was due when nobody watched: that time
  told_since?: Instant; // and since when somebody watches, and it is silent
  quiet?: boolean;      // by design, while somebody is there or the probe is wet
  told_by?: string;     // the alarm that tells of the same event: that one is taken and named
  teller?: { id: string; kind: AlarmWord; why: WhyWord; cave_name: string };   // that one, or the one that tells of it in its turn
  cause?: "humidifier dry" | "drain blocked";   // of dry or damp air, by a contact's word
  said?: { probe: string; kind: "temperature" | "humidity"; value: number }[];   // probes that contradict each other: who says what
  remark?: string;      // what was done about it, beside what it was
  taken_by?: string;    // where keepers have names: whose taking arrived first
  // While it lasts: others whose taking arrived after that one, when they tapped and when it arrived (none: not yet).
  also_took?: { keeper: string; at: Instant; arrived?: Instant }[];
  // Those that it touches or comes to, the first first; soonest and latest as in matters, counted from as_of.
  as_of?: Instant;
  concerns: { count: number; family: string; cave_name: string; state: WheelStateWord; grams?: number; own?: number; keep?: Span; as_before?: true; past?: Span; soonest?: number; latest?: number }[];
}

// ---- GET /api/alarms/{id}: one alarm, standing or long over; the address that a notice links to is /alarms/{id} ----
export interface AlarmPage {
  head: Head;
  alarm: Alarm;
  cave?: Cave;          // its ribbon ends now or, of one that is over, some hours after; gone with the cave
  journal: JournalLine[];   // the lines about it
  of_power: boolean;    // the first of its kind: says what a watcher on the fridge's own plug cannot know
}
// ---- GET /api/alarms: those of the last 90 days that are over, the newest first; what stands is in the head ----
export interface AlarmsPage {
  head: Head;
  past: Alarm[];
  // How the alarms of the last month did: "It rang 3 times: 2 real, 1 door."
  month: { cave: number; cave_name: string; rang: number; watch: number; sentence: string }[];
}

// ---- GET /api/caves/{id}/limits: every limit and delay of a cave, with where it comes from ----
export interface LimitsPage {
  head: Head;
  cave: { id: number; name: string; kind: CaveKind };
  band: { temperature?: Span; humidity?: Span };    // in force
  typed: { temperature?: Span; humidity?: Span };   // by a keeper; none: that of the stages
  ready_cheese: boolean;
  rows: { id: string; unit: string; value: number; usual: number; least: number; most: number; source: string }[];
  out_of_service: AlarmWord[];
}
// ---- POST /api/caves/{id}/limits/trials begins to try limits on the last three months: {trial} ----
// What is left out is as it was; of_wheels: their own band again, whatever was typed; judged: again.
export interface TriedLimits { temperature?: Span; humidity?: Span; of_wheels?: ("temperature" | "humidity")[]; settings?: Record<string, number>; off?: AlarmWord[]; judged?: AlarmWord[]; ready_cheese?: boolean }
// ---- GET /api/limits/trials/{trial} ----
export interface LimitsTrial {
  done: boolean;
  why?: string;         // nothing came of it
  from?: Instant;
  to?: Instant;
  then?: number;        // how often it rang
  now?: number;         // how often it would have
  // Of those that rang, by what the keeper called them, how many would still have; fresh: would have where nothing rang.
  compared?: { real: Retold; called: Record<string, Retold>; unsaid: Retold; fresh: number };
  sentence?: string;    // all of it in the keeper's words
}
export interface Retold { rang: number; still: number }
export interface Span { low: number; high: number; source?: string }

// ---- GET /api/round, ?date=DAY for another day, ?minutes=N for a short one, ?at=INSTANT as it stood then ----
export interface Round {
  head: Head;
  besides?: string;     // of what gas bars, and of places that drift, have left their band or are unknown
  day: Day;             // whose round it is
  expected: boolean;    // a day to come, as a perfect keeper would find it: nothing can be signed
  lines: RoundLine[];   // in working order: due and late, and what was settled today where it stands
  questions: RoundQuestion[];
  sections: RoundSection[];   // in working order; lines and questions name theirs
  minutes: number;      // of what is left, changes of gloves counted in
  bring: Bring;         // for what is left
  short?: ShortRound;   // of ?minutes=
  // The first of at least three days without a line: each wheel stands once, at today's stage; one tap settles the past.
  quiet_since?: Day;
  coming: { day: Day; minutes: number; lines: { place: string; kinds: CareKind[]; count: number; lot: string; minutes: number }[] }[];
  shares: { keeper: string; caves: number[]; lines: string[] }[];   // who took which part of it; lines by key
  next?: { day: Day; from?: Instant; lines: { place: string; kinds: CareKind[]; count: number }[] };  // the next day with work
  // may be done today, due later; with the wheels it is one tap
  open: { place: string; kinds: CareKind[]; due: Day; cave: number; wheels: number[]; lot: string; family: string }[];
}
// What is worked with the same gloves, cloth and wash. The first has no change before it.
export interface RoundSection {
  rind: RindWord;
  marked: boolean;      // wheels with a mark, last of all
  change: ("gloves" | "cloth" | "wash" | "brush" | "mask")[];   // before it; empty for the first
  minutes: number;      // of the change
}
export interface Bring {
  // One mixing for each age group that is washed: never from old to young.
  washes: { salt_grams: number; water_ml: number; total_grams: number; percent: number; additions: { name: string; ml: number }[];
            wheels: number; places: string[]; note: string }[];
  cloths: number;
  tools: ("soft brush" | "brush" | "own brush" | "needle" | "oil" | "wax" | "paper" | "scale" | "trier" | "dry boards" | "salt")[];
  two_people: boolean;  // a line of today asks for two
  mask: boolean;        // mite dust: FFP2
}
export interface ShortRound {
  minutes: number;      // asked for
  used: number;         // minutes of what is in it
  all: number;          // of the whole round
  keys: string[];       // the lines in it, in working order
  moved: { key: string; to: Day; window_end: Day; leaves_window: boolean }[];
  bring: Bring;         // for these lines alone
}
export interface RoundLine {
  key: string;          // stable while the line is the same: its element
  section: number;      // index into sections
  minutes: number;      // in hundredths; learned from this house's own ticks, else the trade's usual ones
  numbers: number[];    // parallel to wheels: counted from the door on its board
  two_people: boolean;  // by weight and shelf
  barred?: "gas" | "power";  // today: nobody goes in; it is kept shut
  then?: Span;          // what it wants once this is done, where that is quite another warmth
  look_first: ("slimy" | "stuck" | "dry" | "dusty" | "soft")[];   // after so long
  new_cadence?: string; // announced once: "now twice a week"; of the plan's words
  marked?: FaultWord;   // what was seen; in a marked section why these wheels come last
  found_at?: { what: FaultWord; place: string }[];   // agreed at a fault of other wheels: what was found, and where
  held: boolean;
  cut: number;          // how many of them are cut: no wash on the cut face
  rind: RindWord;
  cave: number;
  cave_name: string;
  place: string;        // what stands in the margin: the board's name, else the cave's
  wheels: number[];
  lot: string;          // empty where the lot does not show
  lot_here: number;     // wheels of the lot on this shelf; more than the line's: a part of them, told by their numbers
  family: string;
  day: number;          // of the part
  since?: StartWord;    // in the first days of a part that is not the first: what they are counted from
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
  section: number;
  before?: string;                         // key of the line before which it stands; none: behind all lines
  usual?: { low: number; high: number };   // "usually 2 to 3 days"
  ready?: { from: Day; to: Day };          // of a branch: eaten young it is ready from ... to
  cave: number;
  place: string;
  wheels: number[];
  lot: string;
  family: string;
  day: number;
  since?: StartWord;    // as of a line
  wheel_state: WheelStateWord;
  kind: "start" | "branch";
  text: string;         // "Dry to the touch?"
  start?: StartWord;    // what a yes names
  options?: string[];   // of a branch
  // a start that is a move asks where to: the caves it may be
  where?: { cave: number; cave_name: string }[];
}

// ---- GET /api/caves, GET /api/caves/{id} ----
export interface Caves { head: Head; sentences: { text: string; alarm?: string }[]; caves: Cave[] }   // "Box 1 drifts damp.", "Fridge keeps its band."
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
  held?: { from: Instant; to: Instant }[];  // likewise: kept by a clock that was not believed yet, and not judged
  // Likewise unknown: the probe that spoke was stuck or wet, and no other one told of this channel.
  doubts?: { from: Instant; to: Instant; channel: "temperature" | "humidity"; kind: "probe stuck" | "probe wet"; probe: string }[];
  does_not_suit: { count: number; family: string; lot: string; place: string }[];   // lot: empty where it does not show
  // Whose target the band in force does not hold; then the channel has no target of all.
  wants?: { channel: "temperature" | "humidity"; target: Span; wheels: { count: number; family: string }[] }[];
  ribbon: Ribbon;
  here_until?: Instant;     // somebody said "I am here"
  here_by?: string[];       // who, where keepers have names; the last who said so last
  quiet_until?: Instant;    // that, or a door or a tick of a moment ago
  gas?: { kind: "carbon dioxide" | "ammonia"; latest?: number; latest_at?: Instant; speaks: boolean; grade: "unknown" | "low" | "watch" | "act" | "urgent"; bars?: true; watch: number; act: number; urgent?: number }[];   // ppm
  plant_cycle?: { minutes: number; swing: number };   // of the last hour and a half
  out_of_service?: AlarmWord[];
  ready_cheese?: boolean;   // finished cheese lies here: cold is the rule
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
  target?: Span;        // what all wheels here want, where the band holds it
  band?: Span;
  silent_since?: Instant;
  out_by?: Instant;     // when what drifts leaves its band if it goes on so
  unknown_why?: string; // "since 01:40: probe Shelf stuck", of what is unknown
  odds?: Span;          // its probes contradict each other: what the lowest and the highest say; no mean then
}
export interface Board { place: string; wheels: BoardWheel[] }
export interface BoardWheel {
  id: number;
  state: WheelStateWord;
  number: number;       // from the door
  lot: number;
  marked: boolean;
  held: boolean;
  cut: boolean;
}
// The trace of a day: the same mean that the alarm uses.
export interface Ribbon {
  from: Instant;
  to: Instant;          // now
  temperature: [Instant, number][];
  humidity: [Instant, number][];
  bands: { from: Instant; temperature?: Span; humidity?: Span }[];   // steps
  // A round is a tick; the others are shapes of the air that the watch knows.
  marks: { at: Instant; until?: Instant; kind: MarkWord }[];
  // The temperature in the next hours if nothing changes, while it rises away from its usual.
  ahead?: { at: Instant; low: number; high: number }[];
}
export type MarkWord = "round" | "door" | "defrost" | "delivery" | "your round" | "warmed" | "plant cycle";
export interface Probe {
  out_of_service?: { since: Instant; why?: string };   // it hangs here and is not judged
  id: number;
  name: string;
  topic: string;
  channels: { id: number; kind: string; latest?: number; latest_at?: Instant }[];
  silent: boolean;
  invalid: number;      // payloads that could not be read
  invalid_last?: { at: Instant; topic: string; first_bytes: string; why: string };
}

// ---- GET /api/wheels, GET /api/wheels/{id} ----
export interface Leaving { at: Instant; how: string; to?: string }
// ---- GET /api/gone ---- the last that left first
export interface GoneWheels { head: Head; wheels: { id: number; name: string; lot: string; family: string; gone: Leaving }[] }
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
  since?: StartWord;    // in the first days of a part that is not the first: what they are counted from
  stage: string;
  state: WheelStateWord;
  past_plan: boolean;
  next?: { kinds: CareKind[]; due: Day; late_since?: Day };
  ready?: { from: Day; to: Day; young?: { from: Day; to: Day } };   // young: of the other road, while nobody chose
  lot_id: number;
  number: number;       // from the door on its board
  held?: { at: Instant; why: string };
  marks: { what: FaultWord; at: Instant; look_again?: Day; act: string }[];
  left: number;         // of a whole wheel, 1 if uncut
  cut_at?: Instant;
  own_band?: { temperature?: Span; humidity?: Span };
  branch?: { option: string; options: string[]; default: boolean };   // of the part: may be changed, forwards only
  qualifying?: Qualifying;
  gone?: Leaving;       // how it left: no care and no ready window any more
}
// Days that count for the law, by a rule that the keeper typed.
export interface Qualifying {
  rule: QualifyingRule;
  proven: number;
  vouched: number;
  missing: number;
  unproven: number;
  not_counting: number; // days of a state that the rule or the plan leaves out
  counted: number;      // proven and vouched
  of: number;
  earliest?: Day;       // if nothing goes wrong
  reached: boolean;
  lawful_after_ready: boolean;   // the ready window closes before the lawful date
  days: { day: Day; is: "proven" | "vouched" | "missing" | "unproven" | "not counting"; low?: number }[];   // from the start event on
  vouches: { act: string; from: Day; to: Day; name: string; reason: string }[];
  released?: { at: Instant; act: string; override?: { name: string; reason: string } };
}
export interface QualifyingRule {
  name: string;         // "60 days at 1.7 °C or more"
  start: StartWord;
  min_celsius?: number; // none: any temperature
  min_days: number;
  min_months?: number;  // by the calendar, where the rule says months; then min_days is 0
  not_counting: WheelStateWord[];   // days in these states do not count: "drying"
  vouching: boolean;    // may an unproven day be vouched for?
  typed_by?: string;
  typed_at?: Instant;
}
export interface WheelPage {
  head: Head;
  wheel: Wheel;
  stages: { name: string; state: WheelStateWord; from: Day; to?: Day; on_word?: boolean; family?: string; temperature?: Span; humidity?: Span;
            target_temperature?: Span; target_humidity?: Span; cares: string[] }[];   // past, present, to come
  cares: { at: Instant; day: Day; kinds: CareKind[]; skipped: CareKind[]; reason?: string; keeper?: string;
           id: string; undone: boolean; before_watch: boolean;
           not_written: boolean }[];   // "forgot, all fine": done on its day, at an hour that nobody said
  next: { kinds: CareKind[]; due: Day; window_end: Day }[];
  not_done: { kinds: CareKind[]; due: Day }[];              // asked once, and its stage ended before
  climate: { day: Day; low: number; high: number }[];       // air temperature where it lay; no entry: no reading that is believed
  bands: { from: Instant; temperature?: Span }[];           // what was tolerated around it, the last one in force
  unknown: { from: Instant; to: Instant }[];                // no reading of its air that is believed
  outside?: { since: Instant; side: -1 | 1; mean: number; band: Span };   // its air is out of its band, for hours
  excursions: { kind: AlarmWord; why?: WhyWord; from: Instant; to?: Instant; beyond?: number; extreme: number; what?: string; uncounted?: Day[] }[]; // beyond: of air, ms, for how long of it the air was out; uncounted: too cold to count towards its qualifying age
  cautions: string[];
  entered: Instant;     // before it: before the watch
  grams_at_entry?: number;   // what it began with; the wheel's grams are those of the newest weighing
  weighings: { at: Instant; day: Day; grams: number }[];   // oldest first; undone ones left out
}

// ---- GET /api/journal?before=POSITION ----
export interface Journal { head: Head; lines: JournalLine[]; older: boolean }   // oldest first
export interface JournalLine {
  position: number;
  id: string;
  at: Instant;
  received_at: Instant;
  kind: "care" | "undo" | "enter" | "answer" | "take" | "called" | "probe" | "unhang" | "note" | "move" | "gone" | "limits"
      | "alarm" | "started" | "stopped" | "leapt" | "cave" | "aside" | "fault" | "hold" | "cut" | "split" | "band" | "plan"
      | "plan text" | "away" | "past" | "vouch" | "release" | "rule" | "order" | "calendar" | "share" | "keeper" | "feed"
      | "hearing" | "here" | "out" | "watching" | "service" | "later";
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
  of?: { kind: string; at: Instant; done?: CareKind[]; place?: string };   // of an undo
  start?: StartWord;
  day?: Day;
  option?: string;
  text?: string;
  goes_on?: true;   // of a taking: it follows the alarm to the name that the rules of now give it
  topic?: string;
  alarm?: { id: string; kind: AlarmWord; severity: SeverityWord; change: "raised" | "severity" | "back" | "stays" | "quieted" | "over";   // back: the time it was set aside for has passed
            since: Instant; extreme: number; dose: number; value: number; why?: WhyWord; probe?: string; band?: Span; found_later: boolean; over?: Instant; back_since?: Instant; before?: number; warmest?: number; ending?: EndingWord; unseen?: true; told_by?: string; told_since?: Instant };
  unwatched?: { from: Instant; to: Instant };   // of a start, or of a clock that went on by far more than time did
  misdated?: { at: Instant; keeper?: string }[]; // of such a start: acts that bear a time of the wrong clock
  ahead_until?: Instant;                         // of a start, when the machine's clock was set back
  what?: string;        // a hold: "held", "let go"; a keeper: "comes", "leaves"; a feed: "open", "shut"; an order: "caves", "shelves"
  to?: Day;             // the last day of a span; of an absence the first day there again
  left_out?: { count: number; why: string };   // of a care: wheels of its line that stay due
  grams?: number;       // of a weighing
  of_count?: number;    // of a fault: how many lie there
  share_left?: number;  // of a cut
  until?: Instant;      // of what was set aside
  version?: number;     // of a plan; `text` is its family
  days?: number[];      // care days, 1 Monday to 7 Sunday
  temperature?: Span;   // a band of their own
  humidity?: Span;
  limits?: LimitsChange;   // of limits, watching
}
// Only what differs from what held before. A band that is left out: that of the wheels.
export interface LimitsChange {
  temperature?: { was?: Span; now?: Span };
  humidity?: { was?: Span; now?: Span };
  settings?: { id: string; unit: string; was: number; now: number }[];
  struck?: AlarmWord[];    // judged here no more
  judged?: AlarmWord[];    // and again
  ready_cheese?: boolean;  // from now on
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

// ---- GET /api/plans/{id}/{version}: one plan, whole ----
export interface PlanPage {
  head: Head;
  plan: PlanText;
  versions: { version: number; at?: Instant; keeper?: string; wheels: number }[];
  wheels: number[];     // that follow this version
}
export interface Figure { low: number; high: number; source: string }
export interface PlanText {
  id: string;
  version: number;
  family: string;
  rind: RindWord;
  text: string;         // the file itself
  ready?: Figure & { counted_from: StartWord };
  cautions: string[];
  parts: { start: StartWord; question: string; usual_days?: Figure; stages: PlanStage[];
           branch?: { question: string; asked_from: number; default_option: string; options: { name: string; ready?: Figure; stages: PlanStage[] }[] } }[];   // ready: of the road, else the plan's
}
export interface PlanStage {
  name: string;
  state: WheelStateWord;
  first_day: number;
  last_day?: number;
  counts: boolean;
  temperature_target?: Figure;
  temperature_band?: Figure;
  humidity_target?: Figure;
  humidity_band?: Figure;
  source: string;
  cares: PlanCare[];
}
export interface PlanCare {
  kinds: CareKind[];
  brings: CareKind[];
  every_days?: number;
  times_a_week?: number;
  on_day?: number;
  morning_and_evening?: boolean;
  tolerance?: number;
  note: string;
  source: string;
  wash?: { salt: Figure; additions: { name: string; ml_per_litre: number; source: string }[]; note: string };
  cautions: string[];
}
// One change of a plan. `option`: of the branch; `care`: its place in the stage; without it the stage itself is meant.
export interface PlanEdit {
  part: number;
  option?: string;
  stage: number;
  care?: number;
  set?: { temperature_band?: Span; humidity_band?: Span; temperature_target?: Span; humidity_target?: Span; last_day?: number;
          every_days?: number; times_a_week?: number; on_day?: number; morning_and_evening?: true; tolerance?: number; note?: string;
          salt?: Span; ready?: Span };   // ready: days, of the road named, else of the plan
  add?: { kinds: CareKind[]; brings?: CareKind[]; every_days?: number; times_a_week?: number; on_day?: number; salt?: Span };
  remove?: true;
  why?: string;         // becomes the source of the changed figure
}
// ---- POST /api/plans/preview {plan, version, edits | text, wheel}: what a change would do; keeps nothing ----
export interface PlanPreview {
  head: Head;
  text: string;         // the new version's file
  faults: { line: number; field: string; what: string }[];
  before: PreviewDay[]; // this wheel's next 30 days
  after: PreviewDay[];
  minutes_before: number;
  minutes_after: number;
  changed: string[];    // in words: "brush, turn: every 7 days, was 14"
  same: boolean;        // not a figure, a word or a source differs from the version that was named
}
export interface PreviewDay { day: Day; kinds: CareKind[] }

// ---- GET /api/away?from=DAY&back=DAY (back is the first day there again), &caves=1,2 ----
export interface AwayPlan {
  head: Head;
  from: Day;
  back: Day;
  visits: { day: Day; minutes: number; lines: HelperLine[] }[];   // the fewest that keep every wheel inside its windows
  lanes: { place: string; cave: number; windows: { from: Day; to: Day; kinds: CareKind[]; visit?: Day }[] }[];
  without: { place: string; until: Day }[];                       // who can do without a visit, and until when
  no_visit: { place: string; what: string; harm: "slime" | "sticks" | "dries" | "cracks" | "late" }[];   // what happens with none
  // before you leave; what a care is signed for are its wheels, and a lid is a note of its cave
  before: { place: string; cave: number; kinds: CareKind[]; wheels: number[]; count: number; minutes: number; lid?: boolean }[];
  normal: string[];     // what is normal, by family: keys of the words file
  marked: { act: string; from: Day; back: Day; caves: number[] }[];   // absences that are written in the book
}
export interface HelperLine { place: string; cave_name: string; box: boolean; rind: RindWord; age_group: number; kinds: CareKind[]; count: number }
// ---- GET /api/returned?from=DAY&back=DAY: while you were away ----
export interface Returned {
  head: Head;
  from: Day;
  back: Day;
  done: { at: Instant; keeper?: string; kinds: CareKind[]; place: string; count: number }[];
  not_visited: { place: string; kinds: CareKind[]; count: number; due: Day }[];   // (away), not late
  caves: { cave: number; name: string; low?: number; high?: number; unknown_hours: number }[];
  alarms: { kind: AlarmWord; why?: WhyWord; cave_name: string; from: Instant; to?: Instant; extreme: number; what?: string }[];
  questions: number;
}

// ---- GET /api/ahead?weeks=N, &wanted=DAY: which wheels are ready in which week; minutes for each day ----
export interface AheadPage {
  head: Head;
  weeks: { monday: Day; minutes: number[];   // of each day, Monday first; -1: past
           ready: { wheels: number[]; lot: string; family: string; from: Day; to?: Day; young: boolean }[];
           eat_by: { wheels: number[]; lot: string; family: string; by: Day }[] }[];
  busiest?: { day: Day; minutes: number };
  wanted?: { day: Day; ready: number; past: number; make: { plan: string; family: string; from: Day; to: Day; young: boolean; possible: boolean }[] };
}
// ---- GET /api/fit?plan=ID&cave=N&made=DAY: who would not suit whom, before a wheel is entered ----
export interface Fit {
  head: Head;
  shared: { temperature?: Span; humidity?: Span };   // what all could keep; none: nothing is left
  costs: FitCost[];
  later: (FitCost & { from: Day })[];   // by the stages to come, because it lies there
  advice: string[];     // "a box of its own"; blue: its own shut box and the last place in the round
  lawful_after_ready: boolean;
}
// `where`: the caves in which they lie; of the newcomer none.
export interface FitCost { family: string; count: number; where: string[]; channel: "temperature" | "humidity"; by: number; newcomer: boolean; what: string }
// ---- GET /api/faults: what can be seen, felt, smelt, and what the trade does now ----
export interface Faults { head: Head; faults: FaultText[] }
// Of a rind there may be several, by age: the one whose ages hold the wheel's is meant.
export interface FaultText {
  what: FaultWord;
  rinds: { rind: RindWord; ages: { from: number; to?: number };   // days since made, both ends in it
           mask: boolean; sisters: boolean; neighbours: boolean;     // whom to look at again besides
           known: string; caution: string; now: { order: string; more?: string }[];
           then: { in_days: number; kinds: CareKind[]; instead_of?: CareKind[]; words: string }[];
           look_again_days: number; apart: boolean; hold: boolean }[];
}
// ---- GET /api/settings: what a keeper handles ----
export interface Settings {
  head: Head;
  keepers: string[];    // initials; empty: one keeper alone, no name is asked
  caves: { id: number; name: string; care_days: number[]; shelves: string[] }[];   // in the keeper's order
  by_room: boolean;     // finish one room before the next
  feed?: string;        // the secret address of the calendar, a path; none: not opened
  away: { act: string; from: Day; back: Day; caves: number[] }[];
}

// ---- GET /api/notices?before=NUMBER: who hears what and when, and what went out ----
export type Hour = string;    // "06:30"
export interface Hearer {
  name: string;         // initials; empty: who keeps alone
  rank: number;         // in which order they are asked to come
  mail: string[];
  webhooks: string[];   // by name
  least: SeverityWord;
  list: "work" | "daily" | "never";   // work: on days with work and on Sundays
  morning: Hour;
  evening: Hour | null;
  quiet: { from: Hour; to: Hour } | null;
  holidays: { from: Day; back: Day }[];
}
export interface Notice {
  number: number;
  at: Instant;
  hearer: string;
  way: "mail" | "webhook";
  address: string;
  kind: "rings" | "again" | "taken" | "over" | "morning" | "evening" | "leapt" | "test";
  state: "waiting" | "refused" | "handing" | "sent" | "folded" | "given up" | "doubtful" | "shown";
  tries: number;
  next_at?: Instant;
  done_at?: Instant;
  within?: number;      // the number of the notice that it went with
  why?: string;
  alarm?: string;
  subject: string;
}
export interface NoticesPage {
  head: Head;
  sends: boolean;       // false: a trial, which sends to nobody
  ways: {
    mail?: { server: string; from: string };
    webhooks: { name: string; host: string }[];
    bell?: string;      // the topic; none in a house without a broker
    page: string;       // where links lead to
    ping?: { host: string; minutes: number };
  };
  hearers: Hearer[];
  log: Notice[];        // newest first
  more: boolean;
}
// narrow: the same in 38 columns
export interface NoticeText extends Notice { head: Head; text: string; narrow: string }
// POST /api/notices/test {way, address}
export interface TestOutcome { outcome: "sent" | "not sent" | "doubtful"; what: string }

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
    // `left`: those of the line that were left out, and why; they stay due
    | { kind: "care"; wheels: number[]; done: CareKind[]; skipped: CareKind[]; reason?: string;
        left?: { wheels: number[]; why: string }; grams?: number    // grams: of one wheel that was weighed
        clears?: boolean }                                          // a look found that the fault is gone: its marks end
    | { kind: "undo"; of: string; wheels?: number[] }
    | { kind: "answer"; wheels: number[]; start: StartWord; day?: Day; move_to?: WhereNow }   // yes
    | { kind: "answer"; wheels: number[]; option: string }                                     // of a branch
    | { kind: "later"; wheels: number[]; question: string; start?: StartWord }   // not yet, decide later: asked again tomorrow, on every phone
    | EnterAct
    | { kind: "take"; alarm: string }
    // what it was: door, defrost, delivery, plant, probe, power, other; and what was done about it
    | { kind: "called"; alarm: string; what: string; remark?: string }
    | { kind: "aside"; alarm: string; until: Instant }
    | { kind: "here"; cave: number }   // quiet for an hour in the cave and around it: door, temperature, humidity below urgent
    | { kind: "out"; cave: number }
    | ProbeAct
    | { kind: "unhang"; probe: number }
    | { kind: "service"; probe: number; out: boolean; why?: string }   // out: it hangs there and is not judged
    | { kind: "move"; wheels: number[]; to: WhereNow }
    | { kind: "gone"; wheels: number[]; how: string; to?: string }   // eaten, sold, given, lost, not found
    // a fault at the shelf; agreed: its cares, "look again" here and at its neighbours and sisters
    | { kind: "fault"; what: FaultWord; wheels: number[]; of: number; note?: string; agreed: boolean; hold?: "wheels" | "lot" }
    | { kind: "hold"; wheels: number[]; held: boolean; why: string }
    | { kind: "cut"; wheels: number[]; left: number; how: string }   // left: of a whole wheel
    | { kind: "split"; wheels: number[]; lot: string }
    | { kind: "band"; wheels: number[]; temperature?: Span; humidity?: Span }   // none: the plan's again
    | { kind: "plan"; wheels: number[]; plan: string; version: number }
    | { kind: "plan text"; plan: string; version: number; edits?: PlanEdit[]; text?: string; copy_as?: string; wheels: number[] }
    | { kind: "away"; from: Day; back: Day; caves?: number[] }       // none: all
    | { kind: "past"; how: "away" | "all fine"; from: Day; to: Day } // days without a line, settled in one tap
    | { kind: "vouch"; wheels: number[]; from: Day; to: Day; name: string; reason: string }
    | { kind: "release"; wheels: number[]; override?: { name: string; reason: string } }
    | { kind: "rule"; wheels: number[]; rule?: QualifyingRule }      // none: no rule
    | { kind: "order"; caves: number[]; by_room: boolean }
    | { kind: "order"; cave: number; shelves: string[] }             // in walking order
    | { kind: "calendar"; cave: number; care_days: number[] }        // 1 Monday to 7 Sunday
    | { kind: "share"; day: Day; by: string; caves: number[]; lines: string[] }
    | { kind: "keeper"; name: string; leaves?: boolean }
    | { kind: "feed"; open: boolean }                                // a new secret address each time it is opened
    | ({ kind: "hearing"; leaves?: boolean } & Partial<Hearer>)      // what is left out is as it comes
    | { kind: "limits"; cave: number; temperature?: Span; humidity?: Span }
    // how the watch judges a cave, the whole of it: only what differs from the usual; kinds that are not judged (no gas)
    | { kind: "watching"; cave: number; settings: Record<string, number>; off: AlarmWord[]; ready_cheese: boolean }
    | { kind: "cave"; cave: number; name: string }
    | { kind: "note"; text: string; cave?: number; wheels?: number[] }
  );
export type WhereNow =
  | { cave: number; shelf?: string }
  | { new: { kind: CaveKind; name?: string; inside?: number | { kind: CaveKind; name?: string }; ready_cheese?: boolean }; shelf?: string };
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
  rule?: QualifyingRule;   // typed for the qualifying age of all of them
}
export interface ProbeAct {
  kind: "probe";
  name: string;
  topic: string;        // a topic filter
  format: "plain" | "json";
  time_pointer?: string;
  channels: { kind: "temperature" | "humidity" | "wheel temperature" | "door" | "plant power" | "carbon dioxide" | "ammonia" | "battery" | "weight" | "humidifier water" | "drain water"; pointer: string;
              unit?: "open is 1" | "shut is 1" | "water is 1" | "water is 0" | "celsius" | "fahrenheit" | "kelvin" | "percent" | "fraction" | "gram" | "kilogram" }[];   // none: the usual one
  where: WhereNow;
}
export interface AckedAct { id: string; position: number; at: Instant; late_entry: boolean; wheels?: number[]; cave?: number; probe?: number }
export interface ApiError { error: { what: string; field?: string; expected?: string; found?: string; do?: string } }

// ---- GET /api/events: text/event-stream. The page asks the place it shows again. ----
// event: "clock" {now, speed} each 10 real seconds; "round" | "caves" | "wheels" | "journal" | "alarms" {now};
// "reload" when the ids are too old to resume.
export interface ChangeEvent { now: Instant; speed: number }

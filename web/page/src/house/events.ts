// The stream of events, resumed where it broke; where it does not come back, asking at intervals.
import type { ChangeEvent } from "../api";
import { setClock } from "../clock";
import { ask, head, shown } from "./answers";
import { heard, listen, touch, unheard } from "./touch";

const kGather = 200;      // ms: several events in a row are one asking
const kAskAgain = 10_000; // ms between askings while no stream is open
const kCalm = 2_000;      // ms at least between two askings for readings

// Which addresses an event makes old. Every place carries the alarms in its head.
const kOld: Record<string, RegExp> = {
  round: /^\/api\/(round|away|ahead|returned|settings)/,
  caves: /^\/api\/(caves|alarms\/)/,
  wheels: /^\/api\/(wheels|plans|ahead|fit)/,
  journal: /^\/api\/(journal|caves\/)/,
  notices: /^\/api\/notices/,
  alarms: /./,
  reload: /./,
};

let source: EventSource | undefined;
const old = new Set<string>();
let gathering: ReturnType<typeof setTimeout> | undefined;
let last_asked = 0;
let returned: () => void = () => undefined;

/** Asks again for what is shown and named old. Journal pages above the first are history and stay. */
function askOld(): void {
  gathering = undefined;
  last_asked = performance.now();
  for (const path of shown) {
    if (path.includes("before=")) continue;
    if ([...old].some((name) => kOld[name]?.test(path))) void ask(path);
  }
  old.clear();
}

function becameOld(name: string): void {
  old.add(name);
  const wait = name === "caves" ? Math.max(kGather, kCalm - (performance.now() - last_asked)) : kGather;
  gathering ??= setTimeout(askOld, wait);
}

function onEvent(name: string, event: MessageEvent<string>): void {
  const was_away = !touch.value.in;
  if (name === "clock") {
    const clock = JSON.parse(event.data) as ChangeEvent;
    setClock(clock.now, clock.speed);
  }
  // Out of touch it is an answer that counts: a stream alone tells nothing of what is shown, and the time of the last
  // word stays until then.
  if (was_away) cameBack();
  else heard();
  if (name in kOld) becameOld(name);
}

function cameBack(): void {
  becameOld("reload");
  returned();
}

function open(): void {
  source?.close();
  const after = head.value?.event;
  source = new EventSource(`/api/events${after ? `?after=${encodeURIComponent(after)}` : ""}`);
  for (const name of ["clock", ...Object.keys(kOld)]) {
    source.addEventListener(name, (event) => onEvent(name, event as MessageEvent<string>));
  }
  source.onopen = () => {
    if (!touch.value.in) cameBack();
    else heard();
  };
}

/** Each interval: is the stream still there, and is what is shown still new? */
function look(): void {
  listen();
  const closed = !source || source.readyState === EventSource.CLOSED;
  const silent = !touch.value.in;
  if (closed || silent) {
    becameOld("reload");
    if (closed) open();
  }
}

/** Begins once the first answer is there. `then` is called whenever the house came back after a silence. */
export function startEvents(then: () => void): void {
  returned = then;
  open();
  setInterval(look, kAskAgain);
  setInterval(listen, 2_500);
  addEventListener("online", () => {
    open();
    cameBack();
  });
  addEventListener("offline", () => unheard());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") cameBack();
  });
}

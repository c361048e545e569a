// Every screen of the page by its name, in the scene that shows it best, and the sizes and papers it is looked at in.
import type { BrowserContextOptions } from "playwright-core";
import type { SceneName } from "./scene.ts";

export const kScreens: Record<SceneName, Record<string, string>> = {
  round: {
    "round": "/", "amend": "/round/a1%20220", "not-all": "/round/a2%20214/not-all", "fewer": "/round/a2%20214/fewer", "fault-where": "/fault", "fault-which": "/fault/shelf/600", "fault-what": "/fault/wheels/700,702", "fault-agree": "/fault/wheels/700,702/mite%20dust", "short": "/short", "did-where": "/did", "did-shelf": "/did/600", "paper": "/paper", "paper-back": "/paper/back",
    "caves": "/caves", "cave": "/caves/1", "cave-boards": "/caves/5", "cave-box": "/caves/2", "limits": "/caves/1/limits",
    "wheels": "/wheels", "wheel": "/wheels/602", "wheel-young": "/wheels/400", "did": "/wheels/602/did", "move": "/wheels/602/move", "gone": "/wheels/602/gone",
    "wheel-said": "/wheels/603", "weigh": "/wheels/602/weigh", "hold": "/wheels/602/hold", "let-go": "/wheels/603/hold", "cut": "/wheels/602/cut", "lot": "/wheels/602/lot", "branch": "/wheels/603/branch", "band": "/wheels/603/band",
    "wheel-note": "/wheels/602/note", "wheel-plan": "/wheels/602/plan", "release": "/wheels/700/release", "release-free": "/wheels/602/release", "rule": "/wheels/700/rule", "vouch": "/wheels/700/vouch",
    "plans": "/plans", "plan": "/plans/pressed/3", "stage": "/plans/pressed/3/1_1", "plan-copy": "/plans/pressed/3/copy", "plan-bring": "/plans/bring",
    "away": "/away", "away-marked": "/away/marked", "sheet": "/away/2026-12-03/2026-12-13", "returned": "/returned/2026-11-17/2026-11-22", "ahead": "/ahead", "settings": "/settings",
    "journal": "/journal", "note": "/journal/note", "arriving": "/probes", "hang": "/probes/cellar%2Fb2%2Fstate", "enter": "/enter",
  },
  alarm: { "round-alarm": "/", "caves-alarm": "/caves", "cave-alarm": "/caves/1", "alarm": `/alarms/${"f".repeat(32)}`, "alarm-over": "/alarms/too-warm-1-0" },
  flood: { "round-flood": "/", "alarms": "/alarms", "caves-flood": "/caves", "alarm-gas": "/alarms/carbon-dioxide-5-1", "alarm-unwatched": "/alarms/unwatched-1-2", "alarm-door": "/alarms/door-open-1-3", "alarm-dry": "/alarms/too-dry-3-4", "alarm-cold": "/alarms/too-cold-1-6", "cave-gas": "/caves/5", "cave-flood": "/caves/1" },
  shared: { "round-shared": "/", "share": "/share" },
  week: { "round-week": "/" },
  questions: { "round-questions": "/" },
  calm: { "round-calm": "/" },
  empty: { "first": "/" },
  trial: { "round-trial": "/", "caves-trial": "/caves" },
};

export interface Look { options: BrowserContextOptions; light?: boolean }

export const kLooks: Record<string, Look> = {
  "360-dark": { options: {} },
  "360-light": { options: {}, light: true },
  "360x630-dark": { options: { viewport: { width: 360, height: 630 } } },
  "360-forced": { options: { forcedColors: "active" } },
  "768-dark": { options: { viewport: { width: 768, height: 1024 } } },
  "1280-dark": { options: { viewport: { width: 1280, height: 800 }, isMobile: false, hasTouch: false } },
  "1280-light": { options: { viewport: { width: 1280, height: 800 }, isMobile: false, hasTouch: false }, light: true },
};

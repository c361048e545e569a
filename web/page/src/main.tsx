// The page begins here: paper, queue, first answer, then the place at the address.
import { render } from "preact";
import { useEffect, useErrorBoundary, useRef } from "preact/hooks";
import type { FaultWord } from "./api";
import { useCell } from "./cell";
import { startTicking } from "./clock";
import { openQueue, queue } from "./house/acts";
import { askAhead, head } from "./house/answers";
import { startBell } from "./house/bell";
import { startEvents } from "./house/events";
import { kSettingsPath } from "./house/keeper";
import { layPaper } from "./paper";
import { path, startRouting } from "./route";
import { AmendPlace } from "./places/round/amend";
import { FaultPlace, kFaultsPath } from "./places/fault/agree";
import { FaultGridPlace, FaultShelfPlace, FaultShelvesPlace } from "./places/fault/what";
import { FewerPlace, FewerShelfPlace } from "./places/round/fewer";
import { BackPlace } from "./places/paper/back";
import { RoundSheetPlace } from "./places/paper/sheet";
import { DidPlace, DidShelfPlace, DidShelvesPlace } from "./places/round/did";
import { SharePlace } from "./places/round/share";
import { ShortPlace } from "./places/round/short";
import { NotAllPlace } from "./places/round/not_all";
import { kCavesPath, CavesPlace } from "./places/caves/caves";
import { CavePlace } from "./places/caves/cave";
import { LimitsPlace } from "./places/caves/limits";
import { AlarmPlace } from "./places/alarms/alarm";
import { AlarmsPlace } from "./places/alarms/alarms";
import { EnterPlace } from "./places/enter/enter";
import { Broken } from "./places/broken";
import { JournalPlace, kJournalPath, NotePlace } from "./places/journal/journal";
import { ArrivingPlace } from "./places/probes/arriving";
import { HangPlace } from "./places/probes/hang";
import { kRoundPath } from "./places/round/one_line";
import { RoundPlace } from "./places/round/round";
import { AheadPlace } from "./places/ahead/ahead";
import { AwayPlace } from "./places/away/away";
import { MarkedPlace } from "./places/away/marked";
import { ReturnedPlace } from "./places/away/returned";
import { SheetPlace } from "./places/away/sheet";
import { BringPlace } from "./places/plans/bring";
import { CopyPlace } from "./places/plans/copy";
import { PlansPlace } from "./places/plans/list";
import { PlanPlace } from "./places/plans/plan";
import { NoticePlace } from "./places/notices/log";
import { NoticesPlace } from "./places/notices/notices";
import { SettingsPlace } from "./places/settings/settings";
import { kDeeds } from "./places/wheels/deeds/deeds";
import { OfWheel } from "./places/wheels/deeds/of_wheel";
import { GonePlace } from "./places/wheels/gone";
import { WheelPlace } from "./places/wheels/wheel";
import { kWheelsPath, WheelsPlace } from "./places/wheels/wheels";
import "./css/app.css";

/** The place at an address. An unknown address is the round: that is what a keeper came for. */
function Place() {
  const [place, one, two, three] = useCell(path).split("/").filter(Boolean).map(decodeURIComponent);
  switch (place) {
    case "round":
      if (one && two === "not-all") return <NotAllPlace key={one} line={one} />;
      if (one && two === "fewer") return <FewerPlace key={one} line={one} />;
      return one ? <AmendPlace key={one} line={one} /> : <RoundPlace />;
    case "paper": return one === "back" ? <BackPlace /> : <RoundSheetPlace />;
    case "short": return <ShortPlace />;
    case "share": return <SharePlace />;
    case "did": return one ? <DidShelfPlace key={one} shelf={one} /> : <DidShelvesPlace />;
    case "fewer": return one ? <FewerShelfPlace key={one} shelf={one} /> : <RoundPlace />;
    case "fault":
      if (one === "shelf" && two) return <FaultShelfPlace key={two} shelf={two} />;
      if (one === "wheels" && two && three) return <FaultPlace key={three} ids={two} what={three as FaultWord} />;
      return one === "wheels" && two ? <FaultGridPlace key={two} ids={two} /> : <FaultShelvesPlace />;
    case "alarms": return one ? <AlarmPlace key={one} id={one} /> : <AlarmsPlace />;
    case "caves":
      if (one && two === "limits") return <LimitsPlace key={one} id={one} />;
      return one ? <CavePlace key={one} id={one} /> : <CavesPlace />;
    case "wheels":
      if (one && two === "did") return <DidPlace id={one} />;
      if (one && two && kDeeds[two]) return <OfWheel key={`${one} ${two}`} id={one} draw={kDeeds[two]} />;
      if (one === "gone") return <GonePlace />;
      return one ? <WheelPlace key={one} id={one} /> : <WheelsPlace />;
    case "journal": return one === "note" ? <NotePlace /> : <JournalPlace />;
    case "enter": return <EnterPlace />;
    case "probes": return one ? <HangPlace key={one} topic={decodeURIComponent(one)} /> : <ArrivingPlace />;
    case "plans":
      if (one === "bring") return <BringPlace />;
      if (one && two && three === "copy") return <CopyPlace key={one} id={one} version={two} />;
      return one ? <PlanPlace key={one} id={one} version={two} stage={three} /> : <PlansPlace />;
    case "away":
      if (one === "marked") return <MarkedPlace />;
      return one && two ? <SheetPlace key={one + two} from={one} back={two} caves={three} /> : <AwayPlace />;
    case "returned": return one && two ? <ReturnedPlace key={one + two} from={one} back={two} /> : <MarkedPlace />;
    case "ahead": return <AheadPlace />;
    case "notices": return one ? <NoticePlace key={one} number={one} /> : <NoticesPlace />;
    case "settings": return <SettingsPlace />;
    default: return <RoundPlace />;
  }
}

/** A new place is read out from its heading, as it would be on a page that was loaded. */
function focusHeading(): void {
  const heading = document.querySelector<HTMLElement>("h1");
  heading?.setAttribute("tabindex", "-1");
  heading?.focus({ preventScroll: true });
}

/** A fault in drawing one place leaves the others, and never a blank page. */
function Guarded() {
  const where = useCell(path);
  const [fault, forget] = useErrorBoundary();
  const first = useRef(true);
  useEffect(() => {
    forget();
    if (!first.current) focusHeading();
    first.current = false;
  }, [where]);
  return fault ? <Broken what={String(fault)} /> : <Place />;
}

/** Events begin with the first answer, whose head says after which one. */
function listenToHouse(): void {
  let begun = false;
  const begin = () => {
    if (begun || !head.value) return;
    begun = true;
    askAhead([kRoundPath, kCavesPath, kWheelsPath, kJournalPath, kSettingsPath, kFaultsPath]);
  };
  head.watch(begin);
  startEvents(() => queue.nudge());
}

async function start(): Promise<void> {
  await openQueue();
  startRouting();
  startTicking();
  startBell();
  listenToHouse();
  render(<Guarded />, document.getElementById("page")!);
}

layPaper();
addEventListener("DOMContentLoaded", () => void start());

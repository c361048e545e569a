// What can be done with a wheel, by the last word of its address.
import type { FunctionComponent } from "preact";
import { ReleaseDeed } from "../release/release";
import { RuleDeed } from "../release/rule_deed";
import { VouchDeed } from "../release/vouch";
import { BandDeed } from "./band";
import { BranchDeed } from "./branch";
import { CutDeed } from "./cut";
import { GoneDeed } from "./gone";
import { HoldDeed } from "./hold";
import { MoveDeed } from "./move";
import { NoteDeed } from "./note";
import type { WheelProps } from "./of_wheel";
import { PlanDeed } from "./plan";
import { SplitDeed } from "./split";
import { WeighDeed } from "./weigh";

export const kDeeds: Record<string, FunctionComponent<WheelProps>> = {
  band: BandDeed, branch: BranchDeed, cut: CutDeed, gone: GoneDeed, hold: HoldDeed, lot: SplitDeed, move: MoveDeed, note: NoteDeed,
  plan: PlanDeed, release: ReleaseDeed, rule: RuleDeed, vouch: VouchDeed, weigh: WeighDeed,
};

// The helper's steps from top to bottom, the same for each visit; what one visit leaves out says so. Pure but for words.
import type { AwayPlan, CareKind, Day, HelperLine } from "../../api";
import { careWords } from "../../parts/names";
import { many, t } from "../../words";

export type Step = { lead: string; text: string; days: Day[]; degrees?: boolean } | { change: string; after: number };

const kWithCloth: CareKind[] = ["wash", "rub", "wipe", "pat", "oil"];

/** Young and old of one board are one step where no cloth goes over their rinds. */
const key = (line: HelperLine) => `${line.cave_name}|${line.place}|${line.rind}|${line.kinds.join()}|${line.kinds.some((kind) => kWithCloth.includes(kind)) ? line.age_group : ""}`;

/** What is said of a care to somebody who has never done it. */
function told(kinds: CareKind[], count: number): string {
  const turn = kinds.includes("turn") ? [t(count === 1 ? "sheet.turn.it" : count === 2 ? "sheet.turn.both" : "sheet.turn.all", { count })] : [];
  const rest = kinds.filter((k) => k !== "turn");
  return [...turn, ...(rest.length > 0 ? [t("sheet.do", { care: careWords(rest), count })] : [])].join(" ");
}

function lineStep(line: HelperLine, days: Day[]): Step {
  const place = line.place === line.cave_name ? line.place : `${line.cave_name}, ${line.place}`;
  const lead = t(`sheet.cheese.${line.rind}`, { place });
  const text = line.box ? `${t("sheet.lid off")} ${told(line.kinds, line.count)} ${t("sheet.lid on")}` : told(line.kinds, line.count);
  return { lead, text, days };
}

/** Gloves and cloth are changed where the sheet, read from top to bottom, comes to another kind of rind. */
const changesAt = (lines: HelperLine[], i: number) => i > 0 && lines[i]!.rind !== lines[i - 1]!.rind;

/** One to begin with, one for each change, one of its own for each box. */
function clothsOf(lines: HelperLine[]): number {
  const changes = lines.filter((_, i) => changesAt(lines, i)).length;
  return 1 + changes + new Set(lines.filter((line) => line.box).map((line) => line.cave_name)).size;
}

/** Hands first, then each place once in the order of the visits, with the changes between them, the fridge at the end. */
export function stepsOf(plan: AwayPlan, fridges: string[]): Step[] {
  const all = plan.visits.map((v) => v.day);
  const found = new Map<string, { line: HelperLine; days: Day[] }>();
  for (const visit of plan.visits) {
    for (const line of visit.lines) {
      const one = found.get(key(line));
      if (one) one.days.push(visit.day);
      else found.set(key(line), { line, days: [visit.day] });
    }
  }
  const found_in_order = inOrder([...found.values()]);
  const lines = found_in_order.map(({ line }) => line);
  const steps: Step[] = [{ lead: t("sheet.hands"), text: many("sheet.cloths", clothsOf(lines)), days: all }];
  found_in_order.forEach(({ line, days }, i) => {
    if (changesAt(lines, i)) steps.push({ change: t("sheet.change"), after: i });
    steps.push(lineStep(line, days));
  });
  if (fridges.length > 0) steps.push({ lead: t("sheet.shut", { fridge: fridges.join(", ") }), text: t("sheet.shut.low"), days: all, degrees: true });
  else steps.push({ lead: t("sheet.door shut"), text: t("sheet.thermometer"), days: all, degrees: true });
  return steps;
}

const kRinds = ["fresh and white", "natural and pressed", "washed", "blue"];

/** By rind, as every round goes; inside a rind the young before the old, and then as the visits name them. */
function inOrder(lines: { line: HelperLine; days: Day[] }[]): { line: HelperLine; days: Day[] }[] {
  const ranked = lines.map((one, i) => ({ one, rank: kRinds.indexOf(one.line.rind), i }));
  return ranked.sort((a, b) => a.rank - b.rank || a.one.line.age_group - b.one.line.age_group || a.i - b.i).map(({ one }) => one);
}

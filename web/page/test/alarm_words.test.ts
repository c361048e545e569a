import assert from "node:assert/strict";
import { test } from "node:test";
import type { Alarm } from "../src/api.ts";
import { setClock } from "../src/clock.ts";
import { setZone } from "../src/days.ts";
import { lasting, lastingExactly } from "../src/figures.ts";
import { overAlarms } from "../src/house/overlay.ts";
import type { Entry } from "../src/queue/entry.ts";
import { between } from "../src/figures.ts";
import { alarmCry, alarmFigure, alarmWord, alarmPath, apartWord, asideEnds, asks, clockWord, concernsHead, doseWord, goesWord, insideWord, isUntold, darkMatterWord, matterWord, mayAside, ownWord, ppm, saidWord, standWord, untilWord, whensOf, whyWord } from "../src/parts/alarm_words.ts";
import { gasLine, peopleWord } from "../src/parts/gas_words.ts";
import { monthBeside } from "../src/places/alarms/month.ts";
import { alarmState, folded, foldedWord, graveWord, graveWordInFull, inOrder, isLoud, lowLine, rings, takable, wasWord, whatsOf, whatWord } from "../src/parts/alarms.tsx";

setZone("Europe/Vienna");

test("what lies past its own band in a place kept warmer is told so, whatever is foreseen", () => {
  assert.match(matterWord({ past: { low: 0.5, high: 7.5 } }, 0), /^already past its band, 0.5.to.7.5$/);
});
const kHour = 3_600_000;
const now = Date.parse("2026-11-26T06:14:00Z"); // 07:14 on the wall
const alarm = (more: Partial<Alarm> = {}): Alarm => ({ id: "too-warm-1-5", kind: "too warm", severity: "act", cave: 1, cave_name: "Fridge", since: now - kHour, raised: now, wheels: [], concerns: [], first: [], found_later: false, ...more });

test("how long until it matters is always a span, in the mail's words when near and by the wall when far", () => {
  assert.equal(matterWord({ soonest: kHour, latest: 2 * kHour }, now), "in 1\u00a0to\u00a02\u00a0h");
  assert.equal(matterWord({ soonest: 1.5 * kHour, latest: 3.1 * kHour }, now), "in 1\u00a0h\u00a030\u00a0min to 3\u00a0h\u00a015\u00a0min");
  assert.equal(matterWord({ soonest: 0.3 * kHour, latest: 0.7 * kHour }, now), "in 15\u00a0to\u00a045\u00a0min");
  assert.equal(matterWord({ soonest: 0.8 * kHour, latest: 1.3 * kHour }, now), "in 45\u00a0min to 1\u00a0h\u00a030\u00a0min");
  assert.equal(matterWord({ soonest: 0, latest: 2 * kHour }, now), "within 2\u00a0h");
  assert.equal(matterWord({ soonest: 0, latest: 1.4 * kHour }, now), "within 1\u00a0h\u00a030\u00a0min");
  assert.equal(matterWord({ soonest: 48 * kHour }, now), "not within 2 days");
  assert.equal(matterWord({ soonest: 0, latest: 0.5 * kHour }, now), "within 30\u00a0min");
  assert.equal(matterWord({ soonest: 5.8 * kHour, latest: 10.8 * kHour }, now), "13:00 to 18:00");
  assert.equal(matterWord({ soonest: 6.5 * kHour, latest: 26 * kHour }, now), "13:30 to Fri\u00a009:00");
  assert.equal(matterWord({ soonest: 2 * kHour }, now), "in 2\u00a0h at the earliest");
  assert.equal(matterWord({ soonest: 7.6 * kHour }, now), "in 7\u00a0h at the earliest");
  assert.equal(matterWord({ soonest: 0, latest: 0 }, now), "now");
  assert.equal(matterWord({ soonest: 0 }, now), "already near its limit", "what is perhaps never is not now");
  assert.equal(matterWord({}, now), "", "nothing is foreseen");
});

test("beside wheels that a time stands for the others are not foreseen yet, as in the letter", () => {
  const wheels = (more: { soonest?: number; latest?: number }) => ({ count: 2, family: "Tomme, washed", cave_name: "Fridge", state: "ripening" as const, ...more });
  const soon = wheels({ soonest: kHour, latest: 2 * kHour }), some = alarm({ as_of: now, concerns: [soon, wheels({})] });
  const whens = (one: Alarm) => one.concerns.map(whensOf(one, now));
  assert.deepEqual(whens(some), ["in 1\u00a0to\u00a02\u00a0h", "not foreseen yet"]);
  assert.deepEqual(whens({ ...some, kind: "power gone" })[1], "not foreseen yet");
  assert.deepEqual(whens({ ...some, eases: true })[1], "", "the air is on its way back");
  assert.deepEqual(whens({ ...some, trend: -1 })[1], "not foreseen yet", "it creeps down, with hours to go");
  assert.deepEqual(whens({ ...some, concerns: [wheels({})] }), [""], "nothing is foreseen for any");
});

test("of a place of which nothing is heard it stands by the hours of the wall, alike from look to look", () => {
  const dark = (soonest: number, latest?: number, from = now) => darkMatterWord({ soonest: soonest * kHour, ...(latest === undefined ? {} : { latest: latest * kHour }) }, now, from);
  assert.equal(dark(0.8, 6), "between 08:00 and 13:15");
  assert.equal(darkMatterWord({ soonest: 0.5 * kHour, latest: 5.7 * kHour }, now + 0.3 * kHour), "between 08:00 and 13:15", "the next look");
  assert.equal(dark(0.8), "perhaps from 08:00 on");
  assert.equal(dark(0.8, 27), "perhaps from 08:00 on", "by such an end nobody goes");
  assert.equal(dark(0, 6), "by 13:15");
  assert.equal(dark(0), "perhaps by now");
  assert.equal(dark(0, 0), "now");
  assert.equal(dark(48), "not within 2 days");
});

test("a forecast so wide that its end says nothing tells its beginning alone", () => {
  assert.equal(matterWord({ soonest: 0.75 * kHour, latest: 27 * kHour }, now), "in 45\u00a0min at the earliest");
  assert.equal(matterWord({ soonest: 0, latest: 27 * kHour }, now), "already near its limit");
  assert.equal(matterWord({ soonest: 0, latest: 6 * kHour }, now), "07:00 to 13:00", "six hours are not that wide");
  assert.equal(matterWord({ soonest: 1.5 * kHour, latest: 6.5 * kHour }, now), "in 1\u00a0h\u00a030\u00a0min at the earliest");
  assert.equal(matterWord({ soonest: 2 * kHour, latest: 8 * kHour }, now), "09:00 to 15:00", "nor is four times");
});

test("a forecast is counted from the instant of its answer: the next answer of the same forecast says the same", () => {
  const far = { soonest: 5.8 * kHour, latest: 10.8 * kHour }, near = { soonest: 1.6 * kHour, latest: 2.1 * kHour };
  const later = now + kHour, left = ({ soonest, latest }: typeof far) => ({ soonest: soonest - kHour, latest: latest - kHour });
  assert.equal(matterWord(far, later, now), matterWord(left(far), later, later));
  assert.equal(matterWord(near, later, now), matterWord(left(near), later, later));
  assert.equal(matterWord(near, later, now), "in 30\u00a0min to 1\u00a0h\u00a015\u00a0min");
  assert.equal(matterWord(near, now + 3 * kHour, now), "now");
  assert.equal(matterWord({ soonest: 48 * kHour }, later, now), "not within 2 days");
});

test("a strip says who is first and when, who is with them, and how many come later", () => {
  setClock(now, 1);
  const wheels = (count: number, soonest?: number, latest?: number) => ({ count, family: "Tomme, washed", cave_name: "Cellar", state: "ripening" as const, ...(soonest === undefined ? {} : { soonest }), ...(latest === undefined ? {} : { latest }) });
  const first = wheels(20, kHour, 2 * kHour);
  assert.equal(lowLine(alarm({ concerns: [first, wheels(48, 3 * kHour, 5 * kHour)] })), "20 tommes: in 1\u00a0to\u00a02\u00a0h. 48 more later.");
  assert.equal(lowLine(alarm({ concerns: [first, wheels(6, kHour, 2 * kHour), wheels(48, 3 * kHour), wheels(9, 48 * kHour), wheels(5)] })), "20 tommes and 6 more: in 1\u00a0to\u00a02\u00a0h. 48 more later.");
  assert.equal(lowLine(alarm({ concerns: [first, wheels(9, 48 * kHour)] })), "20 tommes: in 1\u00a0to\u00a02\u00a0h");
  assert.equal(lowLine(alarm({ concerns: [wheels(20), wheels(9)] })), "matters to 20 tommes and 9 more");
  const said = [{ probe: "Shelf", kind: "temperature" as const, value: 12.4 }, { probe: "Door", kind: "temperature" as const, value: 15.2 }];
  assert.equal(lowLine(alarm({ why: "one probe", said, concerns: [wheels(20)] })), "Shelf 12.4\u00a0°C, Door 15.2\u00a0°C: which of them is right nobody knows");
});

test("what has come to the first and comes to others later is no riddle", () => {
  setClock(now, 1);
  const wheels = (count: number, family: string, soonest: number, latest: number) => ({ count, family, cave_name: "Box 1", state: "ripening" as const, soonest, latest });
  assert.equal(lowLine(alarm({ severity: "urgent", as_of: now, concerns: [wheels(2, "bloomy", 0, 0), wheels(1, "Tomme, washed", 0, 0), wheels(1, "Tomme, washed", 5 * kHour, 9 * kHour)] })), "2 bloomies and 1 more: now. 1 more later.");
});

test("a dose of one is told as one", () => {
  const dose = (kind: "too warm" | "too dry", value: number) => doseWord(alarm({ kind, dose: value }));
  assert.deepEqual([dose("too warm", 1.02), dose("too warm", 1.1), dose("too warm", 0.1), dose("too dry", 1), dose("too dry", 12)], ["1 degree-hour", "1.1 degree-hours", "0.1 degree-hours", "1 point-hour", "12 point-hours"]);
});

test("only what was of the air touched wheels; of the rest they lay there", () => {
  const head = (kind: Alarm["kind"], over?: number) => concernsHead(over === undefined ? { kind } : { kind, over });
  assert.deepEqual([head("too warm"), head("plant weak"), head("too warm", now), head("condensation", now), head("plant weak", now), head("probe stuck", now), head("power gone", now)],
    ["It matters to", "It matters to", "It touched", "It touched", "Wheels there", "Wheels there", "Wheels there"]);
});

test("minutes are counted when they have passed, as the mail counts them", () => {
  assert.deepEqual([59_999, 60_000, 119_999, 5_159_000].map(lasting), ["0\u00a0min", "1\u00a0min", "1\u00a0min", "1\u00a0h\u00a025\u00a0min"]);
});

test("how long something lasted is said as the mail says it; a limit holds to the minute", () => {
  assert.deepEqual([14, 60, 90, 719, 755, 47 * 60 + 59, 48 * 60, 60 * 60].map((minutes) => lasting(minutes * 60_000)),
    ["14\u00a0min", "1\u00a0h", "1\u00a0h\u00a030\u00a0min", "11\u00a0h\u00a059\u00a0min", "13\u00a0h", "2 days", "2 days", "2 days\u00a012\u00a0h"]);
  assert.deepEqual([0, 25, 755, 2880, 2890].map(lastingExactly), ["0\u00a0min", "25\u00a0min", "12\u00a0h\u00a035\u00a0min", "2 days", "48\u00a0h\u00a010\u00a0min"]);
});

test("an hour of another day says which day", () => {
  assert.equal(clockWord(now, now), "07:14");
  assert.equal(clockWord(now - 20 * kHour, now), "Wed\u00a011:14");
  assert.equal(clockWord(now - 21 * 24 * kHour, now), "5\u00a0Nov 07:14");
  assert.equal(untilWord(now + 24 * kHour, now), "tomorrow 07:14");
});

test("tomorrow is the calendar's: past midnight the morning to come is of the day that has begun", () => {
  const past = Date.parse("2026-11-25T23:30:00Z"); // Thursday 00:30 on the wall, of the keeper's Wednesday
  assert.equal(untilWord(past + 6.5 * kHour, past), "07:00");
  assert.equal(untilWord(past + 1.5 * kHour, past), "02:00");
  assert.equal(untilWord(past + 30.5 * kHour, past), "tomorrow 07:00");
  assert.equal(untilWord(past, past - 3 * kHour), "Thu\u00a000:30", "the night to come");
});

test("gas has other causes than warmth, and each has its word", () => {
  for (const kind of ["carbon dioxide", "ammonia"] as const) assert.deepEqual(whatsOf({ kind }).map(whatWord), ["door and vent shut", "the fan stood still", "many rinds, little air", "power cut", "probe", "something else"]);
  assert.deepEqual(whatsOf({ kind: "too warm" }).map(whatWord), ["door", "defrost", "warm wheels", "plant", "probe", "power cut", "something else"]);
});

test("gas in one line: who may be inside, what it asks of people, the figure; by how bad it is now", () => {
  const gas = (more: Partial<Alarm> = {}) => alarm({ kind: "carbon dioxide", severity: "urgent", grade: "urgent", value: 16_200, ...more });
  assert.equal(gasLine(gas()), "Nobody in. 16200\u00a0ppm");
  assert.equal(gasLine(gas({ grade: "act" })), "Out, door open. 16200\u00a0ppm", "lower than it was when it became urgent");
  assert.equal(gasLine(gas({ grade: "low" })), "Lower now, but nobody in. 16200\u00a0ppm");
  assert.equal(gasLine(gas({ grade: "unknown", value: undefined })), "Stay out: nobody knows it now.");
  assert.equal(lowLine(gas({ grade: "unknown", value: undefined, taken: now, taken_by: "IH" })), "Stay out: nobody knows it now. Taken 07:14 IH");
  assert.equal(gasLine(gas({ kind: "ammonia", grade: "act", worse_beside: true, value: 60 })), "60\u00a0ppm", "one order for one door");
  assert.equal(lowLine(gas({ taken: now, taken_by: "IH" })), "Nobody in. 16200\u00a0ppm, taken 07:14 IH");
  assert.equal(lowLine(alarm({ kind: "probe silent", darkens_gas: true, here_by: ["TR"] })), "Stay out: nobody knows the gas.");
  assert.equal(gasLine(alarm()), "");
  assert.deepEqual([[], ["TR"], ["TR", "IH"]].map((here_by) => peopleWord(gas({ here_by }))), ["Somebody may be inside.", "TR may be inside.", "TR and IH may be inside."]);
  assert.equal(peopleWord(gas()), "");
});

test("how an alarm stands is said in the keeper's words", () => {
  assert.equal(standWord(alarm(), now), "", "it rings");
  assert.equal(standWord(alarm({ taken: now, taken_by: "IH" }), now), "taken 07:14 IH");
  assert.equal(standWord(alarm({ aside_until: now + 4 * kHour }), now), "set aside until 11:14");
  assert.equal(standWord(alarm({ aside_until: now + 4 * kHour, taken: now, taken_by: "IH" }), now), "taken 07:14 IH", "who took it ended that it was set aside");
  assert.equal(standWord(alarm({ over: now }), now), "over 07:14, not yet seen");
  assert.equal(standWord(alarm({ over: now, taken: now }), now), "over 07:14");
  assert.equal(standWord(alarm({ quiet: true }), now), "quiet for now");
  assert.equal(standWord(alarm({ over: now, unseen: true }), now), "ended 07:14: the rules of now no longer see it", "not that it is well");
  assert.equal(standWord(alarm({ over: now, unseen: true, told_by: "too-warm-1-6" }), now), "goes on since 07:14 as another alarm, dated by the rules of now");
});

test("what is taken, set aside, quiet, over, a hint or a question does not ring", () => {
  assert.ok(rings(alarm()));
  for (const more of [{ taken: now }, { aside_until: now + kHour }, { quiet: true }, { over: now }, { severity: "hint" as const }, { kind: "door open" as const, why: "after round" as const }]) assert.ok(!rings(alarm(more)), JSON.stringify(more));
  assert.ok(!rings(alarm({ kind: "battery low", severity: "watch" })), "it can wait");
  assert.ok(rings(alarm({ kind: "door open", why: "contact" })), "a door that its contact calls open is no question");
  assert.ok(asks(alarm({ kind: "door open", why: "after round" })));
});

test("a quiet notice stands calm though it asks to be taken; what is urgent says so in a word until it is taken", () => {
  const loud = (more: Partial<Alarm>) => isLoud(alarm(more));
  assert.deepEqual([loud({ severity: "watch" }), loud({ severity: "act" }), loud({ severity: "urgent" }), loud({ severity: "urgent", taken: now })], [false, true, true, false]);
  assert.ok(rings(alarm({ severity: "watch" })), "it asks to be taken, and keeps its place");
  assert.deepEqual([graveWord(alarm({ severity: "urgent" })), graveWord(alarm()), graveWord(alarm({ severity: "watch" })), graveWord(alarm({ severity: "urgent", taken: now }))], ["urgent", "", "", ""]);
  assert.equal(alarmState(alarm({ kind: "plant weak", severity: "watch" })), "drifting", "nothing has left its band");
  assert.equal(alarmState(alarm({ severity: "watch" })), "out of band");
});

test("a tap that takes an alarm ends on the phone too that it was set aside, and what is taken is not set aside", () => {
  const entry = (act: object) => ({ act: { id: "1", tapped_at: now, ...act }, state: "waiting" }) as unknown as Entry;
  const [taken] = overAlarms([alarm({ aside_until: Number.MAX_SAFE_INTEGER })], [entry({ kind: "take", alarm: "too-warm-1-5", keeper: "IH" })]);
  assert.equal(taken!.aside_until, undefined);
  assert.equal(taken!.taken_by, "IH");
  const [still] = overAlarms([alarm({ taken: now, taken_by: "TR" })], [entry({ kind: "take", alarm: "too-warm-1-5", keeper: "IH" }), entry({ kind: "aside", alarm: "too-warm-1-5", until: Number.MAX_SAFE_INTEGER })]);
  assert.deepEqual([still!.taken, still!.taken_by, still!.aside_until], [now, "TR", undefined], "the first counts");
});

test("a taking that the house does not know yet is said as such; of two the one that the house was told first goes, on every phone", () => {
  setClock(now, 1);
  const entry = (keeper: string, state = "waiting") => ({ act: { id: keeper, tapped_at: Date.now(), kind: "take", alarm: "too-warm-1-5", keeper }, state }) as unknown as Entry;
  const [waits] = overAlarms([alarm()], [entry("TR")]);
  assert.equal(standWord(waits!, now), "taken by you 07:14, not yet told");
  assert.ok(isUntold(waits!) && !rings(waits!));
  const [told] = overAlarms([alarm()], [entry("TR", "acked")]);
  assert.equal(standWord(told!, now), "taken by you 07:14, told", "not that TR goes: the house has not said so");
  assert.ok(!isUntold(told!));
  assert.equal(standWord(overAlarms([alarm({ over: now })], [entry("TR")])[0]!, now), "over 07:14, seen by you, not yet told");
  const ofOther = alarm({ taken: now, taken_by: "IH" });
  const [second] = overAlarms([ofOther], [entry("TR"), entry("TR")]);
  assert.deepEqual([second!.taken_by, second!.also_took?.map((one) => one.keeper), second!.mine], ["IH", ["TR"], undefined]);
  assert.equal(goesWord(second!, "TR", now), "IH took it 07:14, before yours arrived: IH goes, unless you two agree otherwise.");
  assert.equal(lowLine(second!), "IH took it 07:14, TR later: IH goes, unless they agree otherwise.");
  const both = alarm({ taken: now, taken_by: "IH", also_took: [{ keeper: "TR", at: now - kHour, arrived: now + kHour }] });
  assert.equal(goesWord(both, "TR", now), goesWord(second!, "TR", now), "the house says what the phone said");
  assert.equal(goesWord(both, "IH", now), "You took it 07:14. TR took it too, which arrived later: you go, unless you agree otherwise.");
  assert.equal(goesWord({ ...both, over: now }, "IH", now), "", "nobody has to go");
  assert.equal(goesWord(ofOther, "TR", now), "");
  assert.equal(overAlarms([ofOther], [entry("IH")])[0]!.also_took, undefined, "who tapped twice is nobody else");
});

test("setting aside always has an end, within a day; gas is never put off", () => {
  const morning = Date.parse("2026-11-27T06:00:00Z");
  for (const end of asideEnds(now, morning)) assert.ok(end > now && end - now < 24 * kHour);
  assert.deepEqual(asideEnds(now, morning).map((end) => untilWord(end, now)), ["08:15", "11:15", "tomorrow 07:00"]);
  assert.equal(asideEnds(now, now + kHour).length, 3, "the morning is near: half a day instead");
  assert.ok(mayAside(alarm()));
  assert.ok(!mayAside(alarm({ kind: "carbon dioxide" })));
  assert.ok(!mayAside(alarm({ over: now })));
  assert.ok(!mayAside(alarm({ taken: now })), "it is quiet already");
});

test("many alarms are folded: the loudest has its strip, the others one line", () => {
  const many = [alarm({ id: "a", taken: now }), alarm({ id: "b" }), alarm({ id: "c", over: now }), alarm({ id: "d", over: now, taken: now })];
  assert.deepEqual([folded(many).shown.map((a) => a.id), folded(many).rest.map((a) => a.id)], [["b"], ["a", "c"]]);
  assert.equal(folded(many.slice(0, 2)).rest.length, 0);
  assert.deepEqual(folded([...many, alarm({ id: "u", severity: "urgent" })], () => false).shown.map((a) => a.id), ["u"], "beside another alarm only what is urgent");
});

test("gas from act on has its strip first on each place, taken or not, however many others there are and whatever the place is about", () => {
  const gas = (id: string, more: Partial<Alarm> = {}) => alarm({ id, kind: "carbon dioxide", ...more });
  const shown = (alarms: Alarm[], ...more: [(() => boolean)?, Alarm[]?]) => folded(alarms, ...more).shown.map((a) => a.id);
  const others = [alarm({ id: "a" }), alarm({ id: "b" })];
  const nowhere = () => false, about = [alarm({ id: "own" })];
  assert.deepEqual(shown([...others, gas("g"), gas("h", { taken: now })]), ["g", "h"]);
  assert.deepEqual(shown([...others, gas("g"), gas("h", { kind: "ammonia" })], nowhere, about), ["g", "h"], "beside another alarm");
  assert.deepEqual(shown([gas("g", { taken: now })], nowhere, about), ["g"]);
  assert.deepEqual(shown([alarm({ id: "u", severity: "urgent" }), alarm({ id: "v", severity: "urgent" }), gas("g"), gas("h"), gas("i")], nowhere, about), ["g", "h", "i", "u"], "and the gravest of the others");
  assert.deepEqual(shown([alarm({ id: "dark", kind: "probe silent", darkens_gas: true })], nowhere, about), ["dark"], "nobody knows the gas, and that rings");
  assert.deepEqual([shown([gas("g", { severity: "watch" })], nowhere, about), shown([gas("g", { over: now })], nowhere, about)], [[], []]);
});

test("what rings and is graver than all that is shown has its strip too, one for all that are alike", () => {
  const shown = (alarms: Alarm[], ...more: [(() => boolean)?, Alarm[]?]) => folded(alarms, ...more).shown.map((a) => a.id);
  const quietGas = alarm({ id: "g", kind: "carbon dioxide", severity: "watch" }), frost = alarm({ id: "f", kind: "too cold", severity: "urgent" });
  assert.deepEqual(shown([quietGas, alarm({ id: "a" }), frost, { ...frost, id: "e" }]), ["f"], "a quiet word of gas leads nothing that wants a hand");
  assert.deepEqual(shown([{ ...quietGas, severity: "act", taken: now }, alarm({ id: "a" }), alarm({ id: "b" })]), ["g", "a"], "what is taken stands for none that rings");
  const nowhere = () => false;
  assert.deepEqual(shown([alarm({ id: "a" })], nowhere, [alarm({ id: "own", severity: "watch" })]), ["a"]);
  assert.deepEqual(shown([alarm({ id: "a" })], nowhere, []), ["a"], "a place where all is well");
  assert.deepEqual(shown([alarm({ id: "a" })], nowhere, [alarm({ id: "own", taken: now })]), [], "no graver than what the page is about");
  assert.deepEqual(shown([alarm({ id: "a", severity: "watch" }), alarm({ id: "b", taken: now }), alarm({ id: "c", quiet: true })], nowhere, []), []);
});

test("what lasts and nobody has taken comes first by its severity, then what is taken, then what is over", () => {
  const order = inOrder([alarm({ id: "over", severity: "urgent", over: now }), alarm({ id: "taken", severity: "act", taken: now }), alarm({ id: "watch", severity: "watch" }),
    alarm({ id: "aside", severity: "act", aside_until: now + kHour }), alarm({ id: "act" })]).map((a) => a.id);
  assert.deepEqual(order, ["act", "watch", "aside", "taken", "over"]);
});

test("gas leads from act up; as a watch it stands with the watches, before them", () => {
  const gas = (severity: Alarm["severity"]) => alarm({ id: "gas", kind: "carbon dioxide", severity });
  const others = [alarm({ id: "watch", severity: "watch" }), alarm({ id: "act" }), alarm({ id: "urgent", severity: "urgent" })];
  assert.deepEqual(inOrder([...others, gas("watch")]).map((a) => a.id), ["urgent", "act", "gas", "watch"]);
  assert.deepEqual(inOrder([...others, gas("act")]).map((a) => a.id), ["gas", "urgent", "act", "watch"]);
});

test("what rang at once stands as its places are counted", () => {
  const at = (cave_name: string, raised = now) => alarm({ id: cave_name, cave_name, raised });
  assert.deepEqual(inOrder([at("F1"), at("F10"), at("F2", now + 30_000), at("F0", now + kHour)]).map((a) => a.id), ["F1", "F2", "F10", "F0"]);
});

test("one tap takes all that want a hand, and no gas", () => {
  const all = [alarm({ id: "a" }), alarm({ id: "u", severity: "urgent" }), alarm({ id: "w", severity: "watch" }), alarm({ id: "t", taken: now }), alarm({ id: "o", over: now }),
    alarm({ id: "g", kind: "ammonia" }), alarm({ id: "d", kind: "probe silent", darkens_gas: true }), alarm({ id: "s", aside_until: now + kHour }), alarm({ id: "i", inside: true })];
  assert.deepEqual(takable(all).map((a) => a.id), ["a", "u"]);
});

test("alarms in one line say how many of them nobody has taken, and how many are urgent", () => {
  assert.equal(foldedWord([alarm({ taken: now }), alarm({}), alarm({ severity: "urgent" })]), "2 not taken yet, 1 urgent");
  assert.equal(foldedWord([alarm({}), alarm({ severity: "watch" })]), "not taken yet");
  assert.equal(foldedWord([alarm({ severity: "urgent" })]), "not taken yet, urgent");
  assert.equal(foldedWord([alarm({ taken: now, severity: "urgent" })]), "");
});

test("a battery that runs low leads nothing while anything else lasts, be it taken", () => {
  const battery = alarm({ id: "battery", kind: "battery low", severity: "watch" });
  const order = inOrder([battery, alarm({ id: "over", over: now }), alarm({ id: "taken", taken: now }), alarm({ id: "hint", severity: "hint" })]);
  assert.deepEqual(order.map((a) => a.id), ["hint", "taken", "battery", "over"]);
});

test("what is taken says by whom and when, and then what it was", () => {
  setClock(now, 1);
  assert.equal(lowLine(alarm({ taken: now, taken_by: "IH", aside_until: now + kHour })), "taken 07:14 IH");
  assert.equal(lowLine(alarm({ taken: now, taken_by: "IH", what: "plant" })), "taken 07:14 IH. It was: plant");
  assert.equal(lowLine(alarm({ aside_until: now + kHour })), "set aside until 08:14");
});

test("how far the wheels' cores came is said in the letter's words; so far, while it lasts", () => {
  assert.equal(ownWord(alarm({ over: now }), { own: 15.84 }), "at the core at most about 15.8\u00a0°C");
  assert.equal(ownWord(alarm({ kind: "too cold", over: now }), { own: 3.1 }), "at the core down to about 3.1\u00a0°C");
  assert.equal(ownWord(alarm(), { own: 13.2 }), "so far at the core at most about 13.2\u00a0°C");
  assert.equal(ownWord(alarm(), {}), "", "nobody knows");
  const keep = { low: 6.5, high: 13.5 };
  assert.equal(ownWord(alarm({ over: now }), { own: 14.5, keep }), "at the core at most about 14.5\u00a0°C, beyond the band of 6.5\u00a0to\u00a013.5");
  assert.equal(ownWord(alarm({ over: now }), { own: 13.54, keep }), "at the core at most about 13.5\u00a0°C, within the band of 6.5\u00a0to\u00a013.5");
});

test("of one family in one place their state tells which are meant", () => {
  const wheels = (state: "holding" | "ripening", cave_name = "Cellar") => ({ count: 20, family: "Tomme", cave_name, state });
  const concerns = [wheels("holding"), wheels("ripening"), wheels("ripening", "Box 1")];
  assert.deepEqual(concerns.map((one) => apartWord({ concerns }, one)), ["holding", "ripening", ""]);
});

test("figures in the unit of the kind", () => {
  assert.equal(ppm(16_200), "16200");
  assert.equal(ppm(950), "950");
  assert.equal(alarmFigure({ kind: "carbon dioxide" }, 5200), "5200\u00a0ppm");
  assert.equal(alarmFigure({ kind: "too warm" }, 16.21), "16.2\u00a0°C");
  assert.equal(alarmFigure({ kind: "probe silent" }, 12), "");
  assert.equal(alarmPath({ id: "too-warm-1-5" }), "/alarms/too-warm-1-5");
});

test("probes that contradict each other are named with what each says", () => {
  assert.equal(saidWord({ kind: "probes disagree" }, [{ probe: "Shelf", kind: "temperature", value: 12.31 }, { probe: "Door", kind: "temperature", value: 16.1 }]), "Its probes: Shelf 12.3\u00a0°C, Door 16.1\u00a0°C.");
  assert.match(saidWord({ kind: "probes disagree" }, [{ probe: "Shelf", kind: "humidity", value: 84.2 }, { probe: "", kind: "humidity", value: 91 }]), /^Its probes: Shelf 84.*, 91/);
  // What a stuck probe repeats is told to the digit.
  assert.equal(saidWord({ kind: "probe stuck" }, [{ probe: "Shelf", kind: "humidity", value: 88.5 }]), "Always the same: humidity 88.5\u00a0%.");
  const wet = [{ probe: "Shelf", kind: "humidity" as const, value: 99.6 }];
  assert.deepEqual([saidWord({ kind: "probe wet" }, wet), saidWord({ kind: "probe wet", over: 1 }, wet)], ["It says: humidity 99.6\u00a0%.", "It said: humidity 99.6\u00a0%."]);
});

test("a dry humidifier and standing water are said in words, and can be set aside", () => {
  for (const kind of ["humidifier dry", "drain blocked"] as const) {
    assert.ok(mayAside(alarm({ kind, severity: "watch" })));
    assert.equal(alarmFigure({ kind }, 0), "", "a contact has no figure");
  }
});

test("an alarm whose air is back in the band, and not as far in as it waits for, says at which figure it ends", () => {
  assert.equal(insideWord({ kind: "too damp", ends_at: 93 }, now), "back in the band, not yet over: it ends below 93\u00a0%");
  assert.equal(lowLine(alarm({ kind: "too cold", ends_at: 11.5 })), "back in the band, not yet over: it ends above 11.5\u00a0°C");
  assert.ok(rings(alarm({ kind: "too cold", ends_at: 11.5 })), "it is not back yet");
  assert.equal(insideWord({ kind: "too damp" }, now), "back inside, ends when it stays");
  assert.equal(insideWord({ kind: "too warm", ends_at: 3.5, inside_since: now - 3 * kHour }, now), `back in the band since ${clockWord(now - 3 * kHour, now)}, not yet over: it ends below 3.5\u00a0°C`);
});

test("of alarms that are over and not yet seen what began last comes first, as it is labelled, after whatever stands", () => {
  // The older it is, the later it ended.
  const over = (id: string, since: number) => alarm({ id, since, over: 100_000_000 - since });
  const order = inOrder([over("old", 1_000), alarm({ id: "stands", severity: "watch", since: 500, taken: 600 }), over("new", 9_000), over("middle", 5_000)]).map((a) => a.id);
  assert.deepEqual(order, ["stands", "new", "middle", "old"]);
  const { shown, rest } = folded([over("old", 1_000), over("new", 9_000), over("middle", 5_000)]);
  assert.deepEqual([shown.map((a) => a.id), rest.map((a) => a.id)], [["new"], ["middle", "old"]]);
});

test("an early sign of a weak plant is told with its figure; a band that was left is told by the head alone", () => {
  assert.equal(whyWord({ kind: "plant weak", why: "slow fall", value: 0.617 }), "It cools at 62\u00a0% of its pace of the week before.");
  assert.equal(whyWord({ kind: "plant weak", why: "day mean up", value: 0.38 }), "The mean of the day is up by 0.4 degrees.");
  assert.equal(whyWord({ kind: "too warm", why: "band", value: 15 }), "");
});

test("dew is told with its figure, while it lasts", () => {
  assert.equal(whyWord({ kind: "condensation", why: "band", value: 0.24 }), "The coldest rind is 0.2 degrees above the dew point of its air: drops form on it.");
  assert.equal(whyWord({ kind: "condensation", why: "band", value: -0.6 }), "The coldest rind is 0.6 degrees below the dew point of its air: drops form on it.");
  assert.equal(whyWord({ kind: "condensation", why: "band", value: 0.2, over: 1 }), "");
});

test("air that does not turn is getting warmer until it leaves its band, and too warm from then on", () => {
  const band = { low: 10.5, high: 14.5 };
  assert.equal(alarmWord({ kind: "too warm", why: "not turning", band, extreme: 13.9 }), "getting warmer");
  assert.equal(alarmWord({ kind: "too warm", why: "not turning", band, extreme: 14.6 }), "too warm");
  assert.equal(alarmWord({ kind: "too cold", why: "not turning yet", band, extreme: 10.9 }), "getting colder");
  assert.equal(alarmWord({ kind: "too warm", why: "band", band, extreme: 13.9 }), "too warm");
  assert.equal(alarmWord({ kind: "too warm", why: "plan step", band, extreme: 15 }), "warmer than is asked now");
  assert.equal(alarmCry({ kind: "plant weak", why: "day mean up" }), "Kept warmer than it was");
});

test("a time that nobody watched says as long as nothing is heard that nothing is, and afterwards that it came late", () => {
  assert.equal(whyWord({ kind: "unwatched", why: "unheard" }), "Nothing has been heard of its air since.");
  assert.equal(whyWord({ kind: "unwatched", why: "unheard", over: 1 }), "Its air was heard again only long after.");
});

test("how long it lasted is counted from the minutes that are shown", () => {
  assert.equal(between(Date.parse("2026-11-26T05:16:50Z"), Date.parse("2026-11-26T07:22:10Z")).replace(/\u00a0/g, " "), "2 h 6 min");
});

test("what it was is not said under a name that says it already", () => {
  const was = (kind: Alarm["kind"], what?: string) => wasWord({ kind, ...(what ? { what } : {}) });
  assert.equal(was("plant weak", "plant"), "");
  assert.equal(was("probe silent", "probe"), "");
  assert.equal(was("power gone", "power"), "");
  assert.equal(was("too warm", "plant"), "It was: plant");
  assert.equal(was("plant weak"), "nobody said what it was");
  assert.equal(lowLine(alarm({ kind: "plant weak", severity: "watch", taken: now, taken_by: "IH", what: "plant" })), "taken 07:14 IH");
});

test("gas stands in red for as long as it stands, taken or not; other alarms are calm once they are taken", () => {
  const gas = alarm({ kind: "carbon dioxide", severity: "urgent" });
  assert.ok(isLoud({ ...gas, taken: now }) && !isLoud({ ...gas, taken: now, over: now }) && !isLoud(alarm({ kind: "carbon dioxide", severity: "watch", taken: now })));
  assert.ok(isLoud(alarm()) && !isLoud(alarm({ taken: now })));
  // Of gas it goes by the figure, whoever took it; of all else the word asks to be taken.
  assert.equal(graveWord({ ...gas, grade: "urgent", taken: now }), "urgent");
  assert.equal(graveWord({ ...gas, grade: "unknown", taken: now }), "urgent");
  assert.equal(graveWord({ ...gas, grade: "watch", taken: now }), "");
  assert.equal(graveWord({ ...gas, grade: "urgent", over: now }), "");
  assert.equal(graveWord(alarm({ severity: "urgent", taken: now })), "");
});

test("told in full, an alarm is urgent whoever took it, as long as it lasts and its air is out", () => {
  const word = (more: Partial<Alarm>) => graveWordInFull(alarm({ severity: "urgent", ...more }));
  assert.deepEqual([word({}), word({ taken: now }), word({ aside_until: now + kHour }), word({ quiet: true })], ["urgent", "urgent", "urgent", "urgent"]);
  assert.deepEqual([word({ taken: now, severity: "act" }), word({ taken: now, inside: true }), word({ taken: now, over: now })], ["", "", ""]);
  assert.deepEqual([word({ kind: "carbon dioxide", grade: "urgent", taken: now }), word({ kind: "carbon dioxide", grade: "watch", taken: now })], ["urgent", ""], "gas goes by its figure");
});

test("a power cut that nobody knows of for sure is named shortly, and still as perhaps", () => {
  assert.equal(alarmCry({ kind: "power gone" }), "Perhaps without power");
  assert.equal(alarmWord({ kind: "power gone" }), "perhaps without power");
});

test("what lasts or was not seen is not counted under what nobody named: a month of nothing else is no line", () => {
  const month = (rang: number, watch = 0) => [{ cave: 1, cave_name: "Fridge", rang, watch, sentence: "It rang." }];
  const above = (rows: ReturnType<typeof monthBeside>) => rows.map((one) => one.above);
  const unseen = alarm({ over: now - kHour, since: now - 9 * kHour, raised: now - 8 * kHour });
  assert.deepEqual(above(monthBeside(month(1), [unseen], now)), []);
  assert.deepEqual(above(monthBeside(month(1, 2), [unseen], now)), [1], "its quiet notices are told");
  assert.deepEqual(above(monthBeside(month(3), [unseen, alarm()], now)), [2]);
  const uncounted = [alarm({ what: "door" }), alarm({ cave: 2 }), alarm({ severity: "watch" }), alarm({ told_by: "x" }), alarm({ raised: now - 31 * 24 * kHour })];
  assert.deepEqual(above(monthBeside(month(1), uncounted, now)), [0]);
});

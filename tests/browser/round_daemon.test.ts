// The round's finer ways, by thumb against the program itself: what the page says at the shelf is what the book keeps.
import assert from "node:assert/strict";
import { after, before, test, type TestContext } from "node:test";
import type { Browser, Page } from "playwright-core";
import { address, host, missing, openBrowser, openPhone } from "../support/chromium.ts";
import { temporaryFolder } from "../support/cleanup.ts";
import { day, enterWheel } from "../support/keeping.ts";
import { missing as noTime, Time } from "../support/time.ts";
import { until } from "../support/until.ts";
import { Watch, type WatchOptions } from "../support/watch.ts";
import { ready, sound } from "./support/looks.ts";

let browser: Browser;
before(async () => {
  if (!missing) browser = await openBrowser();
});
after(async () => browser?.close());

const kSettings = { listen: [`names = ["${host}"]`] };

async function begin(t: TestContext, options: WatchOptions = {}): Promise<Watch> {
  const watch = await Watch.start({ ...options, settings: kSettings });
  t.after(() => watch.end("SIGKILL"));
  return watch;
}

async function phone(t: TestContext, watch: Watch, place = "/"): Promise<Page> {
  const { page, errors } = await openPhone(browser, { viewport: { width: 360, height: 630 }, reducedMotion: "reduce", deviceScaleFactor: 1 });
  t.after(async () => {
    await page.context().close();
    // The program is shot down after each test, perhaps before its page is shut.
    assert.deepEqual(errors.filter((error) => !error.includes("ERR_CONNECTION") && !error.includes("ERR_INCOMPLETE")), []);
  });
  await page.goto(address(watch.port, place));
  await ready(page);
  return page;
}

const journal = async (watch: Watch, kind: string) => (await watch.get("/api/journal")).lines.filter((l: { kind: string }) => l.kind === kind);
const lines = async (watch: Watch, target = "/api/round") => (await watch.get(target)).lines as { key: string; state: string; wheels: number[]; numbers: number[]; kinds: string[]; place: string }[];
const open = (page: Page) => page.locator("button.line:not([aria-disabled=true])");
const deed = (page: Page) => page.locator("button.deed");
const bar = (page: Page) => page.getByRole("status", { name: "just signed" });

/** So many pressed wheels on a shelf of the first cellar. Invented. */
const onShelf = (watch: Watch, shelf: string, count: number, where: object = { new: { kind: "room", name: "Cellar" } }) =>
  enterWheel(watch, { count, lot: `2${shelf.length}${count}`, where: { ...where, shelf } });

test("not all of a shelf: eleven are done, three stay due, and the book knows why", { skip: missing }, async (t) => {
  const watch = await begin(t);
  await onShelf(watch, "A2", 14);
  const page = await phone(t, watch);
  await open(page).first().tap();
  await until("on disk", async () => (await journal(watch, "care")).length === 1);
  await bar(page).getByRole("button", { name: "not all" }).tap();
  for (const number of [2, 6, 7]) await page.getByRole("button", { name: `wheel ${number}`, exact: true }).tap();
  await page.getByRole("button", { name: "sticks" }).tap();
  await sound(page, "not-all");
  await deed(page).tap();
  await until("said more exactly", async () => (await journal(watch, "care")).length === 2);
  await until("two lines", async () => (await lines(watch)).length === 2);
  const found = await lines(watch);
  const due = found.find((l) => l.state === "due")!;
  assert.deepEqual([due.wheels.length, due.numbers], [3, [2, 6, 7]]);
  assert.equal(found.find((l) => l.state === "done")!.wheels.length, 11);
  await until("both stand on the page", async () => (await open(page).count()) === 1 && (await page.locator(".done").count()) === 1);
  assert.match((await open(page).first().textContent())!, /3/);
});

test("fewer lie here: the missing wheel is gone from the book, the others stand done", { skip: missing }, async (t) => {
  const watch = await begin(t);
  const { wheels } = await onShelf(watch, "A2", 4);
  const page = await phone(t, watch);
  await open(page).first().tap();
  await bar(page).getByRole("button", { name: "not all" }).tap();
  await page.getByRole("link", { name: "fewer lie here than 4" }).tap();
  await page.getByRole("button", { name: "wheel 3", exact: true }).tap();
  await deed(page).tap();
  await until("it is gone", async () => (await journal(watch, "gone")).length === 1);
  const left = (await watch.get("/api/wheels")).wheels;
  assert.deepEqual(left.map((w: { id: number }) => w.id), wheels.filter((_, i) => i !== 2));
  await until("done without it", async () => (await lines(watch)).every((l) => l.state === "done" && l.wheels.length === 3));
});

test("a fault that is agreed marks its wheels, puts them last, and asks to look again", { skip: missing }, async (t) => {
  const watch = await begin(t);
  const { wheels } = await onShelf(watch, "B3", 5);
  const page = await phone(t, watch, "/fault");
  await page.getByRole("link", { name: /B3/ }).tap();
  await page.getByRole("button", { name: "wheel 2", exact: true }).tap();
  await deed(page).tap();
  await page.getByRole("button", { name: "mite dust" }).tap();
  await page.locator(".orders li").first().waitFor();
  await sound(page, "fault");
  await page.getByRole("button", { name: "agree" }).tap();
  await until("it is in the book", async () => (await journal(watch, "fault")).length === 1);
  const wheel = (await watch.get(`/api/wheels/${wheels[1]}`)).wheel;
  assert.equal(wheel.marks[0].what, "mite dust");
  const again = wheel.marks[0].look_again;
  assert.ok(again > day());
  const then = await lines(watch, `/api/round?date=${again}`);
  assert.ok(then.some((l) => l.kinds.includes("look") && l.wheels.includes(wheels[1]!)), JSON.stringify(then));
  await page.getByText("marked, last of all").waitFor();
  await sound(page, "round-marked");
});

test("a fault that is only noted changes no care", { skip: missing }, async (t) => {
  const watch = await begin(t);
  const { wheels } = await onShelf(watch, "B3", 2);
  const page = await phone(t, watch, `/fault/wheels/${wheels[0]}`);
  await page.getByRole("button", { name: "smell" }).tap();
  await page.getByRole("button", { name: "only note it" }).tap();
  await until("it is in the book", async () => (await journal(watch, "fault")).length === 1);
  assert.ok((await lines(watch)).every((l) => !l.kinds.includes("look")));
});

test("little time: what waits is said with its day, nothing is skipped, and the page's sum is the house's", { skip: missing }, async (t) => {
  const watch = await begin(t);
  for (const shelf of ["A1", "A2", "A3"]) await onShelf(watch, shelf, 12, shelf === "A1" ? undefined : { cave: 1 });
  const page = await phone(t, watch);
  const { minutes } = await watch.get("/api/round");
  assert.match((await page.locator(".sumfig").textContent())!, new RegExp(`^${minutes}\\smin$`));
  await sound(page, "round-minutes");
  await page.getByRole("link", { name: "I have 5, 10, 15 minutes" }).tap();
  await page.getByRole("button", { name: "10", exact: true }).tap();
  await page.getByText(`of ${minutes} minutes.`).waitFor();
  await sound(page, "short");
  const { short } = await watch.get("/api/round?minutes=10");
  await page.getByRole("button", { name: "short round" }).tap();
  await page.locator("button.moved").first().waitFor();
  assert.equal(await page.locator("button.moved").count(), short.moved.length);
  assert.equal(await open(page).count(), short.keys.length);
  assert.equal((await journal(watch, "care")).length, 0);
});

/** "07:31" on the wall of Vienna, so many minutes ago. */
const wall = (before: number) => new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Vienna", hour: "2-digit", minute: "2-digit" }).format(Date.now() - before * 60_000);

test("a paper round typed back is signed at its hour, by its keeper, with the wheels left out", { skip: missing }, async (t) => {
  const watch = await begin(t);
  await onShelf(watch, "A1", 3);
  await onShelf(watch, "A2", 4, { cave: 1 });
  await watch.did({ kind: "keeper", name: "IH" });
  await watch.did({ kind: "keeper", name: "TR" });
  const page = await phone(t, watch, "/paper");
  await page.locator("td.no").nth(1).waitFor();
  assert.deepEqual(await page.locator("td.pl span").allTextContents(), ["A1", "A2"]);
  await sound(page, "paper");
  await page.getByRole("link", { name: "write a paper round back" }).tap();
  await page.getByRole("button", { name: /^\d\d:\d\d printed/ }).tap();
  await page.getByLabel("what stands on it").fill(`1 not 2: too high; 2, ${wall(3)}, TR`.replace("; 2,", `, ${wall(5)}, IH; 2,`));
  await sound(page, "paper-back");
  await deed(page).tap();
  await until("both are in the book", async () => (await journal(watch, "care")).length === 2);
  const cares = await journal(watch, "care");
  const of = (count: number) => cares.find((c: { count: number }) => c.count === count);
  assert.deepEqual([of(2).keeper, of(4).keeper], ["IH", "TR"]);
  const at = new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Vienna", hour: "2-digit", minute: "2-digit" }).format(of(4).at);
  assert.ok([wall(3), wall(4)].includes(at), at);
  const due = (await lines(watch)).filter((l) => l.state === "due");
  assert.deepEqual(due.map((l) => [l.place, l.numbers]), [["A1", [2]]]);
});

test("two keepers: who has which line is said on both phones", { skip: missing }, async (t) => {
  const watch = await begin(t);
  await onShelf(watch, "A1", 3);
  await onShelf(watch, "A2", 4, { cave: 1 });
  await watch.did({ kind: "keeper", name: "IH" });
  await watch.did({ kind: "keeper", name: "TR" });
  const [mine, theirs] = [await phone(t, watch), await phone(t, watch)];
  await mine.getByRole("button", { name: "IH", exact: true }).tap();
  await theirs.getByRole("button", { name: "TR", exact: true }).tap();
  await mine.getByRole("link", { name: "share the round" }).tap();
  await mine.locator(".entry", { hasText: "A2" }).last().getByRole("button", { name: "TR" }).tap();
  await mine.locator(".entry", { hasText: "A1" }).last().getByRole("button", { name: "IH" }).tap();
  await sound(mine, "share");
  await deed(mine).tap();
  await mine.getByText("TR has 1.").waitFor();
  await theirs.getByText("IH has 1.").waitFor();
  await open(theirs).filter({ hasText: "A2" }).tap();
  await until("signed by TR", async () => (await journal(watch, "care")).some((c: { keeper: string }) => c.keeper === "TR"));
  await mine.locator(".done", { hasText: "TR" }).waitFor();
});

test("after a missed week each wheel stands once, and “forgot, all fine” settles the past in one tap", { skip: missing || noTime }, async (t) => {
  const folder = temporaryFolder();
  const time = new Time();
  time.go(-8 * 86_400);
  const ago = await Watch.start({ folder, settings: kSettings, env: time.env });
  t.after(() => ago.end("SIGKILL"));
  const then = { tapped_at: time.now() };
  const entered = await ago.act({ ...then, kind: "enter", plan: "pressed-semi-hard", made: day(13), count: 3, where: { new: { kind: "box", name: "Box 1" } }, starts: [{ start: "entered box", day: day(10), reckoned: true }], last: [] },
    { "Sent-At": String(then.tapped_at) });
  assert.equal(entered.status, 200, entered.text);
  await ago.end();
  const watch = await begin(t, { folder });
  const { quiet_since } = await watch.get("/api/round");
  assert.ok(quiet_since, "days went by without a line");
  const page = await phone(t, watch);
  await page.getByText(/No lines since/).waitFor();
  const late = (await lines(watch)).filter((l) => l.state === "late");
  assert.equal(late.length, 1, "each wheel stands once");
  await page.getByText(/Look first/).waitFor();
  await sound(page, "missed-week");
  await page.getByRole("button", { name: "forgot, all fine" }).tap();
  await until("it is in the book", async () => (await journal(watch, "past")).length === 1);
  await until("nothing is late any more", async () => (await lines(watch)).every((l) => l.state !== "late"));
  await until("nor asked again", async () => (await page.getByText(/No lines since/).count()) === 0);
  await bar(page).getByRole("button", { name: "undo" }).tap();
  await until("late again", async () => (await lines(watch)).some((l) => l.state === "late"));
});

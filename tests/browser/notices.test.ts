// Who hears what and when, set on a phone; a test message through a real mail server; what went out, and what did not.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import type { Browser, Page } from "playwright-core";
import { address, host, missing, openBrowser, openPhone } from "../support/chromium.ts";
import { Mailbox } from "../support/mailbox.ts";
import { until } from "../support/until.ts";
import { Watch } from "../support/watch.ts";
import { findings, overflow, ready, shoot, smallTargets, still } from "./support/looks.ts";

let browser: Browser;
before(async () => {
  if (!missing) browser = await openBrowser();
});
after(async () => browser?.close());

const sound = async (page: Page, name: string) => {
  await still(page);
  assert.deepEqual([await overflow(page), await smallTargets(page), await findings(page)], [0, [], []], name);
  await shoot(page, name);
};

const hearers = async (watch: Watch): Promise<any[]> => (await watch.get("/api/notices")).hearers;
const hearer = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
const rows = (page: Page, name: string) => page.getByRole("region", { name, exact: true });

async function start(t: { after: (what: () => unknown) => void }, box?: Mailbox): Promise<{ watch: Watch; page: Page; errors: string[] }> {
  const watch = await Watch.start({ settings: { listen: [`names = ["${host}"]`], ...(box ? { mail: box.settings } : {}) } });
  t.after(() => watch.end("SIGKILL"));
  const { page, errors } = await openPhone(browser, { reducedMotion: "reduce", deviceScaleFactor: 1 });
  t.after(() => page.context().close());
  await page.goto(address(watch.port, "/notices"));
  await ready(page);
  return { watch, page, errors };
}

test("who hears what and when is set on the phone, in the order in which they are called, and kept", { skip: missing, timeout: 180_000 }, async (t) => {
  const { watch, page, errors } = await start(t, await Mailbox.start());
  await page.getByText(/Mail alone wakes nobody\. Let your phone ring at night for watch@cave\.example, or hang a bell on the topic rindwatch\/bell/).waitFor();
  await page.getByText("Nobody hears anything yet.").waitFor();
  await page.getByText("Nothing yet.").waitFor();
  await sound(page, "notices-empty");
  await page.getByLabel("initials").fill("IH");
  await page.getByRole("button", { name: "hears from now on" }).tap();
  const ih = rows(page, "IH");
  await ih.getByLabel("mail").fill("ih@cave.example, dairy@cave.example");
  await ih.getByText("Then hints and “keep an eye” wait for the end").waitFor();
  await ih.getByRole("button", { name: "time to act" }).tap();
  await ih.getByLabel("from", { exact: true }).first().fill("21.30");
  await ih.getByLabel("to", { exact: true }).fill("6");
  await ih.getByRole("button", { name: "daily" }).tap();
  await ih.getByLabel("at", { exact: true }).fill("7:05");
  await ih.getByLabel("evening").fill("");
  await ih.getByLabel("from", { exact: true }).last().fill("2026-12-24");
  await ih.getByLabel("back").fill("2026-12-20");
  assert.equal(await ih.getByRole("button", { name: "away then" }).count(), 0, "back before away is no holiday");
  await ih.getByLabel("back").fill("2027-01-02");
  await ih.getByRole("button", { name: "away then" }).tap();
  await ih.getByText("24 Dec to 2 Jan").waitFor();
  await sound(page, "notices-hearer");
  await page.getByRole("button", { name: "keep it" }).tap();
  const kept = await until("it is kept", async () => {
    const [one] = await hearers(watch);
    return one?.mail.length === 2 && one;
  });
  assert.deepEqual(kept, {
    name: "IH", rank: 1, mail: ["ih@cave.example", "dairy@cave.example"], webhooks: [], least: "act", quiet: { from: "21:30", to: "06:00" },
    list: "daily", morning: "07:05", evening: null, holidays: [{ from: "2026-12-24", back: "2027-01-02" }],
  });

  // An hour that is none cannot be kept; a second keeper, who then is called first.
  await hearer(page, "IH").tap();
  await ih.getByLabel("at", { exact: true }).fill("25:00");
  assert.equal(await page.getByRole("button", { name: "keep it" }).count(), 0);
  await ih.getByRole("button", { name: "shut" }).tap();
  await page.getByRole("button", { name: "somebody else hears" }).tap();
  await page.getByLabel("initials").fill("TR");
  await page.getByRole("button", { name: "hears from now on" }).tap();
  const tr = rows(page, "TR");
  await tr.getByLabel("mail").fill("tr@cave.example");
  await tr.getByRole("button", { name: "never" }).tap();
  assert.equal(await tr.getByLabel("at", { exact: true }).count(), 0, "who wants no list is asked for no hour");
  await page.getByRole("button", { name: "keep it" }).tap();
  await page.getByText("Gas from “time to act” on goes to all at once. Of all else the first is told at once, the next after 15 minutes, all after 45, until it is taken; where nobody else is to be called the same one again after 15 and 45").waitFor();
  await page.getByRole("button", { name: "earlier TR" }).tap();
  await until("TR is called first", async () => (await hearers(watch)).map((one) => one.name).join() === "TR,IH");
  await page.reload();
  await ready(page);
  await page.getByText("time to act; list daily").waitFor();
  assert.equal(await page.getByText("A watch on the fridge’s own plug goes dark with the fridge and cannot tell of a power cut while it lasts.").count(), 1);
  await sound(page, "notices-two");

  // What was given up is given up, and who leaves hears no more.
  await hearer(page, "IH").tap();
  await ih.getByRole("button", { name: "drop 2026-12-24" }).tap();
  await page.getByRole("button", { name: "keep it" }).tap();
  await until("the holiday is dropped", async () => (await hearers(watch)).at(1)?.holidays.length === 0);
  await hearer(page, "TR").tap();
  await tr.getByRole("button", { name: "hears no more" }).tap();
  await until("TR has left", async () => (await hearers(watch)).length === 1);
  assert.deepEqual(errors, []);
  await watch.end();
});

test("a test message arrives, and stands in the log with its words; of a server that is gone the page says so", { skip: missing, timeout: 180_000 }, async (t) => {
  const box = await Mailbox.start();
  const { watch, page, errors } = await start(t, box);
  await watch.did({ kind: "hearing", name: "IH", rank: 1, mail: ["ih@cave.example"], list: "never" });
  await hearer(page, "IH").tap();
  await page.getByRole("button", { name: "try it now ih@cave.example" }).tap();
  const [got] = await box.has(1);
  assert.deepEqual(got!.to, ["ih@cave.example"]);
  assert.equal(got!.mail.subject, "A test from the cave");
  assert.match(got!.mail.text!, /Mail alone wakes nobody/);
  await page.getByRole("status").filter({ hasNotText: "on its way" }).waitFor();
  await sound(page, "notices-tried");

  await box.down();
  await page.getByRole("button", { name: "try it now ih@cave.example" }).tap();
  await page.getByRole("status").filter({ hasText: "nobody answers at this port" }).waitFor();
  await page.getByRole("button", { name: "shut" }).tap();
  const log = page.getByRole("link", { name: /A test from the cave/ });
  await until("both stand in the log", async () => (await log.count()) === 2);
  assert.match((await log.first().textContent())!, /to ih@cave\.example.*given up.*nobody answers at this port/s);
  assert.match((await log.last().textContent())!, /sent \d\d:\d\d/);
  await sound(page, "notices-log");
  await log.last().tap();
  await page.getByRole("heading", { name: "A test from the cave" }).waitFor();
  await page.locator("pre.letter", { hasText: "If you read this, notices reach you here." }).waitFor();
  await ready(page);
  await sound(page, "notices-letter");
  await page.evaluate(() => { document.documentElement.dataset["paper"] = "light"; });
  await sound(page, "notices-letter-light");
  await page.getByRole("link", { name: "Notices" }).last().tap();
  await page.getByRole("heading", { name: "Notices" }).waitFor();
  await sound(page, "notices-log-light");
  assert.deepEqual(errors, []);
  await watch.end();
});

test("without a mail server the page says that no mail goes out", { skip: missing, timeout: 120_000 }, async (t) => {
  const { watch, page, errors } = await start(t);
  await page.getByText("No mail goes out: the configuration names no server under [mail].").waitFor();
  await watch.did({ kind: "hearing", name: "", rank: 1, mail: ["me@cave.example"] });
  await hearer(page, "you").tap();
  await page.getByRole("button", { name: "try it now me@cave.example" }).tap();
  await page.getByRole("status").filter({ hasText: /\[mail\]|server/ }).waitFor();
  await sound(page, "notices-no-server");
  assert.deepEqual(errors, []);
  await watch.end();
});

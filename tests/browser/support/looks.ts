// What is held against every screen: no finding of axe-core, nothing wider than the glass, no target too small for a
// thumb; and a picture of it in build/shots.
import assert from "node:assert/strict";
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";

const kRoot = fileURLToPath(new URL("../../../", import.meta.url));
const kAxe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** WCAG A to 2.2 AA and axe-core's best practice; each finding with the elements that it is about. */
export async function findings(page: Page): Promise<string[]> {
  // Through the debugger, as the page's own content policy forbids foreign scripts.
  await page.evaluate(kAxe);
  return page.evaluate(async () => {
    const axe = (globalThis as unknown as { axe: { run: (options: object) => Promise<{ violations: { id: string; help: string; nodes: { html: string }[] }[] }> } }).axe;
    const { violations } = await axe.run({ runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] });
    return violations.map((v) => `${v.id}: ${v.help}: ${v.nodes.map((n) => n.html.slice(0, 160)).join(" | ")}`);
  });
}

/** By how many pixels the page is wider than the glass. */
export const overflow = (page: Page): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/** Everything that can be tapped and is under 48 px high or wide. */
export function smallTargets(page: Page, least = 48): Promise<string[]> {
  return page.evaluate((size) => {
    const found: string[] = [];
    for (const element of document.querySelectorAll("a[href], button, input, textarea, select")) {
      const box = element.getBoundingClientRect();
      if (box.width === 0 || box.height === 0 || (element as HTMLButtonElement).disabled) continue;
      if (box.height < size - 0.01 || box.width < size - 0.01) found.push(`${Math.round(box.width)} x ${Math.round(box.height)}: ${element.outerHTML.slice(0, 120)}`);
    }
    return found;
  }, least);
}

/** What stands over something else: figures of a place that touch, a name or an hour that leaves its margin. */
export function cramped(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const ink = {
      of(element: Element): DOMRect {
        const range = document.createRange();
        range.selectNodeContents(element);
        return range.getBoundingClientRect();
      },
    };
    for (const row of document.querySelectorAll(".cols")) {
      const parts = [...row.children].filter((part) => part.textContent !== "" && part.getBoundingClientRect().width > 0);
      for (const [i, part] of parts.entries()) {
        const next = parts[i + 1];
        const beside = next && Math.abs(ink.of(next).top - ink.of(part).top) < 20;
        if (beside && ink.of(next).left - ink.of(part).right < 6) found.push(`"${part.textContent}" touches "${next.textContent}"`);
      }
    }
    for (const name of document.querySelectorAll(".m .place")) {
      const rule = name.closest(".m")!.getBoundingClientRect();
      if (rule.width > 100 || rule.width === 0) continue; // laid down over the entry, or on wider glass
      if (ink.of(name).right > rule.right - 8) found.push(`"${name.textContent}" stands over the double rule`);
    }
    for (const text of document.querySelectorAll(".ribbon text")) {
      const box = text.getBoundingClientRect();
      if (box.width > 0 && box.left < 1) found.push(`"${text.textContent}" of a ribbon is cut off at ${box.left.toFixed(1)}`);
    }
    return found;
  });
}

/** Where pictures lie: build/shots, or RINDWATCH_SHOTS. */
export const shotsFolder = (): string => process.env["RINDWATCH_SHOTS"] ?? path.join(kRoot, "build", "shots");

/** A picture of what is on the glass: build/shots/NAME.png. */
export async function shoot(page: Page, name: string): Promise<void> {
  const folder = shotsFolder();
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: path.join(folder, `${name}.png`) });
}

/** A page is ready when its place has been answered and drawn. */
export async function ready(page: Page): Promise<void> {
  await page.locator("main:not(.asking)").waitFor({ state: "attached" });
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
  await page.waitForLoadState("load");
}

/** Once whatever moves has come to its end and what was asked to scroll stands still. */
export async function still(page: Page): Promise<void> {
  await page.evaluate(async () => {
    for (let same = 0, before = ""; same < 3; ) {
      await new Promise((resolve) => requestAnimationFrame(resolve));
      const moving = document.getAnimations().filter((one) => one.playState === "running");
      const now = `${scrollX} ${scrollY} ${document.documentElement.scrollHeight} ${moving.length}`;
      same = now === before && moving.length === 0 ? same + 1 : 0;
      before = now;
    }
  });
}

/** How many acts lie in the phone's own store, where a page that is shut leaves them. */
export const onShelf = (page: Page): Promise<number> => page.evaluate(() => new Promise<number>((resolve, reject) => {
  const opening = indexedDB.open("rindwatch");
  opening.onerror = () => reject(opening.error);
  opening.onsuccess = () => {
    const counting = opening.result.transaction("taps").objectStore("taps").count();
    counting.onerror = () => reject(counting.error);
    counting.onsuccess = () => {
      opening.result.close();
      resolve(counting.result);
    };
  };
}));

/** A picture of the page, and all that is held against every screen. */
export async function sound(page: Page, name: string): Promise<void> {
  const faults = [...(await smallTargets(page)), ...(await findings(page))];
  const wider = await overflow(page);
  if (wider > 0) faults.push(`${wider} px wider than the glass`);
  await shoot(page, `program-${name}`);
  assert.deepEqual(faults, [], name);
}

// One browser for the tests: the machine's own Chromium, and a name for the house that is not localhost, because a phone
// on the cellar's network has no localhost either.
import { existsSync } from "node:fs";
import { chromium, type Browser, type BrowserContext } from "playwright-core";

export const kName = "cellar.test";
const kPlaces = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

export function chromePath(): string | undefined {
  return process.env["CHROME"] ?? kPlaces.find((path) => existsSync(path));
}

export async function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: chromePath()!,
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync", `--host-resolver-rules=MAP ${kName} 127.0.0.1`],
  });
}

export interface Look { width?: number; height?: number; light?: boolean; forced?: boolean; still?: boolean }

export async function openPhone(browser: Browser, { width = 360, height = 740, light = false, forced = false, still = true }: Look = {}): Promise<BrowserContext> {
  const context = await browser.newContext({
    viewport: { width, height }, deviceScaleFactor: 1, hasTouch: width < 1000, reducedMotion: still ? "reduce" : "no-preference",
    ...(forced ? { forcedColors: "active" as const } : {}),
  });
  if (light) await context.addInitScript(() => localStorage.setItem("paper", "light"));
  return context;
}

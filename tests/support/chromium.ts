// Debian's Chromium, as a phone on the cellar's network would see the page: over plain http on a name that is not
// localhost, since localhost has powers that a phone never gets.
import { existsSync } from "node:fs";
import { chromium, type Browser, type BrowserContextOptions, type Page } from "playwright-core";
import { atExit } from "./cleanup.ts";

/** The name under which the page is reached; the daemon must list it. */
export const host = "cellar.test";

const executable = "/usr/bin/chromium";

export const missing = existsSync(executable) ? false : `${executable} is not there`;

export async function openBrowser(): Promise<Browser> {
  const browser = await chromium.launch({
    executablePath: executable,
    args: [
      `--host-resolver-rules=MAP ${host} 127.0.0.1`,
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
    ],
  });
  atExit(() => void browser.close().catch(() => undefined));
  return browser;
}

/** A page the size of a phone's screen, dark unless asked otherwise. Errors of its scripts are collected. */
export async function openPhone(
  browser: Browser,
  options: BrowserContextOptions = {},
): Promise<{ page: Page; errors: string[] }> {
  const context = await browser.newContext({
    viewport: { width: 360, height: 740 },
    deviceScaleFactor: 2,
    hasTouch: true,
    isMobile: true,
    locale: "en-GB",
    timezoneId: "Europe/Vienna",
    colorScheme: "dark",
    ...options,
  });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  return { page, errors };
}

/** The address of a port on that name. */
export const address = (port: number, path = "/"): string => `http://${host}:${port}${path}`;

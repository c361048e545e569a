// Where the page stands: its address, by the browser's own history.
import { Cell } from "./cell";

export const path = new Cell(location.pathname);

export function go(to: string, replace = false): void {
  if (to === location.pathname) return;
  if (replace) history.replaceState(null, "", to);
  else history.pushState(null, "", to);
  path.set(location.pathname);
  if (!replace) scrollTo(0, 0);
}

export function back(otherwise: string): void {
  if (history.length > 1) history.back();
  else go(otherwise, true);
}

function isPlainClick(event: MouseEvent): boolean {
  return event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey && !event.altKey && !event.defaultPrevented;
}

/** Links within the page change the address without loading it again. */
export function startRouting(): void {
  addEventListener("popstate", () => path.set(location.pathname));
  document.addEventListener("click", (event) => {
    if (!isPlainClick(event)) return;
    const link = (event.target as Element).closest?.("a[href]") as HTMLAnchorElement | null;
    if (!link || link.origin !== location.origin || link.target || link.hasAttribute("download")) return;
    if (link.pathname.startsWith("/api/") || link.pathname === "/metrics") return;
    event.preventDefault();
    go(link.pathname);
  });
}

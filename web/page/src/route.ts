// Where the page stands: its address, by the browser's own history.
import { Cell } from "./cell";

export const path = new Cell(location.pathname);

/** How many steps of the page's own lie before this one; the browser keeps it with the address. */
const depth = (): number => (history.state as { depth?: number } | null)?.depth ?? 0;

export function go(to: string, replace = false): void {
  if (to === location.pathname) return;
  if (replace) history.replaceState({ depth: depth() }, "", to);
  else history.pushState({ depth: depth() + 1 }, "", to);
  path.set(location.pathname);
  if (!replace) scrollTo(0, 0);
}

/** Back to where the keeper came from, within the page; whoever opened this address itself goes on to another. */
export function back(otherwise: string): void {
  if (depth() > 0) history.back();
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

// Dark paper is the page's own: the cellar is dark. Light is chosen, and kept on this phone.
import { Cell } from "./cell";

export type Paper = "dark" | "light";
const kKey = "paper";
const kColour: Record<Paper, string> = { dark: "#14110d", light: "#f3ecdc" };

function kept(): Paper {
  try {
    return localStorage.getItem(kKey) === "light" ? "light" : "dark";
  } catch {
    return "dark";
  }
}

export const paper = new Cell<Paper>(kept());

function lay(which: Paper): void {
  document.documentElement.toggleAttribute("data-paper", false);
  if (which === "light") document.documentElement.setAttribute("data-paper", "light");
  document.querySelector('meta[name="theme-color"]')?.setAttribute("content", kColour[which]);
}

export function choosePaper(which: Paper): void {
  try {
    localStorage.setItem(kKey, which);
  } catch {
    // A phone that keeps nothing still shows it until the page is closed.
  }
  lay(which);
  paper.set(which);
}

/** Before the first drawing, so that nothing flashes. */
export function layPaper(): void {
  lay(paper.value);
}

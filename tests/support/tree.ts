// Where things lie: the checkout, its build folder and what was built there.
import { existsSync, readdirSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

/** The top of the checkout. */
export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "../..");

/** The build folder under test: RINDWATCH_BUILD, or the everyday one. */
export const build = path.resolve(root, process.env["RINDWATCH_BUILD"] ?? "build/everyday");

/** The program under test. */
export const rindwatch = path.join(build, "bin/rindwatch");

/** How often a costly case is repeated: RINDWATCH_KILLS and RINDWATCH_SEEDS, or the everyday number. */
export function times(variable: "RINDWATCH_KILLS" | "RINDWATCH_SEEDS", everyday: number): number {
  return Number(process.env[variable] ?? everyday);
}

/** Every file below a folder of the checkout whose name matches, as absolute paths; npm's folders are left out. */
export function filesBelow(folder: string, name: RegExp): string[] {
  const start = path.resolve(root, folder);
  if (!existsSync(start)) return [];
  return readdirSync(start, { withFileTypes: true })
    .filter((entry) => entry.name !== "node_modules" && entry.name !== "dist")
    .flatMap((entry) => {
      const full = path.join(start, entry.name);
      if (entry.isDirectory()) return filesBelow(full, name);
      return name.test(entry.name) ? [full] : [];
    })
    .sort();
}

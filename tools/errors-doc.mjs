// Writes docs/errors.md from the catalogues of codes, or with --check says what differs.
//
//   node tools/errors-doc.mjs            writes the file
//   node tools/errors-doc.mjs --check    exits 1 when a code is missing there, or is only there, or a text is stale
import { build } from "esbuild";
import { existsSync, readFileSync, writeFileSync } from "node:fs";

const path = "docs/errors.md";
const bundled = await build({
  entryPoints: ["tools/errors-doc.ts"],
  bundle: true,
  write: false,
  platform: "node",
  format: "esm",
  logLevel: "warning",
});
const source = Buffer.from(bundled.outputFiles[0].contents).toString("base64");
const { differences, errorsDocument } = await import(`data:text/javascript;base64,${source}`);

if (process.argv.includes("--check")) {
  const written = existsSync(path) ? readFileSync(path, "utf8") : "";
  const found = differences(written);
  for (const line of found) console.log(line);
  if (found.length > 0) console.log(`Write ${path} again with: node tools/errors-doc.mjs`);
  process.exitCode = found.length > 0 ? 1 : 0;
} else {
  writeFileSync(path, errorsDocument());
  console.log(`wrote ${path}`);
}

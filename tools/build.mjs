// Bundles the command into one file, so that the packed tarball needs nothing but Node.
import { build } from "esbuild";
import { chmodSync, existsSync, mkdirSync, symlinkSync } from "node:fs";

const out = "dist/earthbell.js";
await build({
  entryPoints: ["apps/cli/src/main.ts"],
  outfile: out,
  bundle: true,
  platform: "node",
  target: "node20.19",
  format: "esm",
  minify: false,
  banner: { js: "#!/usr/bin/env node" },
  logLevel: "warning",
});
chmodSync(out, 0o755);

// npm links the commands of dependencies but not of the root package itself; `npx earthbell` in a checkout needs the link.
const link = "node_modules/.bin/earthbell";
if (existsSync("node_modules") && !existsSync(link)) {
  mkdirSync("node_modules/.bin", { recursive: true });
  symlinkSync("../../dist/earthbell.js", link);
}

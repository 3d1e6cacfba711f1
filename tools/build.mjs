// Builds the web app into dist/web, which the desk serves, and bundles the command into dist/: earthbell.js for what every
// command needs, chunks for what only the desk needs. The packed tarball needs nothing but Node, and for the desk the database
// driver, which is native and cannot be bundled.
import { build } from "esbuild";
import { build as buildWeb } from "vite";
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { buildOtherFonts } from "./other-fonts.mjs";
import { brotliCompressSync, gzipSync } from "node:zlib";

const folder = "dist";
const out = `${folder}/earthbell.js`;
for (const name of existsSync(folder) ? readdirSync(folder) : [])
  if (name.endsWith(".js")) rmSync(`${folder}/${name}`);

// Some of the bundled libraries are CommonJS and ask for these; the names are ours so that none of theirs is hidden.
const banner = `
import { createRequire as earthbellRequire } from "node:module";
import { fileURLToPath as earthbellPath } from "node:url";
import { dirname as earthbellFolder } from "node:path";
const require = earthbellRequire(import.meta.url);
const __filename = earthbellPath(import.meta.url);
const __dirname = earthbellFolder(__filename);`;

await build({
  entryPoints: {
    earthbell: "apps/cli/src/main.ts",
    "paper-worker": "apps/cli/src/paper/paper-worker.ts",
    "judge-worker": "apps/desk/src/judge/judge-worker.ts",
  },
  outdir: folder,
  chunkNames: "part-[name]-[hash]",
  splitting: true,
  bundle: true,
  platform: "node",
  target: "node20.19",
  format: "esm",
  minify: false,
  // Native, or optional parts of libraries that are not installed.
  external: [
    "better-sqlite3",
    "@myriaddreamin/typst-ts-node-compiler",
    "pg-native",
    "serialport",
    "bufferutil",
    "utf-8-validate",
  ],
  banner: { js: `#!/usr/bin/env node${banner}` },
  logLevel: "warning",
});
chmodSync(out, 0o755);

// Papers are set in fonts that ship with the program, so that the same records give the same bytes everywhere.
mkdirSync(`${folder}/fonts`, { recursive: true });
copyFileSync("node_modules/dejavu-fonts-ttf/LICENSE", `${folder}/fonts/LICENSE`);
for (const name of ["DejaVuSans", "DejaVuSans-Bold", "DejaVuSans-Oblique", "DejaVuSansMono"])
  copyFileSync(`node_modules/dejavu-fonts-ttf/ttf/${name}.ttf`, `${folder}/fonts/${name}.ttf`);
await buildOtherFonts(`${folder}/fonts/other`, `${folder}/fonts/DejaVuSans.ttf`);

// Photos are unpacked and packed by WebAssembly, which no bundler takes in.
mkdirSync(`${folder}/codecs`, { recursive: true });
for (const path of [
  "jpeg/LICENSE",
  "jpeg/codec/LICENSE.codec.md",
  "jpeg/codec/dec/mozjpeg_dec.wasm",
  "jpeg/codec/enc/mozjpeg_enc.wasm",
  "png/codec/pkg/squoosh_png_bg.wasm",
  "webp/codec/dec/webp_dec.wasm",
])
  copyFileSync(`node_modules/@jsquash/${path}`, `${folder}/codecs/${path.slice(path.lastIndexOf("/") + 1)}`);

if (!process.argv.includes("--command-only")) {
  await buildWeb({ root: "apps/web", logLevel: "error" });
  for (const name of readdirSync(`${folder}/web`, { recursive: true })) compress(`${folder}/web/${name}`);
}

/** Packs a text once and well, beside itself, so that a desk need not pack it for every reader. */
function compress(file) {
  if (!/\.(?:js|css|html|svg|webmanifest)$/u.test(file) || statSync(file).size < 1024) return;
  const text = readFileSync(file);
  writeFileSync(`${file}.br`, brotliCompressSync(text));
  writeFileSync(`${file}.gz`, gzipSync(text, { level: 9 }));
}

// npm links the commands of dependencies but not of the root package itself; `npx earthbell` in a checkout needs the link.
const link = "node_modules/.bin/earthbell";
if (existsSync("node_modules") && !existsSync(link)) {
  mkdirSync("node_modules/.bin", { recursive: true });
  symlinkSync("../../dist/earthbell.js", link);
}

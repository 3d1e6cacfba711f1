// Fonts for the scripts that DejaVu Sans lacks: Chinese, Japanese, Korean and emoji. Their packages hold them for web pages, in
// many small packed files of every weight; the compiler of papers reads plain TrueType of one weight. An index says which file
// draws what, so that a paper loads the few that it needs.
import { build } from "esbuild";
import { createHash } from "node:crypto";
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { basename } from "node:path";
import subsetFont from "subset-font";

/** A web font of all weights in many files, or a folder with one that is ready. */
const FAMILIES = [
  { script: "chinese", pack: "@fontsource-variable/noto-sans-sc", files: "files", licence: "LICENSE" },
  { script: "japanese", pack: "@fontsource-variable/noto-sans-jp", files: "files", licence: "LICENSE" },
  { script: "korean", pack: "@fontsource-variable/noto-sans-kr", files: "files", licence: "LICENSE" },
  { script: "emoji", pack: "@expo-google-fonts/noto-emoji", files: "400Regular", licence: "LICENSE_FONT" },
];
const WEIGHT = 400;
/** Private use, which means nothing to a reader, and marks that only steer their neighbours. */
const NO_LETTER = /[\p{Co}\p{Cc}\p{Variation_Selector}]/u;

/**
 * Writes the fonts, their index and their licences into a folder, unless those of these very packages are there already.
 *
 * @param first  the font whose characters need no other
 */
export async function buildOtherFonts(folder, first) {
  const stamp = stampOfSources(first);
  const index = `${folder}/index.json`;
  if (existsSync(index) && JSON.parse(readFileSync(index, "utf8")).stamp === stamp) return;
  // Whole or not at all, whatever else is being built at the same time.
  const draft = `${folder}.${process.pid}`;
  mkdirSync(draft, { recursive: true });
  const characterSpans = await spansReader();
  const drawnFirst = new Set(characters(characterSpans(readFileSync(first))));
  const fonts = [];
  for (const { script, pack, files, licence } of FAMILIES) {
    copyFileSync(`node_modules/${pack}/${licence}`, `${draft}/LICENSE-${script}`);
    for (const source of fontFiles(`node_modules/${pack}/${files}`)) {
      const font = await plainFont(source);
      const more = characters(characterSpans(font)).filter((one) => !drawnFirst.has(one) && isLetter(one));
      if (more.length === 0) continue;
      const file = `${script}-${fonts.length}.ttf`;
      writeFileSync(`${draft}/${file}`, font);
      fonts.push({ script, file, spans: spansOf(more) });
    }
  }
  writeFileSync(`${draft}/index.json`, JSON.stringify({ stamp, fonts }));
  rmSync(folder, { recursive: true, force: true });
  renameSync(draft, folder);
}

/** Changes with what is read and with how it is treated. */
function stampOfSources(first) {
  const hash = createHash("sha256");
  const packs = FAMILIES.map(({ pack }) => `node_modules/${pack}/package.json`);
  const readers = ["tools/other-fonts.mjs", "node_modules/subset-font/package.json"];
  for (const path of [first, ...packs, ...readers]) hash.update(readFileSync(path));
  return hash.digest("hex");
}

function fontFiles(folder) {
  return readdirSync(folder)
    .filter((name) => /\.(?:woff2|ttf)$/u.test(name))
    .sort((one, other) => one.localeCompare(other, "en", { numeric: true }))
    .map((name) => `${folder}/${name}`);
}

async function plainFont(path) {
  const bytes = readFileSync(path);
  if (basename(path).endsWith(".ttf")) return bytes;
  const options = {
    keepAllGlyphs: true,
    variationAxes: { wght: WEIGHT },
    noHinting: true,
    targetFormat: "sfnt",
  };
  return subsetFont(bytes, undefined, options);
}

/** The program's own reader of a font's characters, so that the index says what the program would find. */
async function spansReader() {
  const { outputFiles } = await build({
    entryPoints: ["tools/font-characters.ts"],
    bundle: true,
    write: false,
    format: "esm",
    logLevel: "warning",
  });
  const source = Buffer.from(outputFiles[0].contents).toString("base64");
  return (await import(`data:text/javascript;base64,${source}`)).characterSpans;
}

function characters(spans) {
  return spans.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, step) => from + step));
}

function isLetter(codePoint) {
  return !NO_LETTER.test(String.fromCodePoint(codePoint));
}

/** Neighbours as one span, from the least to the greatest. */
export function spansOf(codePoints) {
  const spans = [];
  for (const one of codePoints.toSorted((a, b) => a - b)) {
    const last = spans.at(-1);
    if (last !== undefined && one <= last[1] + 1) last[1] = one;
    else spans.push([one, one]);
  }
  return spans;
}

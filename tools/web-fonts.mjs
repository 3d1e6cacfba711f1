// The typefaces of the web app, cut from the packages of DejaVu: what nearly every line is made of in one small file, which is
// fetched ahead of every page, and the rest in another, which a browser fetches when a page shows one of its characters.
// Run it after a change here; what it writes is committed.
import { writeFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import subsetFont from "subset-font";
import { spansOf } from "./other-fonts.mjs";

const FACES = [
  { file: "DejaVuSansCondensed", family: "Earthbell Sans", weight: 400 },
  { file: "DejaVuSansCondensed-Bold", family: "Earthbell Sans", weight: 700 },
  { file: "DejaVuSansMono", family: "Earthbell Mono", weight: 400 },
];
const OFTEN = [[0x20, 0x7e], ..."\u00a0°±²·×áéíñóúµΩ–—‘’“”…→−≤≥■▲◆●○".split("").map(one)];
const SELDOM = [
  ...[[0xa1, 0x17f], [0x218, 0x21b], one("ˆ"), one("˚"), [0x391, 0x3a1], [0x3a3, 0x3c9]],
  ...[
    [0x2009, 0x2015],
    [0x201a, 0x2022],
    [0x202f, 0x2033],
    [0x2039, 0x203a],
    [0x2070, 0x208e],
  ],
  ...[
    one("€"),
    one("ℓ"),
    one("№"),
    one("™"),
    one("\u2126"),
    [0x2150, 0x215e],
    [0x2190, 0x2199],
    one("↩"),
    one("↵"),
  ],
  ...[one("√"), one("∞"), one("≈"), one("≠"), one("⋅"), one("⌀"), one("⌫"), one("⏎"), [0x2500, 0x259f]],
  ...[[0x25a0, 0x25cf], one("☀"), [0x2610, 0x2612], one("✓"), one("✕"), one("✗")],
];
const FOLDER = "apps/web/src/fonts";

function one(character) {
  return [character.codePointAt(0), character.codePointAt(0)];
}

const drawn = (spans) =>
  spans.flatMap(([from, to]) => Array.from({ length: to - from + 1 }, (_, step) => from + step));
const often = new Set(drawn(OFTEN));
const seldom = drawn(SELDOM).filter((codePoint) => !often.has(codePoint));

/** Code points as a style sheet names them, neighbours as one span. */
function ranges(codePoints) {
  const hex = (codePoint) => codePoint.toString(16).padStart(2, "0");
  return spansOf(codePoints)
    .map(([from, to]) => `u+${hex(from)}${from === to ? "" : `-${hex(to)}`}`)
    .join(", ");
}

const rules = [];
for (const { file, family, weight } of FACES) {
  const whole = await readFile(`node_modules/dejavu-fonts-ttf/ttf/${file}.ttf`);
  for (const [part, codePoints] of [
    ["", [...often]],
    ["-seldom", seldom],
  ]) {
    const text = String.fromCodePoint(...codePoints);
    writeFileSync(
      `${FOLDER}/${file}${part}.woff2`,
      await subsetFont(whole, text, { targetFormat: "woff2", noHinting: true }),
    );
    rules.push(`@font-face {
  font-family: "${family}";
  src: url("../fonts/${file}${part}.woff2") format("woff2");
  font-weight: ${weight};
  font-display: swap;
  unicode-range: ${ranges(codePoints)};
}`);
  }
}
writeFileSync(
  "apps/web/src/look/typefaces.css",
  `/* Written by tools/web-fonts.mjs; licence in ../fonts/LICENSE. */\n${rules.join("\n")}\n`,
);

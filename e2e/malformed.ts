import { readFileSync } from "node:fs";

/** A file that must be refused: what is wrong with it, and the code that must say so. */
export interface Malformed {
  readonly name: string;
  readonly text: string | Buffer;
  readonly code: string;
  /** The line the message must point to, where the slip is on one. */
  readonly line?: number;
}

const site = readFileSync("e2e/fixtures/windmill.yaml", "utf8");
const visit = readFileSync("e2e/fixtures/windmill-visit.yaml", "utf8");

/** The same where the slip shows only on a later line, or nowhere. */
function changedText(text: string, from: string, to: string): { readonly text: string } {
  return { text: changed(text, from, to).text };
}

/** The text with one part replaced; a part that is not there would test nothing. */
function changed(text: string, from: string, to: string): { readonly text: string; readonly line: number } {
  const at = text.indexOf(from);
  if (at < 0) throw new Error(`not in the fixture: ${from}`);
  return { text: text.replace(from, to), line: text.slice(0, at).split("\n").length };
}

/** A list nested far deeper than any reader should follow. */
const deepList = `format: earthbell.site/1\nsite: ${"[".repeat(200_000)}`;
const deepJson = `{"format":"earthbell.visit/1","strings":${'{"a":'.repeat(200_000)}1${"}".repeat(200_000)}}`;
/** Each line doubles the one before nine times over: a thousand million values from one kilobyte. */
const aliasBomb = [
  "format: earthbell.site/1",
  "a: &a [x, x, x, x, x, x, x, x, x]",
  ..."bcdefghij".split("").map((key, index) => {
    const before = "abcdefghi"[index]!;
    return `${key}: &${key} [${Array.from({ length: 9 }, () => `*${before}`).join(", ")}]`;
  }),
].join("\n");

export const malformedSites: readonly Malformed[] = [
  { name: "an empty file", text: "", code: "INPUT_FILE_EMPTY" },
  { name: "comments only", text: "# a site\n# to be written\n", code: "INPUT_FILE_EMPTY" },
  { name: "a list", text: "- format: earthbell.site/1\n", code: "INPUT_RECORD_NOT_A_MAP" },
  { name: "a visit", text: visit, code: "INPUT_FORMAT_WRONG", line: 3 },
  {
    name: "no format line",
    ...changedText(site, "format: earthbell.site/1\n", ""),
    code: "INPUT_FIELD_MISSING",
  },
  { name: "an unknown field", ...changed(site, "earthing:", "erthing:"), code: "INPUT_FIELD_UNKNOWN" },
  { name: "a country that is missing", ...changed(site, "country: AU, ", ""), code: "INPUT_FIELD_MISSING" },
  {
    name: "a unit of another kind",
    ...changed(site, "pmax: 400 W", "pmax: 400 V"),
    code: "QUANTITY_UNIT_WRONG",
  },
  {
    name: "a decimal comma",
    ...changed(site, "voc: 48.0 V", 'voc: "48,0 V"'),
    code: "QUANTITY_DECIMAL_COMMA",
  },
  {
    name: "a negative voltage",
    ...changed(site, "voc: 48.0 V", "voc: -48.0 V"),
    code: "QUANTITY_OUT_OF_RANGE",
  },
  {
    name: "a word where a number is wanted",
    ...changed(site, "modules: 14", "modules: many"),
    code: "INPUT_TYPE_WRONG",
  },
  {
    name: "more modules than there are",
    ...changed(site, "modules: 14", "modules: 1e12"),
    code: "INPUT_NUMBER_OUT_OF_RANGE",
  },
  {
    name: "a day that does not exist",
    ...changed(site, "2019-03-14", "2019-02-30"),
    code: "INPUT_DATE_INVALID",
  },
  {
    name: "an unknown inverter",
    ...changed(site, "inverter: INV1", "inverter: INV7"),
    code: "INPUT_REFERENCE_UNKNOWN",
  },
  {
    name: "two arrays of one name",
    ...changed(site, "{id: S2, modules", "{id: S1, modules"),
    code: "INPUT_ID_DUPLICATE",
  },
  {
    name: "a word that is no choice",
    ...changed(site, "floating", "flaoting"),
    code: "INPUT_CHOICE_UNKNOWN",
  },
  {
    name: "a bracket left open",
    ...changedText(site, "modules: 14}]", "modules: 14}"),
    code: "INPUT_SYNTAX_INVALID",
  },
  {
    name: "a tab as indentation",
    ...changed(site, "  id: windmill", "\tid: windmill"),
    code: "INPUT_TAB_INDENT",
  },
  {
    name: "bytes that are no text",
    text: Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0x80]),
    code: "INPUT_ENCODING_NOT_UTF8",
  },
  { name: "a nest without end", text: deepList, code: "INPUT_NESTING_TOO_DEEP" },
  { name: "aliases that multiply", text: aliasBomb, code: "INPUT_ALIAS_TOO_MANY" },
  {
    name: "a megabyte of keys",
    text: `format: earthbell.site/1\n${keys(80_000)}`,
    code: "INPUT_FIELD_UNKNOWN",
  },
  { name: "fifty megabytes", text: Buffer.alloc(50 * 1024 * 1024, "x"), code: "INPUT_FILE_TOO_LARGE" },
];

export const malformedVisits: readonly Malformed[] = [
  { name: "an empty file", text: "", code: "INPUT_FILE_EMPTY" },
  { name: "a single word", text: "readings\n", code: "INPUT_RECORD_NOT_A_MAP" },
  { name: "a site", text: site, code: "INPUT_FORMAT_WRONG", line: 2 },
  { name: "a version to come", ...changed(visit, "visit/1", "visit/9"), code: "INPUT_FORMAT_WRONG" },
  { name: "no readings", text: visit.slice(0, visit.indexOf("readings:")), code: "INPUT_FIELD_MISSING" },
  { name: "an unknown field", ...changed(visit, "substrings", "subtrings"), code: "INPUT_FIELD_UNKNOWN" },
  { name: "a value that is missing", ...changed(visit, ", value: 800 V", ""), code: "INPUT_FIELD_MISSING" },
  {
    name: "a value without meaning",
    ...changed(visit, "value: 800 V", "value: lots"),
    code: "QUANTITY_NOT_A_NUMBER",
  },
  {
    name: "a value in ohms",
    ...changed(visit, "value: 278.6 V", "value: 278.6 Ω"),
    code: "QUANTITY_UNIT_WRONG",
  },
  { name: "infinity", ...changed(visit, "value: 800 V", "value: .inf V"), code: "QUANTITY_NOT_A_NUMBER" },
  {
    name: "an unknown string",
    ...changed(visit, "on: S1, from: +, to: -", "on: S9, from: +, to: -"),
    code: "INPUT_REFERENCE_UNKNOWN",
  },
  {
    name: "an unknown meter",
    ...changed(visit, "with: meter, on: S1, from: +", "with: metre, on: S1, from: +"),
    code: "INPUT_REFERENCE_UNKNOWN",
  },
  {
    name: "both leads on one terminal",
    ...changed(visit, "from: +, to: -", "from: +, to: +"),
    code: "VISIT_TERMINALS_INVALID",
  },
  {
    name: "a segment the wrong way round",
    ...changed(visit, "on: S1, from: -, to: earth, v", "on: S1, segment: [9, 2], from: -, to: earth, v"),
    code: "VISIT_SEGMENT_INVALID",
  },
  {
    name: "a string of no modules",
    ...changed(visit, "modules: 20", "modules: 0"),
    code: "INPUT_NUMBER_OUT_OF_RANGE",
  },
  { name: "half a module", ...changed(visit, "modules: 20", "modules: 20.5"), code: "INPUT_" },
  {
    name: "a key twice",
    ...changed(visit, "wet: false", "wet: false, wet: true"),
    code: "INPUT_KEY_DUPLICATE",
  },
  { name: "a quote left open", ...changedText(visit, "id: S1,", 'id: "S1,'), code: "INPUT_SYNTAX_INVALID" },
  {
    name: "JSON cut off",
    text: '{"format": "earthbell.visit/1", "strings": [',
    code: "INPUT_SYNTAX_INVALID",
  },
  {
    name: "a NUL",
    text: Buffer.concat([Buffer.from(visit), Buffer.from([0])]),
    code: "INPUT_CHARACTER_NOT_ALLOWED",
  },
  { name: "two documents", text: `${visit}---\n${visit}`, code: "INPUT_DOCUMENTS_MORE_THAN_ONE" },
  { name: "JSON without end", text: deepJson, code: "INPUT_NESTING_TOO_DEEP" },
  {
    name: "one long number",
    text: `format: earthbell.visit/1\nstrings: ${"9".repeat(5_000_000)}`,
    code: "INPUT_",
  },
];

function keys(count: number): string {
  return Array.from({ length: count }, (_, index) => `k${index}: 1`).join("\n");
}

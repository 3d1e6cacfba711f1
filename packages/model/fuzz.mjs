// src/yaml/fuzz.ts
import { isDeepStrictEqual } from "node:util";
import fc from "fast-check";
import { isDeepStrictEqual as eq } from "node:util";
import { isScalar, parseDocument, stringify, visit as walk } from "yaml";

// src/yaml/characters.ts
var TAB = 9;
var NEWLINE = 10;
var SPACE = 32;
var HASH = 35;
var DASH = 45;
var COLON = 58;
var END = -1;
function isBlank(code) {
  return code === SPACE || code === TAB;
}
function endsIndicator(code) {
  return code === SPACE || code === NEWLINE || code === TAB || code === END;
}
function isFlowIndicator(code) {
  return code === 44 || code === 91 || code === 93 || code === 123 || code === 125;
}
function skipBlanks(reading) {
  while (isBlank(reading.peek())) reading.pos++;
}
function skipComment(reading) {
  if (reading.peek() !== HASH) return;
  if (reading.pos > reading.lineStart && !isBlank(reading.peek(-1)))
    reading.stop("A comment needs a space before its #.");
  const end = reading.text.indexOf("\n", reading.pos);
  reading.pos = end === -1 ? reading.text.length : end;
}
function skipToContent(reading) {
  for (; ; ) {
    while (reading.peek() === SPACE) reading.pos++;
    const indent = reading.pos;
    skipBlanks(reading);
    skipComment(reading);
    const code = reading.peek();
    if (code === END) return false;
    if (code !== NEWLINE) {
      if (indent !== reading.pos && onlyBlankBefore(reading, indent))
        reading.stop("A tab is used to indent a line; use spaces.", "INPUT_TAB_INDENT", indent);
      return true;
    }
    reading.newLine();
  }
}
function onlyBlankBefore(reading, offset) {
  for (let at = reading.lineStart; at < offset; at++) if (!isBlank(reading.text.charCodeAt(at))) return false;
  return true;
}
function expectLineEnd(reading, what) {
  skipBlanks(reading);
  skipComment(reading);
  const code = reading.peek();
  if (code === END || code === NEWLINE) return;
  if (code === COLON) reading.stop(`A colon follows ${what}; put text that holds ": " in quotes.`);
  reading.stop(`Unexpected text after ${what}.`);
}
function atDocumentMark(reading) {
  if (reading.column !== 0) return null;
  const mark = reading.text.slice(reading.pos, reading.pos + 3);
  return (mark === "---" || mark === "...") && endsIndicator(reading.peek(3)) ? mark : null;
}

// src/yaml/anchor.ts
function readAnchorName(reading) {
  const start = ++reading.pos;
  while (!endsIndicator(reading.peek()) && !isFlowIndicator(reading.peek())) reading.pos++;
  if (reading.pos === start)
    reading.stop("A name must follow & or *; put the text in quotes if it is meant as text.");
  return reading.text.slice(start, reading.pos);
}
function refuseTag(reading) {
  if (reading.peek() === 33)
    reading.stop("Tags (!) are not read; put the text in quotes if it is meant as text.");
}
function refuseAnchor(reading) {
  const code = reading.peek();
  if (code === 38 || code === 42) reading.stop("A value has one anchor, and an alias has none.");
}

// src/yaml/block-text.ts
function readBlockText(reading, parentIndent) {
  const header = readHeader(reading);
  const first = passEmptyLines(reading, Infinity);
  const indent = spacesAhead(reading);
  if (endsText(reading, parentIndent + 1)) return header.chomp === "keep" ? first.breaks : "";
  if (first.widest > indent) reading.stop("An empty line before this one is indented further than the text.");
  return readLines(reading, header, indent, first.breaks);
}
function readLines(reading, header, indent, before) {
  let text = before;
  const start = reading.pos;
  for (; ; ) {
    reading.limitLength(start);
    reading.pos += indent;
    const ordinary = !isBlank(reading.peek());
    const end = reading.text.indexOf("\n", reading.pos);
    const stop = end === -1 ? reading.text.length : end;
    text += reading.text.slice(reading.pos, stop);
    reading.pos = stop;
    if (reading.peek() === NEWLINE) reading.newLine();
    const { breaks } = passEmptyLines(reading, indent);
    if (endsText(reading, indent))
      return text + { strip: "", clip: "\n", keep: `
${breaks}` }[header.chomp];
    const fold = header.folded && ordinary && !isBlank(reading.peek(indent));
    text += fold ? breaks || " " : `
${breaks}`;
  }
}
function endsText(reading, indent) {
  const spaces = spacesAhead(reading);
  if (spaces < indent && reading.peek(spaces) === TAB)
    reading.stop("A tab stands where text is indented; use spaces.", "INPUT_TAB_INDENT");
  return reading.peek() === END || spaces < indent || atDocumentMark(reading) !== null;
}
function readHeader(reading) {
  const folded = reading.text[reading.pos] === ">";
  const mark = reading.text[++reading.pos];
  if (mark === "+" || mark === "-") reading.pos++;
  expectLineEnd(reading, "| or > (only + or - may be added)");
  if (reading.peek() === NEWLINE) reading.newLine();
  return { folded, chomp: mark === "+" ? "keep" : mark === "-" ? "strip" : "clip" };
}
function spacesAhead(reading) {
  let spaces = 0;
  while (reading.peek(spaces) === SPACE) spaces++;
  return spaces;
}
function passEmptyLines(reading, most) {
  let breaks = "";
  let widest = 0;
  for (; ; ) {
    const spaces = spacesAhead(reading);
    const code = reading.peek(spaces);
    if (spaces > most || code !== NEWLINE && code !== END) return { breaks, widest };
    reading.pos += spaces;
    widest = Math.max(widest, spaces);
    if (code === END) return { breaks, widest };
    reading.newLine();
    breaks += "\n";
  }
}

// src/yaml/plain.ts
function readPlainLine(reading, style) {
  const { text } = reading;
  const start = reading.pos;
  if (!mayBegin(reading, style)) return "";
  let at = start;
  let end = start;
  for (; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE || style === "flow" && isFlowIndicator(code)) break;
    if (code === COLON && endsKey(text, at + 1, style)) break;
    if (isBlank(code)) {
      if (text.charCodeAt(at + 1) === HASH) break;
    } else end = at + 1;
  }
  reading.pos = end;
  return text.slice(start, end);
}
function endsKey(text, at, style) {
  const next = at < text.length ? text.charCodeAt(at) : END;
  return endsIndicator(next) || style === "flow" && isFlowIndicator(next);
}
var NEVER_FIRST = new Set(Array.from("!&*|>%@`#,[]{}\"'", (character) => character.charCodeAt(0)));
function mayBegin(reading, style) {
  const code = reading.peek();
  if (code === END || code === NEWLINE || NEVER_FIRST.has(code)) return false;
  const next = reading.peek(1);
  const alone = endsIndicator(next) || style === "flow" && isFlowIndicator(next);
  if (code === DASH && alone) return isLoneDash(reading, style);
  return code !== COLON && code !== 63 || !alone;
}
function isLoneDash(reading, style) {
  if (reading.peek() !== DASH) return false;
  let ahead = 1;
  while (isBlank(reading.peek(ahead))) ahead++;
  const code = reading.peek(ahead);
  if (style === "flow") return isFlowIndicator(code) && code !== 91 && code !== 123;
  return code === END || code === NEWLINE || code === HASH && ahead > 1;
}
function continuePlain(reading, first, minIndent, style) {
  let value = first;
  const start = reading.pos - first.length;
  for (; ; ) {
    const mark = { pos: reading.pos, lineStart: reading.lineStart };
    const breaks = passLineEnds(reading);
    const more = breaks > 0 && reading.column >= minIndent && !atMark(reading) && !endsFlow(reading, style);
    if (more && reading.text.slice(reading.lineStart, reading.pos).includes("	"))
      reading.stop("A tab is used to indent a line; use spaces.", "INPUT_TAB_INDENT", reading.lineStart);
    const line = more ? readPlainRest(reading, style) : "";
    if (line === "") {
      reading.pos = mark.pos;
      reading.lineStart = mark.lineStart;
      return value;
    }
    reading.limitLength(start);
    value += (breaks === 1 ? " " : "\n".repeat(breaks - 1)) + line;
  }
}
function passLineEnds(reading) {
  let breaks = 0;
  for (; ; ) {
    skipBlanks(reading);
    if (reading.peek() !== NEWLINE) return breaks;
    reading.newLine();
    breaks++;
    while (reading.peek() === 32) reading.pos++;
  }
}
function endsFlow(reading, style) {
  const code = reading.peek();
  if (code === END || code === HASH) return true;
  const endsHere = isFlowIndicator(code) || code === COLON && endsKey(reading.text, reading.pos + 1, style);
  return style === "flow" && endsHere;
}
function atMark(reading) {
  return reading.column === 0 && /^(?:---|\.\.\.)(?:\s|$)/u.test(reading.text.slice(reading.pos, reading.pos + 4));
}
function readPlainRest(reading, style) {
  const { text } = reading;
  const start = reading.pos;
  let end = start;
  for (let at = start; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE || style === "flow" && isFlowIndicator(code)) break;
    if (code === COLON && endsKey(text, at + 1, style))
      reading.stop(
        "A key must stand on one line of its own; is this line indented too far?",
        "INPUT_SYNTAX_INVALID",
        at
      );
    if (isBlank(code)) {
      if (text.charCodeAt(at + 1) === HASH) break;
    } else end = at + 1;
  }
  reading.pos = end;
  return text.slice(start, end);
}

// src/yaml/plain-value.ts
function plainValue(text) {
  const first = text.charCodeAt(0);
  if (first >= 48 && first <= 57 || first === 43 || first === 45 || first === 46) return numberOr(text);
  return WORDS.has(text) ? WORDS.get(text) : text;
}
var WORDS = new Map([
  ["", null],
  ...["~", "null", "Null", "NULL"].map((word) => [word, null]),
  ...["true", "True", "TRUE"].map((word) => [word, true]),
  ...["false", "False", "FALSE"].map((word) => [word, false])
]);
var DECIMAL = /^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$/u;
function numberOr(text) {
  if (DECIMAL.test(text)) return Number(text);
  if (/^0x[0-9a-fA-F]+$|^0o[0-7]+$/u.test(text)) return Number(text);
  if (/^\+?\.(?:inf|Inf|INF)$/u.test(text)) return Infinity;
  if (/^-\.(?:inf|Inf|INF)$/u.test(text)) return -Infinity;
  if (/^\.(?:nan|NaN|NAN)$/u.test(text)) return Number.NaN;
  return text;
}

// src/yaml/quoted.ts
var ESCAPES = {
  "0": "\0",
  a: "\x07",
  b: "\b",
  t: "	",
  "	": "	",
  n: "\n",
  v: "\v",
  f: "\f",
  r: "\r",
  e: "\x1B",
  " ": " ",
  '"': '"',
  "/": "/",
  "\\": "\\",
  N: "\x85",
  _: "\xA0",
  L: "\u2028",
  P: "\u2029"
};
var BACKSLASH = 92;
var HEX_DIGITS = { x: 2, u: 4, U: 8 };
function readQuoted(reading, minIndent) {
  const quote = reading.text[reading.pos];
  const start = reading.pos;
  reading.pos++;
  let value = "";
  for (; ; ) {
    const from = reading.pos;
    skipOrdinary(reading, quote);
    value += reading.text.slice(from, reading.pos);
    const found = reading.text[reading.pos];
    reading.limitLength(start);
    if (found === void 0)
      reading.stop(`The text that opens with ${quote} is never closed.`, "INPUT_SYNTAX_INVALID", start);
    if (found === "\n") value = trimBlanks(value, from, reading) + foldedBreaks(reading, minIndent);
    else if (found === "\\") value += readEscape(reading, minIndent);
    else if (quote === "'" && reading.text[reading.pos + 1] === "'") {
      value += "'";
      reading.pos += 2;
    } else {
      reading.pos++;
      return value;
    }
  }
}
function skipOrdinary(reading, quote) {
  const { text } = reading;
  const close = quote.charCodeAt(0);
  const escape = quote === '"' ? BACKSLASH : close;
  let at = reading.pos;
  for (; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === close || code === NEWLINE || code === escape) break;
  }
  reading.pos = at;
}
function trimBlanks(value, from, reading) {
  let blanks = 0;
  while (reading.pos - blanks > from && isBlank(reading.peek(-1 - blanks))) blanks++;
  return value.slice(0, value.length - blanks);
}
function foldedBreaks(reading, minIndent) {
  let breaks = 0;
  while (reading.peek() === NEWLINE) {
    reading.newLine();
    breaks++;
    const indent = countSpaces(reading);
    while (isBlank(reading.peek())) reading.pos++;
    const blankLine = reading.peek() === NEWLINE;
    if (!blankLine && (indent < minIndent || atDocumentMark2(reading, indent)))
      reading.stop("Quoted text goes on here, but the line is not indented under its key.");
  }
  return breaks === 1 ? " " : "\n".repeat(breaks - 1);
}
function countSpaces(reading) {
  let spaces = 0;
  while (reading.peek(spaces) === 32) spaces++;
  return spaces;
}
function atDocumentMark2(reading, indent) {
  return indent === 0 && /^(?:---|\.\.\.)(?:\s|$)/u.test(reading.text.slice(reading.pos, reading.pos + 4));
}
function readEscape(reading, minIndent) {
  const letter = reading.text[reading.pos + 1] ?? "";
  const width = HEX_DIGITS[letter];
  if (letter === "\n") {
    reading.pos++;
    const folded = foldedBreaks(reading, minIndent);
    return folded === " " ? "" : folded;
  }
  if (width === void 0) {
    const character = ESCAPES[letter];
    if (character === void 0) reading.stop(`\\${letter} is not an escape; write \\\\ for a backslash.`);
    reading.pos += 2;
    return character;
  }
  const digits = reading.text.slice(reading.pos + 2, reading.pos + 2 + width);
  const code = /^[0-9a-fA-F]+$/u.test(digits) && digits.length === width ? Number(`0x${digits}`) : Infinity;
  if (code > 1114111)
    reading.stop(`\\${letter} must be followed by ${width} hexadecimal digits of a character.`);
  reading.pos += 2 + width;
  return width === 4 ? String.fromCharCode(code) : String.fromCodePoint(code);
}

// src/yaml/flow.ts
var [COMMA, QUOTE, APOSTROPHE, QUESTION, STAR, AMPERSAND] = [44, 34, 39, 63, 42, 38];
var [OPEN_MAP, CLOSE_MAP, OPEN_LIST, CLOSE_LIST] = [123, 125, 91, 93];
function readFlowCollection(reading, minIndent) {
  const bracket = { open: reading.pos, minIndent };
  const isMap = reading.peek() === OPEN_MAP;
  return reading.nested(() => isMap ? readFlowMap(reading, bracket) : readFlowList(reading, bracket));
}
function readFlowMap(reading, bracket) {
  const map = {};
  reading.pos++;
  for (; ; ) {
    skipFlowSpace(reading, bracket);
    if (reading.peek() === CLOSE_MAP) {
      reading.pos++;
      return map;
    }
    const offset = reading.pos;
    const key = readFlowKey(reading, bracket);
    skipFlowSpace(reading, bracket);
    const value = reading.within(key, offset, () => {
      if (reading.peek() !== COLON) return null;
      reading.pos++;
      skipFlowSpace(reading, bracket);
      return readFlowValue(reading, bracket);
    });
    reading.put(map, key, value, offset);
    separate(reading, bracket, CLOSE_MAP);
  }
}
function readFlowList(reading, bracket) {
  const list = [];
  reading.pos++;
  for (; ; ) {
    skipFlowSpace(reading, bracket);
    if (reading.peek() === CLOSE_LIST) {
      reading.pos++;
      return list;
    }
    if (reading.peek() === COMMA) reading.stop("There is nothing before this comma.");
    list.push(reading.within(list.length, reading.pos, () => readFlowValue(reading, bracket)));
    skipFlowSpace(reading, bracket);
    if (reading.peek() === COLON) reading.stop("A map inside a list needs its own braces: [{key: value}].");
    separate(reading, bracket, CLOSE_LIST);
  }
}
function separate(reading, bracket, close) {
  skipFlowSpace(reading, bracket);
  const code = reading.peek();
  if (code === COMMA) reading.pos++;
  else if (code !== close)
    reading.stop(
      `A comma or ${String.fromCharCode(close)} is expected here: ${opening(reading, bracket)} is still open.`
    );
}
function readFlowKey(reading, bracket) {
  const code = reading.peek();
  if (code === QUOTE || code === APOSTROPHE) return readQuoted(reading, bracket.minIndent);
  if (code === QUESTION && endsIndicator(reading.peek(1)))
    reading.stop("Keys marked with ? are not read; write key: value.");
  refuseTag(reading);
  const key = readPlainLine(reading, "flow");
  if (key === "") reading.stop("A key is expected here, as plain or quoted text.");
  return key;
}
function readFlowValue(reading, bracket) {
  const code = reading.peek();
  if (code === COMMA || code === CLOSE_MAP || code === CLOSE_LIST) return null;
  reading.begin();
  if (code === OPEN_MAP || code === OPEN_LIST) return readFlowCollection(reading, bracket.minIndent);
  if (code === QUOTE || code === APOSTROPHE) return readQuoted(reading, bracket.minIndent);
  const offset = reading.pos;
  if (code === STAR) return reading.alias(readAnchorName(reading), offset);
  if (code === AMPERSAND) {
    const name = readAnchorName(reading);
    skipFlowSpace(reading, bracket);
    refuseAnchor(reading);
    return reading.anchored(name, () => readFlowValue(reading, bracket));
  }
  refuseTag(reading);
  const text = readPlainLine(reading, "flow");
  if (text === "")
    reading.stop(`${reading.text[offset] ?? ""} cannot begin a value; put the text in quotes.`);
  return text === "-" ? text : plainValue(continuePlain(reading, text, bracket.minIndent, "flow"));
}
function skipFlowSpace(reading, bracket) {
  for (; ; ) {
    skipBlanks(reading);
    if (reading.peek() === HASH) skipComment(reading);
    const code = reading.peek();
    if (code === END) neverClosed(reading, bracket);
    if (code !== NEWLINE) return;
    reading.newLine();
    while (reading.peek() === SPACE) reading.pos++;
    checkIndent(reading, bracket);
  }
}
function checkIndent(reading, bracket) {
  if (atDocumentMark(reading)) neverClosed(reading, bracket);
  if (reading.column >= bracket.minIndent) return;
  let ahead = 0;
  while (isBlank(reading.peek(ahead))) ahead++;
  const code = reading.peek(ahead);
  if (code === NEWLINE || code === HASH || code === END) return;
  reading.stop(
    `${opening(reading, bracket)} is still open, but this line is not indented further than the key it belongs to.`
  );
}
function neverClosed(reading, bracket) {
  reading.stop(`${opening(reading, bracket)} is never closed.`, "INPUT_SYNTAX_INVALID", bracket.open);
}
function opening(reading, bracket) {
  return reading.text[bracket.open] ?? "";
}

// src/yaml/block.ts
function readBlockValue(reading, parentIndent) {
  reading.begin();
  const code = reading.peek();
  if (code === DASH && endsIndicator(reading.peek(1))) return reading.nested(() => readList(reading));
  if (code === 63 && endsIndicator(reading.peek(1)))
    reading.stop("Keys marked with ? are not read; write key: value.");
  if (code === 37 && reading.column === 0) reading.stop("Directives (%) are not read.");
  const start = reading.pos;
  const key = readKey(reading);
  if (key !== null) return reading.nested(() => readMap(reading, start, key));
  return readInline(reading, parentIndent);
}
function readList(reading) {
  const list = [];
  const column = reading.column;
  do {
    const offset = reading.pos;
    list.push(reading.within(list.length, offset, () => readItem(reading, column)));
  } while (nextAt(reading, column) && reading.peek() === DASH && endsIndicator(reading.peek(1)));
  return list;
}
function readItem(reading, column) {
  reading.pos++;
  skipBlanks(reading);
  const code = reading.peek();
  if (code !== NEWLINE && code !== HASH && code !== END) {
    if (reading.peek(-1) === TAB)
      reading.stop("A tab follows the dash; use a space.", "INPUT_TAB_INDENT", reading.pos - 1);
    return readBlockValue(reading, column);
  }
  return skipToContent(reading) && reading.column > column ? readBlockValue(reading, column) : null;
}
function readMap(reading, firstOffset, firstKey) {
  const map = {};
  const column = firstOffset - reading.lineStart;
  let key = firstKey;
  let offset = firstOffset;
  for (; ; ) {
    const value = reading.within(key, offset, () => readMapValue(reading, column));
    reading.put(map, key, value, offset);
    if (!nextAt(reading, column)) return map;
    offset = reading.pos;
    key = readKey(reading);
    if (key === null) reading.stop("A line of the form key: value is expected here.");
  }
}
function nextAt(reading, column) {
  if (!skipToContent(reading) || atDocumentMark(reading)) return false;
  if (reading.column > column) reading.stop("This line is indented further than the lines it follows.");
  return reading.column === column;
}
function readKey(reading) {
  const { pos } = reading;
  const code = reading.peek();
  const quoted = code === 34 || code === 39;
  if (quoted && !closesOnLine(reading)) return null;
  const key = quoted ? readQuoted(reading, 0) : readPlainLine(reading, "block");
  if (quoted || key !== "") {
    skipBlanks(reading);
    if (reading.peek() === COLON && endsIndicator(reading.peek(1))) {
      reading.pos++;
      return key;
    }
  }
  reading.pos = pos;
  return null;
}
function closesOnLine(reading) {
  const { text } = reading;
  const quote = reading.peek();
  for (let at = reading.pos + 1; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE) return false;
    if (code === quote) {
      if (quote === 34 || text.charCodeAt(at + 1) !== quote) return true;
      at++;
    } else if (code === 92 && quote === 34 && text.charCodeAt(at + 1) !== NEWLINE) at++;
  }
  return false;
}
function readMapValue(reading, column) {
  skipBlanks(reading);
  const code = reading.peek();
  const below = code === NEWLINE || code === HASH || code === END;
  return below ? readBelow(reading, column) : readInlineValue(reading, column);
}
function readBelow(reading, column, anchored = false) {
  if (!skipToContent(reading) || atDocumentMark(reading)) return null;
  if (anchored && reading.column > column) refuseAnchor(reading);
  const listHere = reading.column === column && reading.peek() === DASH && endsIndicator(reading.peek(1));
  return reading.column > column || listHere ? readBlockValue(reading, column) : null;
}
function readInlineValue(reading, parentIndent) {
  reading.begin();
  return readInline(reading, parentIndent);
}
function readInline(reading, parentIndent) {
  const code = reading.peek();
  const minIndent = parentIndent + 1;
  if (code === 123 || code === 91)
    return closing(reading, readFlowCollection(reading, minIndent), "a closed bracket");
  if (code === 34 || code === 39) return closing(reading, readQuoted(reading, minIndent), "quoted text");
  if (code === 124 || code === 62) return readBlockText(reading, parentIndent);
  if (code === 42) {
    const offset = reading.pos;
    return closing(reading, reading.alias(readAnchorName(reading), offset), "an alias");
  }
  if (code === 38) return readAnchored(reading, parentIndent);
  refuseTag(reading);
  const text = readPlainLine(reading, "block");
  if (text === "") reading.stop(whyNoValue(reading));
  const value = plainValue(text === "-" ? text : continuePlain(reading, text, minIndent, "block"));
  return closing(reading, value, "a value");
}
function closing(reading, value, what) {
  expectLineEnd(reading, what);
  return value;
}
function whyNoValue(reading) {
  const code = reading.peek();
  if (code === DASH && !isLoneDash(reading, "block"))
    return "A list must begin on a line of its own, under its key.";
  return `${reading.text[reading.pos] ?? ""} cannot begin a value; put the text in quotes.`;
}
function readAnchored(reading, parentIndent) {
  const name = readAnchorName(reading);
  skipBlanks(reading);
  const code = reading.peek();
  const below = code === NEWLINE || code === HASH || code === END;
  return reading.anchored(name, () => {
    if (below) return readBelow(reading, parentIndent, true);
    refuseAnchor(reading);
    const pos = reading.pos;
    if (readKey(reading) !== null)
      reading.stop("An anchor on a key is not read; put it behind the colon.", "INPUT_SYNTAX_INVALID", pos);
    return readInline(reading, parentIndent);
  });
}

// src/yaml/reading.ts
var DEEPEST_NESTING = 64;
var MOST_ALIASED_VALUES = 1e4;
var MOST_DUPLICATES = 1e3;
var LONGEST_SCALAR = 65536;
var ReadingStopped = class extends Error {
  constructor(code, offset, message) {
    super(message);
    this.code = code;
    this.offset = offset;
  }
  code;
  offset;
};
var Reading = class {
  constructor(text, watch) {
    this.text = text;
    this.watch = watch;
  }
  text;
  watch;
  pos = 0;
  /** Offset at which the current line begins; indentation counts from here. */
  lineStart = 0;
  duplicates = [];
  #path = [];
  #anchors = /* @__PURE__ */ new Map();
  #depth = 0;
  #values = 0;
  #aliased = 0;
  /** Character code at the position, or −1 at the end. */
  peek(ahead = 0) {
    const at = this.pos + ahead;
    return at < this.text.length ? this.text.charCodeAt(at) : -1;
  }
  /** Column of the position, from 0. */
  get column() {
    return this.pos - this.lineStart;
  }
  newLine() {
    this.pos++;
    this.lineStart = this.pos;
  }
  stop(message, code = "INPUT_SYNTAX_INVALID", offset = this.pos) {
    throw new ReadingStopped(code, offset, message);
  }
  /** Stops when the text that began at `start` is longer than any field is. */
  limitLength(start) {
    if (this.pos - start > LONGEST_SCALAR)
      this.stop(
        `A text of more than ${LONGEST_SCALAR} characters begins here.`,
        "INPUT_TEXT_TOO_LONG",
        start
      );
  }
  /** Runs `read` for the value of one key or list position, so that places carry their path. */
  within(step, offset, read) {
    this.#path.push(step);
    this.watch?.(this.#path, "key", offset);
    const value = read();
    this.#path.pop();
    return value;
  }
  /** Marks the start of a value. */
  begin() {
    this.#values++;
    this.watch?.(this.#path, "value", this.pos);
  }
  nested(read) {
    if (++this.#depth > DEEPEST_NESTING)
      this.stop(`Maps and lists are nested more than ${DEEPEST_NESTING} deep.`, "INPUT_NESTING_TOO_DEEP");
    const value = read();
    this.#depth--;
    return value;
  }
  put(map, key, value, offset) {
    if (Object.hasOwn(map, key) && this.duplicates.length < MOST_DUPLICATES)
      this.duplicates.push({ path: [...this.#path, key], offset });
    if (key === "__proto__")
      Object.defineProperty(map, key, { value, enumerable: true, configurable: true, writable: true });
    else map[key] = value;
  }
  /** Reads a value that carries an anchor, and keeps it under that name. */
  anchored(name, read) {
    const before = this.#values;
    const value = this.nested(read);
    this.#anchors.set(name, { value, values: this.#values - before });
    return value;
  }
  alias(name, offset) {
    const anchor = this.#anchors.get(name);
    if (!anchor)
      this.stop(`No anchor &${name} is defined before this alias.`, "INPUT_SYNTAX_INVALID", offset);
    this.#values += anchor.values;
    this.#aliased += anchor.values;
    if (this.#aliased > MOST_ALIASED_VALUES)
      this.stop(`Aliases repeat more than ${MOST_ALIASED_VALUES} values.`, "INPUT_ALIAS_TOO_MANY", offset);
    return anchor.value;
  }
};

// src/yaml/read-yaml.ts
function readYaml(text) {
  const reading = new Reading(withLastLineEnded(text));
  try {
    const data = readDocument(reading);
    return { ok: true, data, duplicates: reading.duplicates.map(duplicateTrouble) };
  } catch (stopped) {
    if (!(stopped instanceof ReadingStopped)) throw stopped;
    const { code, offset, message } = stopped;
    return { ok: false, trouble: { code, offset, path: [], message } };
  }
}
function withLastLineEnded(text) {
  return text.endsWith("\n") ? text : `${text}
`;
}
function duplicateTrouble({ path, offset }) {
  const key = String(path.at(-1));
  return { code: "INPUT_KEY_DUPLICATE", offset, path, message: `${key} is written twice in the same map.` };
}
function readDocument(reading) {
  const content = skipToContent(reading);
  if (content && atDocumentMark(reading) === "...") reading.stop("The document ends here before it began.");
  const marked = content && atDocumentMark(reading) === "---";
  const data = marked ? readMarked(reading) : content ? readBlockValue(reading, -1) : null;
  if (skipToContent(reading)) endDocument(reading);
  return data;
}
function readMarked(reading) {
  reading.pos += 3;
  const line = reading.lineStart;
  if (!skipToContent(reading) || atDocumentMark(reading)) return null;
  return reading.lineStart === line ? readInlineValue(reading, -1) : readBlockValue(reading, -1);
}
function endDocument(reading) {
  const mark = atDocumentMark(reading);
  if (mark === "...") {
    reading.pos += 3;
    if (!skipToContent(reading)) return;
  }
  if (mark)
    reading.stop(
      "A second document begins here; one file holds one document.",
      "INPUT_DOCUMENTS_MORE_THAN_ONE"
    );
  reading.stop("This line is indented less than the first, or follows a value that is complete.");
}

// src/yaml/fuzz.ts
var expect = (p, m) => ({ toEqual(q) {
  if (!eq(p, q)) throw new Error("X " + JSON.stringify(p) + " ours " + JSON.stringify(q));
}, toMatchObject(q) {
  if (!p.ok || !eq(p.data, q.data)) throw new Error("Y " + m + JSON.stringify(p));
} });
var describe = (n, f) => f();
var test = (n, f) => T.push([n, f]);
var T = [];
function withDashesQuoted(text) {
  return text.replace(
    /(:[ \t]+|["']:|[,[{][ \t]*|&\w+[ \t]+|^---[ \t]+)-(?=[ \t]*(?:[,}\]\n]| #|$))/gmu,
    '$1"-"'
  );
}
function peerReads(text) {
  const document = parseDocument(text, { uniqueKeys: false, prettyErrors: false, logLevel: "silent" });
  if (document.errors.length > 0) return "refuses";
  const keys2 = [];
  walk(document, {
    Pair: (_, pair) => {
      keys2.push(isScalar(pair.key) ? pair.key.value : pair.key);
    }
  });
  if (keys2.some((key) => typeof key !== "string")) return "keys are not text";
  return { data: document.toJS({ maxAliasCount: -1 }) };
}
function expectAgreement(text) {
  const ours = readYaml(text);
  if (!ours.ok || /(?:^|\n)(?:[ ]*\t[ \t]*(?:\n|$)|[ ]+$)/u.test(text)) return;
  const asWritten = peerReads(text);
  if (asWritten === "keys are not text") return;
  if (asWritten !== "refuses") expect(asWritten, JSON.stringify(text)).toEqual({ data: ours.data });
  else
    expect(withoutQuotes(peerReads(withDashesQuoted(text))), JSON.stringify(text)).toEqual(
      withoutQuotes({ data: ours.data })
    );
}
function withoutQuotes(value) {
  return JSON.parse(JSON.stringify(value).replaceAll('\\"', ""));
}
var scalars = fc.oneof(
  fc.string({ maxLength: 12 }),
  fc.string({ maxLength: 12, unit: fc.constantFrom(...Array.from("ab: #-'\"\\,[]{}&*!|>%@`?~.0123\n	")) }),
  fc.constantFrom(
    "",
    "-",
    "+",
    "a b",
    "7 Ah",
    "-3 \xB0C",
    "2026-02-03",
    "null",
    "true",
    "1e3",
    "0x1F",
    " lead",
    "trail "
  ),
  fc.integer(),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.boolean(),
  fc.constant(null)
);
var keys = fc.oneof(
  fc.constantFrom("id", "from", "to", "on", "a key", "k:", "#k", "-", "- x", "'q'"),
  fc.string({ minLength: 1, maxLength: 6 })
);
var { tree } = fc.letrec((tie) => ({
  tree: fc.oneof(
    { maxDepth: 4, withCrossShrink: true },
    scalars,
    fc.array(tie("tree"), { maxLength: 4 }),
    fc.dictionary(keys, tie("tree"), { maxKeys: 4, noNullPrototype: true })
  )
}));
var styles = fc.record({
  collectionStyle: fc.constantFrom("any", "block", "flow"),
  defaultStringType: fc.constantFrom(
    "PLAIN",
    "QUOTE_SINGLE",
    "QUOTE_DOUBLE",
    "BLOCK_LITERAL",
    "BLOCK_FOLDED"
  ),
  indent: fc.constantFrom(2, 4),
  lineWidth: fc.constantFrom(0, 20, 80),
  indentSeq: fc.boolean(),
  blockQuote: fc.constantFrom(true, false, "folded", "literal")
});
var pieces = fc.constantFrom(
  ...`a|b: |: |:|- |-|
|
|
  |
    |
 |  | |#|# c|{|}|[|]|,|, |"|'|"x"|'y'|\\|\\n|\\
|>|>-|&a |*a|? |! |1|0.5|~|null|---|...|--- |	|%`.split(
    "|"
  ),
  "|",
  "|\n",
  "|+\n"
);
var soup = fc.array(pieces, { maxLength: 24 }).map((parts) => parts.join(""));
var mutated = fc.tuple(tree, styles, fc.array(fc.tuple(fc.nat(400), fc.nat(3), pieces), { maxLength: 3 })).map(
  ([data, style, edits]) => edits.reduce(
    (text, [at, removed, put]) => text.slice(0, at) + put + text.slice(at + removed),
    stringify(data, style)
  )
);
describe("readYaml", () => {
  test("reads what the yaml package writes, in every style, as the same data", () => {
    fc.assert(
      fc.property(tree, styles, (data, style) => {
        const text = stringify(data, style);
        const peer = parseDocument(text, { logLevel: "silent" }).toJS();
        fc.pre(isDeepStrictEqual(peer, data));
        const result = readYaml(text);
        if (!result.ok && /[|>][+-]?[1-9]/u.test(text)) return;
        expect(result, text).toMatchObject({ ok: true, data });
      }),
      { numRuns: RUNS }
    );
  });
  test("reads every JSON text as JSON.parse does", () => {
    fc.assert(
      fc.property(fc.json(), fc.constantFrom(void 0, 1, 2, "	"), (json, indent) => {
        const text = JSON.stringify(JSON.parse(json), null, indent);
        const result = readYaml(text);
        expect(result, text).toMatchObject({ ok: true, data: JSON.parse(text) });
      }),
      { numRuns: RUNS }
    );
  });
  test("never reads broken text as other data than the yaml package does", () => {
    fc.assert(fc.property(mutated, expectAgreement), { numRuns: RUNS });
  });
  test("never reads a soup of YAML's own pieces as other data than the yaml package does", () => {
    fc.assert(fc.property(soup, expectAgreement), { numRuns: RUNS });
  });
});
var RUNS = +process.argv[2];
for (const [n, f] of T) {
  console.log("==", n);
  const seen = /* @__PURE__ */ new Set();
  for (let i = 0; i < +process.argv[3]; i++) {
    try {
      f();
    } catch (e) {
      const m = e.message.match(/Counterexample: (.*)/)?.[1] + " " + (e.cause?.message ?? "");
      if (!seen.has(m)) {
        seen.add(m);
        console.log(m);
      }
    }
  }
}

import type { Block, Paper } from "../content/paper.ts";
import { footerLine, identityRows } from "../identity/identity-rows.ts";
import { FRAME_WORDS } from "../language/frame-words.ts";
import { DrawableText } from "./drawable-text.ts";
import type { Draws } from "./glyph-coverage.ts";
import { breakLongLine, breakLongWords } from "./long-words.ts";
import { sizesToTry } from "./notice-size.ts";
import { TEMPLATE } from "./template.ts";
import { WIDE_LETTERS } from "./wide-letters.ts";

/** The compiler that sets a paper, brought by the program that has it installed. */
export interface Typesetter {
  readonly pdf: (setting: Setting) => Promise<Uint8Array>;
  /** What its fonts can draw. */
  readonly draws: Draws;
}

/** A tagged PDF that is to be made. */
export interface Setting {
  /** Layout, which reads the content and the size of its type as inputs. */
  readonly template: string;
  /** Content as JSON. */
  readonly data: string;
  /** Pictures by the paths under which the content names them; they are on no disk. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** The first at which it all fits on one page is taken, else the last [pt]. */
  readonly sizes: readonly number[];
  /** Seconds since 1970. */
  readonly createdAt: number;
}

/**
 * A paper as tagged PDF (PDF/UA-1 as its compiler checks it): fonts embedded, bookmarks, language and title set. The same
 * paper gives the same bytes.
 *
 * @returns the bytes, and the characters that its fonts could not draw, as shown on the paper
 * Check: checks/papers-readers
 */
export async function paperPdf(
  paper: Paper,
  typesetter: Typesetter,
): Promise<{ readonly bytes: Uint8Array; readonly notDrawn: string }> {
  const text = new DrawableText(typesetter.draws);
  const files = new Map<string, Uint8Array>();
  const { issue, language } = paper;
  const { notDrawn, ...words } = FRAME_WORDS[language];
  const blocks = breakLongWords(drawable(paper.blocks, text, files), paper.look);
  const [title, subject, footer] = [paper.title, paper.subject, footerLine(issue)].map((line) =>
    text.of(line),
  );
  const identity = drawable(identityRows(issue), text, files);
  const { missing } = text;
  const said: readonly Block[] =
    missing === "" ? [] : [{ kind: "paragraph", weight: "aside", text: notDrawn(missing) }];
  const data = {
    title,
    subject,
    heading: breakLongLine(subject!),
    running: shortened(subject!),
    look: paper.look,
    lang: language,
    author: issue.by ?? "Earthbell",
    day: issue.date.split("-").map(Number),
    footer: breakLongLine(footer!),
    words,
    identity: identity.map((row) => row.map(breakLongLine)),
    blocks: [...blocks, ...said],
  };
  const createdAt = Date.parse(`${issue.date}T00:00:00Z`) / 1000;
  const sizes = sizesToTry({ look: paper.look, blocks });
  const bytes = await typesetter.pdf({
    template: TEMPLATE,
    data: JSON.stringify(data),
    files,
    sizes,
    createdAt,
  });
  return { bytes, notDrawn: missing };
}

/** Letters of the line above every page, which grows towards the edge of the page where it takes several lines. */
const RUNNING = 50;
const WIDE = new RegExp(`[${WIDE_LETTERS}]`, "u");

/** A wide letter takes the place of two. */
function shortened(subject: string): string {
  let place = 0;
  const ends = Array.from(subject, (letter) => (place += WIDE.test(letter) ? 2 : 1));
  if (place <= RUNNING) return subject;
  const kept = ends.filter((end) => end < RUNNING).length;
  return `${Array.from(subject).slice(0, kept).join("")}…`;
}

/** Every text in a value made drawable; drawings get the type of the paper as well, and bytes become the path of a file. */
function drawable<Value>(value: Value, text: DrawableText, files: Map<string, Uint8Array>): Value {
  if (typeof value === "string") {
    const set = value.startsWith("<svg") ? value.replaceAll("system-ui,sans-serif", "DejaVu Sans") : value;
    return text.of(set) as Value;
  }
  if (value instanceof Uint8Array) {
    const path = `/picture-${files.size + 1}.jpg`;
    files.set(path, value);
    return path as Value;
  }
  if (Array.isArray(value)) return value.map((one: unknown) => drawable(one, text, files)) as Value;
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, one]) => [key, drawable(one, text, files)]),
  ) as Value;
}

import type { Issue } from "./issue.ts";
import { FRAME_WORDS } from "../language/frame-words.ts";
import { dayWords } from "../language/language.ts";
import type { InputChange } from "./compare-inputs.ts";

/** Changes that a paper spells out; the rest are counted. */
const MOST_CHANGES = 40;

/** What a paper says of itself at its end, label by label. */
export function identityRows(issue: Issue): readonly (readonly [string, string])[] {
  const words = FRAME_WORDS[issue.language];
  const { changes } = issue;
  const more = changes.length - MOST_CHANGES;
  return [
    [words.number, `${issue.number}, ${words.revision} ${issue.revision}`],
    [words.date, dayWords(issue.date, issue.language)],
    [words.madeBy, issue.by ?? words.notStated],
    [words.program, `Earthbell ${issue.version}`],
    [words.digest, issue.digest],
    ...(changes.length === 0 ? [[words.changed, words.firstIssue] as const] : []),
    ...changes.slice(0, MOST_CHANGES).map((change) => [words.changed, changeWords(change)] as const),
    ...(more > 0 ? [[words.changed, `+ ${more}`] as const] : []),
  ];
}

/** `people weekend reads: before … → now …`. */
function changeWords({ what, before, now }: InputChange): string {
  if (before === null && now === null) return what;
  return `${what}: ${before ?? "—"} → ${now ?? "—"}`;
}

/** Characters of the name of who made it, at the foot of a page; the end of the paper says it whole. */
const NAME_AT_FOOT = 40;

/** One line at the foot of each page. */
export function footerLine(issue: Issue): string {
  const words = FRAME_WORDS[issue.language];
  const { number, revision, by, version, digest } = issue;
  const made = by === null ? "" : ` · ${words.madeBy} ${Array.from(by).slice(0, NAME_AT_FOOT).join("")}`;
  return `${number} · ${words.revision} ${revision} · ${dayWords(issue.date, issue.language)}${made} · Earthbell ${version} · ${digest.slice(0, 16)}`;
}

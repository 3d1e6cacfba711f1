import type { MadePaper } from "@earthbell/papers";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { wrap } from "../terminal/wrap.ts";

type Shown = Pick<MadePaper, "again" | "files" | "notDrawn"> & {
  readonly issue: Pick<MadePaper["issue"], "number" | "revision" | "date" | "changes">;
};

/** What was made: number, revision, what changed, and the files. */
export function paperLines(unsafe: Shown, page: Page): string[] {
  const { issue, again, files, notDrawn } = printable(shown(unsafe));
  const changed = issue.changes.length;
  const what = again
    ? "nothing changed, so it is the same paper as before"
    : changed === 0
      ? "first issue"
      : changed === 1
        ? "1 change since the issue before"
        : `${changed} changes since the issue before`;
  return [
    ...wrap(`${issue.number}, revision ${issue.revision}, ${issue.date}: ${what}`, page.width),
    ...files.map((file) => `  ${file}`),
    ...(notDrawn === ""
      ? []
      : wrap(`  The type of the PDF lacks ${notDrawn}; each stands as □.`, page.width)),
  ];
}

/** What is printed of it; the inputs of a large register are not gone through for it. */
function shown({ issue, again, files, notDrawn }: Shown): Shown {
  const { number, revision, date, changes } = issue;
  return { issue: { number, revision, date, changes }, again, files, notDrawn };
}

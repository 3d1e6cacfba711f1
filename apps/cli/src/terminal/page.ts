import type { Style } from "./style.ts";

/** The sheet that text is laid out on: how wide it is, and with what ink and signs. */
export interface Page {
  /** Columns, 40 to 200. */
  readonly width: number;
  readonly style: Style;
  /** Only plain ASCII may be drawn. */
  readonly ascii: boolean;
}

const narrowest = 40;
const widest = 200;

/** Width from which sources stand in the margin beside a value instead of below it. */
export const marginFrom = 100;

/**
 * The width of the page: that of the terminal; a number in COLUMNS when the output is piped; else 80. Kept from 40 to 200.
 */
export function pageWidth(terminalColumns: number | undefined, columnsVariable: string | undefined): number {
  const asked = /^\d{1,4}$/u.test(columnsVariable ?? "") ? Number(columnsVariable) : undefined;
  const columns = terminalColumns ?? asked ?? 80;
  return Math.min(widest, Math.max(narrowest, columns));
}

/**
 * Whether the terminal shows only ASCII: asked for, or the locale names an encoding other than UTF-8. A locale that names
 * none (C, POSIX or nothing set) does not decide: pipes and containers run that way and read UTF-8 all the same.
 */
export function asciiOnly(
  asked: boolean,
  environment: Readonly<Record<string, string | undefined>>,
): boolean {
  if (asked) return true;
  const locale = [environment["LC_ALL"], environment["LC_CTYPE"], environment["LANG"]].find(
    (one) => one !== undefined && one !== "",
  );
  const encoding = locale?.split(".")[1]?.split("@")[0];
  return encoding !== undefined && !/^utf-?8$/iu.test(encoding);
}

/**
 * Ink. Colour only adds: every state also carries its own shape and word, so a page without colour says the same.
 *
 * Alarm colours follow IEC 60073 (red act now, yellow abnormal, blue mandatory action, green confirmed normal)
 * [published]; copper is the colour of the earth conductor and of the next point to measure (design choice).
 */
export interface Style {
  readonly strong: (text: string) => string;
  /** Units, sources, everything the eye may skip. */
  readonly secondary: (text: string) => string;
  readonly copper: (text: string) => string;
  readonly fault: (text: string) => string;
  readonly unsure: (text: string) => string;
  readonly doThis: (text: string) => string;
  readonly proven: (text: string) => string;
}

const same = (text: string): string => text;

export const plainStyle: Style = {
  strong: same,
  secondary: same,
  copper: same,
  fault: same,
  unsure: same,
  doThis: same,
  proven: same,
};

const ink =
  (code: string) =>
  (text: string): string =>
    text === "" ? "" : `\u001b[${code}m${text}\u001b[0m`;

const colourStyle: Style = {
  strong: ink("1"),
  secondary: ink("2"),
  copper: ink("38;5;173"),
  fault: ink("1;31"),
  unsure: ink("33"),
  doThis: ink("1;34"),
  proven: ink("32"),
};

export interface InkWish {
  /** `--color`, when given. */
  readonly color: string | undefined;
  readonly isTerminal: boolean;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

/**
 * Whether to use colour: what `--color` says; else only on a terminal that is not `dumb` and with NO_COLOR unset or empty
 * (the convention of no-color.org).
 */
export function chooseStyle({ color, isTerminal, environment }: InkWish): Style {
  if (color === "always") return colourStyle;
  if (color === "never") return plainStyle;
  const refused = (environment["NO_COLOR"] ?? "") !== "" || environment["TERM"] === "dumb";
  return isTerminal && !refused ? colourStyle : plainStyle;
}

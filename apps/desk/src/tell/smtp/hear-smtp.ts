import type { Hear, Said } from "../conversation.ts";
import { oneLine } from "../words/one-line.ts";

/** What the mail library says of one line: who said it, and how it is to be filled in. */
interface Entry {
  readonly tnx?: string;
}

const LEVELS = ["trace", "debug", "info", "warn", "error", "fatal"] as const;
const WHO: Readonly<Record<string, Said["by"] | undefined>> = {
  client: "desk",
  server: "other-side",
  network: "note",
};
const LONGEST_LINE = 500;

type SmtpLogger = Readonly<
  Record<(typeof LEVELS)[number], (entry: Entry, ...said: readonly unknown[]) => void>
> & {
  level(): void;
};

/**
 * A logger for the mail library that tells the conversation line by line. Of a login only its mechanism is told; the message
 * itself is left out, since it says nothing of the way there.
 */
export function smtpLogger(
  hear: Hear,
  login: { readonly user: string; readonly password: string } | undefined,
): SmtpLogger {
  const hidden = login === undefined ? [] : secretForms(login);
  /** After the server's 334 the desk answers with a part of its login. */
  let asked = false;
  const say = (entry: Entry, ...said: readonly unknown[]): void => {
    const by = WHO[entry.tnx ?? ""];
    if (by === undefined) return;
    for (const line of filled(said).split(/\r?\n/u)) {
      if (line === "") continue;
      const text = by === "desk" ? loginHidden(line, asked) : line;
      if (by !== "note") asked = by === "other-side" && line.startsWith("334");
      hear({
        by,
        text: oneLine(
          hidden.reduce((shown, form) => shown.replaceAll(form, HIDDEN), text),
          LONGEST_LINE,
        ),
      });
    }
  };
  return {
    ...(Object.fromEntries(LEVELS.map((level) => [level, say])) as SmtpLogger),
    level: () => undefined,
  };
}

const HIDDEN = "(not shown)";

function loginHidden(line: string, asked: boolean): string {
  if (asked) return `${HIDDEN}: an answer to the server's question for the login`;
  const auth = /^AUTH\s+([\w-]+)/iu.exec(line);
  return auth === null ? line : `AUTH ${auth[1]!} ${HIDDEN}`;
}

/** The password as it might stand in a line: itself, and in base64 with and without the user before it. */
function secretForms({
  user,
  password,
}: {
  readonly user: string;
  readonly password: string;
}): readonly string[] {
  const base64 = (text: string): string => Buffer.from(text, "utf8").toString("base64");
  return [base64(`\u0000${user}\u0000${password}`), base64(password), password];
}

/** The library gives a format and what goes into it. */
function filled([format, ...values]: readonly unknown[]): string {
  let next = 0;
  return textOf(format).replace(/%[sdj]/gu, () => textOf(values[next++]));
}

function textOf(value: unknown): string {
  return typeof value === "string" || typeof value === "number" ? String(value) : "";
}

/** What a person may do with secrets from a browser: put new ones in, never have a known one sent somewhere new. */

type Data = Readonly<Record<string, unknown>>;

/**
 * Why a section may not name these secrets; null: it may. A secret comes from where the section already has it, or from a file
 * that was put in by this program; and one that the section has already goes to the server that it went to.
 *
 * @param before  the section as the file has it; undefined: there is none
 * @param after   as it is to be
 */
export function secretProblem(before: unknown, after: unknown): string | null {
  const known = new Set(sourcesIn(before));
  const foreign = sourcesIn(after).find((source) => !known.has(source) && !OWN_FILE.test(source));
  if (foreign !== undefined)
    return `A secret put in here is read from secrets/, and not from ${foreign}: put the secret in, and name the file that it is given.`;
  const sent = new Map(serversIn(before));
  for (const [source, server] of serversIn(after))
    if (sent.has(source) && sent.get(source) !== server)
      return `The server is another one (${server}): give its secret anew, so that the known one is not sent there.`;
  return null;
}

const OWN_FILE = /^file secrets\/[\w-]{1,80}$/u;

function isMap(value: unknown): value is Data {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Every `{env: …}` and `{file: …}` of a section. */
function sourcesIn(value: unknown): readonly string[] {
  if (Array.isArray(value)) return value.flatMap(sourcesIn);
  if (!isMap(value)) return [];
  const entries = Object.entries(value);
  const [only] = entries;
  if (
    entries.length <= 2 &&
    only !== undefined &&
    entries.every(([name]) => name === "env" || name === "file")
  )
    return entries.map(([name, place]) => `${name} ${String(place)}`);
  return entries.flatMap(([, inner]) => sourcesIn(inner));
}

/** Each secret with the server that it is sent to. */
function serversIn(section: unknown): readonly (readonly [string, string])[] {
  if (Array.isArray(section)) return section.flatMap(serversIn);
  if (!isMap(section)) return [];
  const { host, port, url } = section;
  const server = typeof url === "string" ? originOf(url) : `${String(host)}:${String(port)}`;
  return sourcesIn(section).map((source) => [source, server]);
}

function originOf(url: string): string {
  return /^\w+:\/\/[^/?#]*/u.exec(url)?.[0] ?? url;
}

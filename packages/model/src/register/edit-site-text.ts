import { readSite } from "../site/read-site.ts";
import { siteText } from "../site/site-text.ts";
import type { Site } from "@earthbell/engine";

/** A change of a site that a table can make. */
export type SiteChange =
  | { readonly kind: "name"; readonly name: string }
  /** The owner was told in writing on this day, YYYY-MM-DD. */
  | { readonly kind: "owner-told"; readonly on: string }
  | {
      readonly kind: "proof";
      readonly path: string;
      readonly proof: "drill" | "test-resistor";
      readonly on: string;
      readonly by?: string;
      readonly acknowledgedAfterMin?: number;
    };

/** A site file with changes made. */
export interface EditedSite {
  readonly text: string;
  /** The whole file had to be written anew, and its remarks are lost. */
  readonly rewritten: boolean;
}

/**
 * Makes changes in the text of a site file. What its writer wrote stays as it is, with its remarks; the result is read back,
 * and where that gives another site than was meant the whole file is written anew instead.
 *
 * @param text  a sound site file
 */
export function editSiteText(text: string, site: Site, changes: readonly SiteChange[]): EditedSite {
  const wanted = changes.reduce(changed, site);
  const edited = changes.reduce(edit, text);
  const read = readSite(edited, "edited");
  if (read.ok && sameSite(read.record, wanted)) return { text: edited, rewritten: false };
  return { text: siteText(wanted), rewritten: true };
}

/** Whether two sites say the same. */
export function sameSite(one: Site, other: Site): boolean {
  return canonical(one) === canonical(other);
}

/** As text with the fields of each map in one order. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === "object" && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}

function changed(site: Site, change: SiteChange): Site {
  switch (change.kind) {
    case "name":
      return { ...site, name: change.name };
    case "owner-told":
      return { ...site, ownerInformed: { ...site.ownerInformed, on: change.on } };
    case "proof": {
      const { path, proof: kind, on, by, acknowledgedAfterMin } = change;
      const proof = {
        ...{ path, kind, on },
        ...(by === undefined ? {} : { by }),
        ...(acknowledgedAfterMin === undefined ? {} : { acknowledgedAfter: acknowledgedAfterMin }),
      } as Site["proofs"][number];
      return { ...site, proofs: [...site.proofs, proof] };
    }
  }
}

function edit(text: string, change: SiteChange): string {
  switch (change.kind) {
    case "name":
      return withName(text, JSON.stringify(change.name));
    case "owner-told":
      return /^ownerInformed:[^\n]*\bon: *\d{4}-\d\d-\d\d/mu.test(text)
        ? text.replace(/^(ownerInformed:[^\n]*\bon: *)\d{4}-\d\d-\d\d/mu, `$1${change.on}`)
        : `${text.trimEnd()}\n\nownerInformed: {on: ${change.on}}\n`;
    case "proof":
      return withProof(text, proofLine(change));
  }
}

/** The name stands in the block `site:`, beside its id. */
function withName(text: string, name: string): string {
  const [block = ""] = /^site:\n(?:[ ]+[^\n]*\n)+/mu.exec(text) ?? [];
  const named = /^( +)name:[^\n]*$/mu.test(block)
    ? block.replace(/^( +)name:[^\n]*$/mu, (_, indent: string) => `${indent}name: ${name}`)
    : block.replace(/^( +)id:[^\n]*$/mu, (line: string, indent: string) => `${line}\n${indent}name: ${name}`);
  return text.replace(block, () => named);
}

/** A further proof goes behind the last one of the list. */
function withProof(text: string, line: string): string {
  const [list] = /^proofs:\n(?: *-[^\n]*\n(?: {3,}[^\n]*\n)*)+/mu.exec(`${text}\n`) ?? [];
  if (list === undefined) return `${text.trimEnd()}\n\nproofs:\n  - ${line}\n`;
  const indent = /^( *)-/mu.exec(list)?.[1] ?? "  ";
  return `${text}\n`.replace(list, () => `${list}${indent}- ${line}\n`).replace(/\n\n$/u, "\n");
}

function proofLine({
  path,
  proof,
  on,
  by,
  acknowledgedAfterMin,
}: Extract<SiteChange, { kind: "proof" }>): string {
  const fields = [
    `path: ${JSON.stringify(path)}`,
    `kind: ${proof}`,
    `on: ${on}`,
    ...(by === undefined ? [] : [`by: ${JSON.stringify(by)}`]),
    ...(acknowledgedAfterMin === undefined ? [] : [`acknowledgedAfter: ${acknowledgedAfterMin} min`]),
  ];
  return `{${fields.join(", ")}}`;
}

/** What a gateway's request can be filled with. */
export interface Filling {
  /** The number, as the gateway wants it. */
  readonly to: string;
  readonly text: string;
  /** The same for a duplicate of the same message. */
  readonly key: string;
}

const PLACEHOLDER = /\{([a-z]+)\}/gu;
const NAMES: readonly string[] = ["to", "text", "key"];

/** Placeholders of a template that nothing fills. */
export function unknownPlaceholders(template: string): readonly string[] {
  return [...template.matchAll(PLACEHOLDER)]
    .map((found) => found[1]!)
    .filter((name) => !NAMES.includes(name));
}

export function hasPlaceholder(template: string, name: keyof Filling): boolean {
  return template.includes(`{${name}}`);
}

/** Each placeholder once: what is filled in is not looked at again. */
export function fill(
  template: string,
  filling: Filling,
  as: (text: string) => string = (text) => text,
): string {
  return template.replace(PLACEHOLDER, (_, name: string) => as(filling[name as keyof Filling]));
}

export type JsonTemplate =
  | string
  | number
  | boolean
  | null
  | readonly JsonTemplate[]
  | { readonly [key: string]: JsonTemplate };

/** Texts inside the value are filled; keys and everything else stay, so that no text can become structure. */
export function fillJson(template: JsonTemplate, filling: Filling): JsonTemplate {
  if (typeof template === "string") return fill(template, filling);
  if (template === null || typeof template !== "object") return template;
  if (isList(template)) return template.map((one) => fillJson(one, filling));
  return Object.fromEntries(Object.entries(template).map(([key, one]) => [key, fillJson(one, filling)]));
}

function isList(template: JsonTemplate): template is readonly JsonTemplate[] {
  return Array.isArray(template);
}

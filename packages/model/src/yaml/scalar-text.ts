const WORD_OF_YAML = /^(?:true|false|null|yes|no|on|off|y|n)$/iu;

/** A text as a YAML scalar: bare where nothing in it means anything to YAML and it can be read as text only, else quoted. */
export function scalarText(text: string): string {
  const bare = /^[A-Za-z](?:[\w.@/ +-]*[\w+])?$/u.test(text) && !WORD_OF_YAML.test(text);
  const date = /^\d{4}-\d\d-\d\d$/u.test(text);
  return bare || date ? text : JSON.stringify(text);
}

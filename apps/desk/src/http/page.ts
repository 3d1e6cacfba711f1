/** Text as it may stand in a page. */
export function escaped(text: string): string {
  return text.replace(/[&<>"']/gu, (character) => `&#${String(character.codePointAt(0))};`);
}

/**
 * A small page without script and with no style of its own beyond the sheet beside it: it opens on any telephone.
 *
 * @param body  pieces of HTML, escaped by who made them
 */
export function page(desk: string, title: string, body: readonly string[]): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escaped(title)}</title>
<link rel="stylesheet" href="/a/sheet.css">
</head>
<body>
<main>
<p class="desk">${escaped(desk)}</p>
<h1>${escaped(title)}</h1>
${body.join("\n")}
</main>
</body>
</html>
`;
}

/** The field book's ink and paper, and a button that a thumb finds. */
export const SHEET = `
:root { color-scheme: light dark; --paper: #faf8f3; --ink: #1d2321; --soft: #5d6560; --line: #d9d4c7; --accent: #9a4a1f; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #161a19; --ink: #e9e6dc; --soft: #a3aaa4; --line: #343b38; --accent: #e09a6b; }
}
body { margin: 0; background: var(--paper); color: var(--ink); font: 18px/1.5 system-ui, sans-serif; }
main { max-width: 36rem; margin: 0 auto; padding: 2rem 1.25rem; }
.desk { color: var(--soft); border-bottom: 1px solid var(--line); padding-bottom: .5rem; }
h1 { font-size: 1.6rem; line-height: 1.25; }
button { font: inherit; font-weight: 600; width: 100%; min-height: 56px; margin: 1rem 0; cursor: pointer;
  color: var(--paper); background: var(--accent); border: 0; border-radius: 4px; }
button:focus-visible { outline: 3px solid var(--ink); outline-offset: 3px; }
`;

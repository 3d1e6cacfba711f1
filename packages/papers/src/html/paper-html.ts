import type { Paper } from "../content/paper.ts";
import { identityRows } from "../identity/identity-rows.ts";
import { FRAME_WORDS } from "../language/frame-words.ts";
import { blockHtml } from "./block-html.ts";
import { escapeHtml as text } from "./escape-html.ts";
import { PAPER_STYLE } from "./paper-style.ts";

/**
 * A paper as one self-contained HTML file: its own style, for the screen and for print, drawings inside it, nothing fetched
 * from anywhere. The same paper gives the same text.
 */
export function paperHtml(paper: Paper): string {
  const words = FRAME_WORDS[paper.language];
  const identity = identityRows(paper.issue).map(([label, value]) => `<p>${text(label)}: ${text(value)}</p>`);
  return `<!doctype html>
<html lang="${paper.language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<title>${text(`${paper.title}: ${paper.subject}`)}</title>
<style>${PAPER_STYLE}</style>
</head>
<body class="${paper.look}">
<main>
<p class="subject">${text(paper.subject)}</p>
<h1>${text(paper.title)}</h1>
${paper.blocks.map((block) => blockHtml(block, words)).join("\n")}
</main>
<footer>
${identity.join("\n")}
</footer>
</body>
</html>
`;
}

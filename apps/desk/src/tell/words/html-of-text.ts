const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

function escaped(text: string): string {
  return text.replace(/[&<>"']/gu, (character) => ESCAPES[character]!);
}

/**
 * The HTML form of a message, made from its plain text and nothing else: a line that ends in a colon above others is a
 * heading, lines with a dash are a list. Everything is escaped, nothing is fetched from elsewhere, and the one link is the
 * one to acknowledge by: an address in a name stays text.
 */
export function htmlOfText(subject: string, text: string, acknowledgeUrl?: string): string {
  const link = acknowledgeUrl !== undefined && /^https?:\/\//u.test(acknowledgeUrl) ? acknowledgeUrl : null;
  const body = text.split(/\n{2,}/u).map((block) => htmlOfBlock(block.split("\n"), link));
  return [
    "<!DOCTYPE html>",
    '<html lang="en"><head><meta charset="utf-8">',
    `<title>${escaped(subject)}</title></head>`,
    '<body style="font-family:sans-serif;font-size:16px;line-height:1.5;max-width:40em">',
    ...body,
    "</body></html>",
    "",
  ].join("\n");
}

function htmlOfBlock(lines: readonly string[], link: string | null): string {
  const [first] = lines;
  const headed = lines.length > 1 && first !== undefined && first.endsWith(":") && !first.startsWith("- ");
  const rest = headed ? lines.slice(1) : lines;
  const plain = rest.filter((line) => !line.startsWith("- ")).map((line) => htmlOfLine(line, link));
  const items = rest.filter((line) => line.startsWith("- ")).map((line) => htmlOfLine(line.slice(2), link));
  return [
    ...(headed ? [`<h2 style="font-size:18px">${escaped(first)}</h2>`] : []),
    ...(plain.length > 0 ? [`<p>${plain.join("<br>\n")}</p>`] : []),
    ...(items.length > 0 ? ["<ul>", ...items.map((item) => `<li>${item}</li>`), "</ul>"] : []),
  ].join("\n");
}

function htmlOfLine(line: string, link: string | null): string {
  if (line !== link) return escaped(line);
  return `<a href="${escaped(link)}">${escaped(link)}</a>`;
}

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { htmlOfText } from "./html-of-text.ts";
import { ANSWER_URL, setAlarm, toldOf } from "./occasion.fixture.ts";
import { wordsFor } from "./words.ts";

/** The words of a page, as a reader without styles sees them. */
function wordsOf(html: string): string {
  return html
    .replace(/<title>[^<]*<\/title>/u, "")
    .replace(/<[^>]*>/gu, "\n")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&")
    .replace(/\s+/gu, " ")
    .trim();
}

describe("the HTML form of a message", () => {
  const { subject, text } = wordsFor(toldOf(setAlarm()));

  it("says the same words in the same order as the plain text", () => {
    expect(wordsOf(htmlOfText(subject, text, ANSWER_URL))).toBe(
      text.replace(/^- /gmu, "").replace(/\s+/gu, " ").trim(),
    );
  });

  it("links to the acknowledgement and to nothing else", () => {
    const forged = `${text}\n\nhttps://elsewhere.example/`;
    const links = htmlOfText(subject, forged, ANSWER_URL).match(/href="[^"]*"/gu);
    expect(links).toEqual([`href="${ANSWER_URL}"`]);
  });

  it("makes no link of an address that is no web address", () => {
    expect(htmlOfText("s", "javascript:alert(1)", "javascript:alert(1)")).not.toContain("href");
  });

  it("makes headings of lines with a colon and lists of lines with a dash", () => {
    const html = htmlOfText("s", "Next:\n- one\n- two\n\nLast line");
    expect(html).toContain("Next:</h2>\n<ul>\n<li>one</li>\n<li>two</li>\n</ul>\n<p>Last line</p>");
  });

  it("lets no text become a tag, and fetches nothing, whatever the names", () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), (one, other) => {
        const html = htmlOfText(one, `${other}\n- ${one}<img src=x onerror=y>`);
        expect([...html.matchAll(/<\/?([a-z!][a-z0-9]*)/giu)].map((tag) => tag[1]!.toLowerCase())).toEqual(
          expect.not.arrayContaining(["img", "script", "iframe", "link"]),
        );
        expect(html).not.toMatch(/\s(?:src|onerror)="/u);
      }),
    );
  });
});

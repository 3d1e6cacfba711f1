import { plainText } from "../pdf/drawable-text.ts";

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** A text as HTML shows it, in an element or in an attribute between quotes. */
export function escapeHtml(text: string): string {
  return plainText(text).replace(/[&<>"']/gu, (character) => ENTITIES[character]!);
}

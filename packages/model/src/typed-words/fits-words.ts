/** Text without case and accents, as people type. */
export function folded(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}

/** Whether a text holds every word that was typed, whatever its case and accents; nothing typed fits everything. */
export function fitsWords(typed: string): (text: string) => boolean {
  const fits = fitsFolded(typed);
  return (text) => fits(folded(text));
}

/** The same of a text that is folded already. */
export function fitsFolded(typed: string): (text: string) => boolean {
  const words = folded(typed).split(/\s+/u).filter(Boolean);
  return (text) => words.every((word) => text.includes(word));
}

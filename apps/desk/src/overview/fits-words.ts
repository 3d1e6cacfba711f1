import { folded } from "../papers/asked-sites.ts";

/** Whether a text holds every word that was typed, whatever its case and accents; nothing typed fits everything. */
export function fitsWords(typed: string): (text: string) => boolean {
  const words = folded(typed).split(/\s+/u).filter(Boolean);
  if (words.length === 0) return () => true;
  return (text) => {
    const within = folded(text);
    return words.every((word) => within.includes(word));
  };
}

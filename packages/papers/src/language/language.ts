/** Languages that papers are written in. English is complete; the others hold the papers they say they hold. */
export const LANGUAGES = ["en", "es"] as const;
export type Language = (typeof LANGUAGES)[number];

const MONTHS: Readonly<Record<Language, readonly string[]>> = {
  en: [
    ...["January", "February", "March", "April", "May", "June"],
    ...["July", "August", "September", "October", "November", "December"],
  ],
  es: [
    ...["enero", "febrero", "marzo", "abril", "mayo", "junio"],
    ...["julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"],
  ],
};

/**
 * A calendar day in words: `25 November 2026`, `25 de noviembre de 2026`. Tables of our own, because those of the
 * system change with its version and a paper must come out the same for ever.
 */
export function dayWords(date: string, language: Language): string {
  const [year, month, day] = date.split("-").map(Number) as [number, number, number];
  const name = MONTHS[language][month - 1]!;
  return language === "es" ? `${day} de ${name} de ${year}` : `${day} ${name} ${year}`;
}

/** A number or quantity as the language writes it: a decimal comma in Spanish. */
export function numberWords(written: string, language: Language): string {
  return language === "es" ? written.replace(/(?<=\d)\.(?=\d)/gu, ",") : written;
}

/** `A`, `A and B`, `A, B and C`. */
export function listed(words: readonly string[], language: Language): string {
  const and = language === "es" ? "y" : "and";
  if (words.length <= 1) return words[0] ?? "";
  return `${words.slice(0, -1).join(", ")} ${and} ${words.at(-1)!}`;
}

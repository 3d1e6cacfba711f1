/** A long day on a large array has some hundred readings and some ten photos; what is far beyond is a program gone astray. */
export const MOST_ENTRIES = 5000;
export const MOST_PHOTOS = 200;

/** What a visit has no room for any more, in words. */
export const fullWords = (visit: string, most: number, what: string): string =>
  `Visit ${visit} has ${String(most)} ${what}, which is the most that one visit takes.`;

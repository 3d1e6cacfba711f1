/** `Any site` as it goes on in a sentence: `any site`. */
export const inSentence = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1);

/**
 * Letters as wide as they are high, as a class of a regular expression: ideographs, kana, syllables of Korean, full forms of
 * other letters, and pictures. A line breaks between any two of them by itself.
 */
export const WIDE_LETTERS = String.raw`\uff01-\uff60\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Extended_Pictographic}\p{Regional_Indicator}`;

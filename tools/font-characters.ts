/** What the build needs of the program to say which font draws what. */
export { characterSpans } from "../packages/papers/src/pdf/glyph-coverage.ts";

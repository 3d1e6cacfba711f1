import type { Explanation } from "./explanation.ts";

/** Faults of the text itself, before anything in it can be understood. */
export const textFaults = {
  INPUT_FILE_EMPTY: {
    title: "The file is empty",
    meaning: "Nothing but blanks and comments is written in the file.",
    causes: [
      "the wrong file was named",
      "the file was cut off while it was copied",
      "every line is a comment",
    ],
    remedy: "Check the file name and open the file in an editor; begin it with its format line.",
  },
  INPUT_FILE_TOO_LARGE: {
    title: "The file is larger than is read",
    meaning: "The file has more bytes than the limit. Nothing in it was read.",
    causes: ["another kind of file was named", "very many sites were put in one file"],
    remedy: "Split the file, or write one site or visit a line and run it as a batch.",
  },
  INPUT_ENCODING_NOT_UTF8: {
    title: "The text is not UTF-8",
    meaning: "Some bytes do not form characters in UTF-8, the only encoding that is read.",
    causes: ["the file was saved as UTF-16 or in a regional code page", "the file is not text"],
    remedy: "Save the file again as UTF-8 in the editor.",
  },
  INPUT_CHARACTER_NOT_ALLOWED: {
    title: "A control character is in the text",
    meaning: "The text holds a character that no editor shows, such as NUL.",
    causes: ["the file is not text", "the file was damaged", "text was pasted from a terminal"],
    remedy: "Delete the character at the line given, or write the file anew.",
  },
  INPUT_SYNTAX_INVALID: {
    title: "The text is neither sound YAML nor sound JSON",
    meaning: "From the place given the text cannot be read, so what follows was not checked.",
    causes: [
      "a bracket or quote is not closed",
      "a line is indented too far or too little",
      "text that holds a colon or begins with a special character is not in quotes",
      "the file was cut off",
    ],
    remedy: "Mend the line given and read the file again; further faults may then appear.",
  },
  INPUT_TAB_INDENT: {
    title: "A tab indents a line",
    meaning: "YAML counts indentation in spaces; a tab has no width there.",
    causes: ["the editor writes tabs"],
    remedy: "Replace tabs at the start of lines by spaces.",
  },
  INPUT_NESTING_TOO_DEEP: {
    title: "Maps and lists are nested too deep",
    meaning: "More brackets or indented levels are open at once than any such file needs.",
    causes: ["the file is not of this kind", "the file was made to overload a reader"],
    remedy: "Check where the file comes from, and write the levels that the format has.",
  },
  INPUT_TEXT_TOO_LONG: {
    title: "A text is longer than any field",
    meaning: "A single text goes on for tens of thousands of characters.",
    causes: [
      "a quote is not closed",
      "a whole document was pasted into a field",
      "the file is not of this kind",
    ],
    remedy: "Close the quote, or keep long documents in files of their own.",
  },
  INPUT_ALIAS_TOO_MANY: {
    title: "Aliases repeat too much",
    meaning: "Aliases (*name) would blow the file up to many times its size.",
    causes: [
      "aliases stand for values that hold aliases themselves",
      "the file was made to overload a reader",
    ],
    remedy: "Write the repeated values out.",
  },
  INPUT_KEY_DUPLICATE: {
    title: "A key is written twice",
    meaning: "The same key stands twice in one map, so that one of the two values would be lost.",
    causes: ["a block was copied and its key not changed", "two people edited the file"],
    remedy: "Keep the right one of the two lines and delete the other.",
  },
  INPUT_DOCUMENTS_MORE_THAN_ONE: {
    title: "The file holds more than one document",
    meaning: "A line --- begins a second YAML document; a file is one record.",
    causes: ["several files were joined into one"],
    remedy: "Put each document in a file of its own.",
  },
  INPUT_RECORD_NOT_A_MAP: {
    title: "The file is not a map of fields",
    meaning: "At its outermost level the file must be a map that begins with its format line.",
    causes: [
      "the file begins with a list",
      "the file is a single word or number",
      "another kind of file was named",
    ],
    remedy: "Begin the file with its format line, followed by the fields at the same indentation.",
  },
  INPUT_FORMAT_WRONG: {
    title: "The file is of another format",
    meaning:
      "The format line names a format or version other than the one wanted here, so nothing else was checked.",
    causes: ["a visit was given where a site is wanted, or the other way round", "the version is misspelt"],
    remedy: "Name the right file, or correct its format line.",
  },
} as const satisfies Readonly<Record<string, Explanation>>;

/** The signs a strip is drawn with, each one column wide. */
export interface StripMarks {
  readonly minus: string;
  readonly plus: string;
  readonly homeRun: string;
  readonly onward: string;
  readonly junction: string;
  readonly moduleStart: string;
  readonly moduleEnd: string;
  readonly inside: string;
  /** Fills a module that is drawn without walls. */
  readonly compactModule: string;
  /** From little to much. */
  readonly densities: readonly string[];
  readonly bars: readonly string[];
  readonly lead: string;
  readonly nextLead: string;
  readonly nextWord: string;
}

export const unicodeMarks: StripMarks = {
  minus: "−",
  plus: "+",
  homeRun: "─",
  onward: "┄",
  junction: "•",
  moduleStart: "┤",
  moduleEnd: "├",
  inside: " ",
  compactModule: "═",
  densities: ["░", "▒", "▓", "█"],
  bars: ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"],
  lead: "│",
  nextLead: "┊",
  nextWord: "next",
};

export const asciiMarks: StripMarks = {
  minus: "-",
  plus: "+",
  homeRun: "-",
  onward: ".",
  junction: "o",
  moduleStart: "[",
  moduleEnd: "]",
  inside: " ",
  compactModule: "=",
  densities: [".", ":", "%", "#"],
  bars: ["_", ".", "-", ":", "=", "+", "*", "#"],
  lead: "|",
  nextLead: ":",
  nextWord: "next",
};

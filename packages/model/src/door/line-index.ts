/** A place for people: both from 1. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** Turns offsets of a text into lines and columns. Line 1 of the text is line `firstLine` of its file. */
export function lineIndex(text: string, firstLine = 1): (offset: number) => Place {
  const starts = [0];
  for (let at = text.indexOf("\n"); at !== -1; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  return (offset) => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: firstLine + low, column: offset - starts[low]! + 1 };
  };
}

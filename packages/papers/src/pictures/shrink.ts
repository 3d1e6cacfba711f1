/** A picture unpacked: red, green, blue and opacity of each point, line by line, 0 to 255. */
export interface Pixels {
  readonly data: Uint8Array | Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
}

const WHITE = 255;

/**
 * The same picture on white paper, its longer edge at most `edge` points long; a smaller one keeps its size. Each point is the
 * mean of the points that it takes the place of, so that fine lines do not break up.
 *
 * Check: shrink.test.ts
 */
export function shrunk(picture: Pixels, edge: number): Pixels {
  const scale = Math.min(1, edge / Math.max(picture.width, picture.height));
  const width = Math.max(1, Math.round(picture.width * scale));
  const height = Math.max(1, Math.round(picture.height * scale));
  const data = new Uint8ClampedArray(width * height * 4);
  const sum = [0, 0, 0];
  for (let y = 0; y < height; y++) {
    const [top, bottom] = span(y, height, picture.height);
    for (let x = 0; x < width; x++) {
      const [left, right] = span(x, width, picture.width);
      sum.fill(0);
      addUp(picture, sum, { left, right, top, bottom });
      const count = (right - left) * (bottom - top);
      const at = (y * width + x) * 4;
      for (let colour = 0; colour < 3; colour++) data[at + colour] = Math.round(sum[colour]! / count);
      data[at + 3] = WHITE;
    }
  }
  return { data, width, height };
}

/** The points of a long line that one point of a shorter line stands for; at least one. */
function span(at: number, short: number, long: number): readonly [number, number] {
  const from = Math.floor((at * long) / short);
  return [from, Math.max(from + 1, Math.floor(((at + 1) * long) / short))];
}

interface Rectangle {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function addUp({ data, width }: Pixels, sum: number[], { left, right, top, bottom }: Rectangle): void {
  for (let y = top; y < bottom; y++)
    for (let at = (y * width + left) * 4; at < (y * width + right) * 4; at += 4) {
      const opacity = data[at + 3]! / WHITE;
      const paper = WHITE * (1 - opacity);
      sum[0]! += data[at]! * opacity + paper;
      sum[1]! += data[at + 1]! * opacity + paper;
      sum[2]! += data[at + 2]! * opacity + paper;
    }
}

/**
 * Circuit symbols in one stroke language, drawn along a conductor from left to right at a height. Each is centred on x.
 * Shapes follow IEC 60617 as remembered; a diagram is read with its labels.
 */

export const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

export const line = (x1: number, y1: number, x2: number, y2: number): string =>
  `<line x1="${x1}" y1="${y1}" x2="${x2}" y2="${y2}"/>`;

/** Words beside a part; the first line is ink, the others secondary ink. */
export function label(x: number, y: number, lines: readonly string[], anchor = "middle"): string {
  return lines
    .map((text, i) => {
      const style = i === 0 ? 'class="name"' : 'class="value"';
      return `<text x="${x}" y="${y + i * 15}" text-anchor="${anchor}" ${style}>${escaped(text)}</text>`;
    })
    .join("");
}

/** A number ringed in copper, keyed to a note. */
export function noteMark(x: number, y: number, number: number): string {
  return (
    `<circle cx="${x}" cy="${y}" r="9" class="mark"/>` +
    `<text x="${x}" y="${y + 4}" text-anchor="middle" class="mark-number">${number}</text>`
  );
}

/** Battery standing between two conductors, positive above. */
export function battery(x: number, top: number, bottom: number): string {
  const middle = (top + bottom) / 2;
  return (
    line(x, top, x, middle - 8) +
    line(x - 16, middle - 8, x + 16, middle - 8) +
    line(x - 8, middle, x + 8, middle) +
    line(x - 16, middle + 8, x + 16, middle + 8) +
    line(x - 8, middle + 16, x + 8, middle + 16) +
    line(x, middle + 16, x, bottom) +
    `<text x="${x + 22}" y="${middle - 10}" class="value">+</text>`
  );
}

/** Fuse: a long box with the conductor through it. */
export const fuse = (x: number, y: number): string =>
  `<rect x="${x - 20}" y="${y - 7}" width="40" height="14"/>` + line(x - 20, y, x + 20, y);

/** Contact that makes: a lever standing off its seat; one that breaks: a lever crossing its seat. */
export function contact(x: number, y: number, breaks: boolean): string {
  const seat = breaks ? line(x + 14, y, x + 14, y - 12) : "";
  const lever = breaks ? line(x - 16, y, x + 18, y - 8) : line(x - 16, y, x + 14, y - 14);
  return `<circle cx="${x - 16}" cy="${y}" r="2" class="joint"/>` + lever + seat;
}

/** Resistor standing between two heights. */
export const resistor = (x: number, top: number, bottom: number): string => {
  const middle = (top + bottom) / 2;
  return (
    line(x, top, x, middle - 20) +
    `<rect x="${x - 7}" y="${middle - 20}" width="14" height="40"/>` +
    line(x, middle + 20, x, bottom)
  );
};

/** Diode across a coil, cathode upwards. */
export function diode(x: number, top: number, bottom: number): string {
  const middle = (top + bottom) / 2;
  return (
    line(x, top, x, bottom) +
    `<path d="M${x - 7} ${middle + 6} h14 l-7 -12 z" class="joint"/>` +
    line(x - 7, middle - 6, x + 7, middle - 6)
  );
}

/** Relay coil standing between two heights. */
export function coil(x: number, top: number, bottom: number): string {
  const middle = (top + bottom) / 2;
  return (
    line(x, top, x, middle - 12) +
    `<rect x="${x - 18}" y="${middle - 12}" width="36" height="24"/>` +
    line(x - 6, middle + 12, x + 6, middle - 12) +
    line(x, middle + 12, x, bottom)
  );
}

/** Sounder: a bowl open to the right. */
export function sounder(x: number, top: number, bottom: number): string {
  const middle = (top + bottom) / 2;
  return (
    line(x, top, x, middle - 16) +
    `<path d="M${x} ${middle - 16} a16 16 0 0 1 0 32 z"/>` +
    line(x, middle + 16, x, bottom)
  );
}

/** Lamp or beacon: a circle with a cross. */
export function lamp(x: number, top: number, bottom: number): string {
  const middle = (top + bottom) / 2;
  const side = 11;
  return (
    line(x, top, x, middle - 16) +
    `<circle cx="${x}" cy="${middle}" r="16"/>` +
    line(x - side, middle - side, x + side, middle + side) +
    line(x - side, middle + side, x + side, middle - side) +
    line(x, middle + 16, x, bottom)
  );
}

/** Two cores in one sheath. */
export const cable = (x: number, top: number, bottom: number): string =>
  `<ellipse cx="${x}" cy="${(top + bottom) / 2}" rx="9" ry="${(bottom - top) / 2 + 12}" class="sheath"/>`;

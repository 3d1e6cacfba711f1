/** Where the alarm is seen or heard, side by side with the person, not to scale. */
export interface WherePicture {
  readonly device: "light" | "sounder";
  /** Name of the device, at its foot. */
  readonly label: string;
  /** Between device and person; empty: not known. */
  readonly distance: string;
  /** Walls between them. */
  readonly walls: number;
  /** What the person is called. */
  readonly you: string;
}

const STYLE =
  "line,path,rect,circle{fill:none;stroke:#1d2321;stroke-width:1.6}" +
  ".full{fill:#1d2321}.thin{stroke-width:.9}" +
  "text{fill:#1d2321;font-family:system-ui,sans-serif;font-size:14px;text-anchor:middle}";
const WIDTH = 360;
const HEIGHT = 170;
const GROUND = 140;
const DEVICE_X = 52;
const PERSON_X = 310;

const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");

function light(): string {
  const rays = Array.from({ length: 8 }, (_, ray) => {
    const angle = (ray * Math.PI) / 4;
    const at = (radius: number): string =>
      `${(DEVICE_X + radius * Math.cos(angle)).toFixed(1)} ${(66 + radius * Math.sin(angle)).toFixed(1)}`;
    return `<path d="M${at(11)} L${at(18)}"/>`;
  });
  return (
    `<rect x="${DEVICE_X - 30}" y="38" width="60" height="74"/>` +
    `<circle cx="${DEVICE_X}" cy="66" r="7" class="full"/>${rays.join("")}` +
    `<path d="M${DEVICE_X - 16} 98 h32" class="thin"/>`
  );
}

function sounder(): string {
  const arcs = [16, 28, 40].map(
    (radius) =>
      `<path d="M${DEVICE_X + 22 + radius * 0.7} ${70 - radius * 0.7} a${radius} ${radius} 0 0 1 0 ${(radius * 1.4).toFixed(1)}"/>`,
  );
  return (
    `<rect x="${DEVICE_X - 24}" y="58" width="18" height="24" class="full"/>` +
    `<path d="M${DEVICE_X - 6} 62 L${DEVICE_X + 16} 46 V94 L${DEVICE_X - 6} 78 Z"/>` +
    arcs.join("")
  );
}

const person =
  `<circle cx="${PERSON_X}" cy="62" r="10"/>` +
  `<path d="M${PERSON_X} 72 V106 M${PERSON_X - 16} 86 H${PERSON_X + 16} M${PERSON_X} 106 L${PERSON_X - 12} ${GROUND} M${PERSON_X} 106 L${PERSON_X + 12} ${GROUND}"/>`;

function wall(index: number, count: number): string {
  const x = 150 + ((index + 1) * 120) / (count + 1);
  return `<rect x="${(x - 4).toFixed(1)}" y="30" width="8" height="${GROUND - 30}" class="full"/>`;
}

function span(distance: string): string {
  if (distance === "") return "";
  const [from, to] = [DEVICE_X + 34, PERSON_X - 20];
  return (
    `<path d="M${from} 24 H${to} M${from} 18 v12 M${to} 18 v12" class="thin"/>` +
    `<text x="${(from + to) / 2}" y="16">${escaped(distance)}</text>`
  );
}

/** The place of the alarm device and of the person as a drawing in black on white. */
export function drawWhere({ device, label, distance, walls, you }: WherePicture): string {
  const shown = Math.min(walls, 4);
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}"><style>${STYLE}</style>` +
    `<path d="M8 ${GROUND} H${WIDTH - 8}"/>` +
    (device === "light" ? light() : sounder()) +
    Array.from({ length: shown }, (_, index) => wall(index, shown)).join("") +
    person +
    span(distance) +
    `<text x="${DEVICE_X}" y="${GROUND + 20}">${escaped(label.slice(0, 14))}</text>` +
    `<text x="${PERSON_X}" y="${GROUND + 20}">${escaped(you)}</text></svg>`
  );
}

/** Models of a simulated device, as the open standard lays them out. */
export const LAYOUTS = ["inverter", "floating-point", "trackers", "combiner", "der"] as const;
export type Layout = (typeof LAYOUTS)[number];

/** Ports of a simulated device that tells its ports apart. */
const PORTS = 2;

interface Placed {
  readonly state: number;
  /** Word of the state field for off, running and so on; model 701 counts from 0. */
  readonly stateLess: number;
  readonly events: number;
  readonly insulation: number | null;
  /** Bitfields of the ports, and the bit in them. */
  readonly ports: readonly { readonly address: number; readonly bit: number }[];
}

/** Registers of one simulated device, and where the changing ones are. */
export interface RegisterMap extends Placed {
  readonly base: number;
  readonly words: Uint16Array;
  /** Address of the first model after the common one. */
  readonly second: number;
}

const NOT_IMPLEMENTED = 0xffff;

/** Words of one model from its ID on, every point absent. */
function model(id: number, length: number): number[] {
  return [id, length, ...Array<number>(length).fill(NOT_IMPLEMENTED)];
}

function zero(words: number[], ...offsets: number[]): number[] {
  for (const offset of offsets) words[offset] = 0;
  return words;
}

function commonModel(serial: string): number[] {
  const words = model(1, 66);
  const write = (offset: number, registers: number, text: string): void => {
    for (let at = 0; at < registers; at++) {
      const [high, low] = [text.charCodeAt(2 * at) || 0, text.charCodeAt(2 * at + 1) || 0];
      words[offset + at] = high * 256 + low;
    }
  };
  write(2, 16, "Rehearsal");
  write(18, 16, "Simulated inverter");
  write(34, 8, "");
  write(42, 8, "1");
  write(50, 16, serial);
  return words;
}

/** Model of trackers with two modules; `N` says so. */
function trackers(): number[] {
  const words = zero(model(160, 8 + 20 * PORTS), 6, 7);
  words[8] = PORTS;
  for (let port = 0; port < PORTS; port++) zero(words, 10 + 20 * port + 18, 10 + 20 * port + 19);
  return words;
}

function combiner(): number[] {
  const words = zero(model(401, 14 + 8 * PORTS), 7, 8);
  words[6] = PORTS;
  for (let port = 0; port < PORTS; port++) zero(words, 16 + 8 * port + 1, 16 + 8 * port + 2);
  return words;
}

function dcPorts(): number[] {
  const words = zero(model(714, 18 + 25 * PORTS), 2, 3);
  words[4] = PORTS;
  for (let port = 0; port < PORTS; port++) zero(words, 20 + 25 * port + 23, 20 + 25 * port + 24);
  return words;
}

/** Insulation in kiloohms: a scale factor of 3. */
function status(): number[] {
  const words = model(122, 44);
  words[45] = 3;
  return words;
}

interface Part {
  readonly words: number[];
  readonly state?: readonly [offset: number, less: number];
  readonly events?: number;
  readonly insulation?: number;
  readonly ports?: { readonly first: number; readonly size: number; readonly bit: number };
}

const inverter = (): Part => ({ words: zero(model(103, 50), 38, 40, 41), state: [38, 0], events: 40 });
const insulation = (): Part => ({ words: status(), insulation: 44 });

const PARTS: Readonly<Record<Layout, () => readonly Part[]>> = {
  inverter: () => [inverter(), insulation()],
  "floating-point": () => [
    { words: zero(model(113, 60), 48, 50, 51), state: [48, 0], events: 50 },
    insulation(),
  ],
  trackers: () => [inverter(), insulation(), { words: trackers(), ports: { first: 28, size: 20, bit: 0 } }],
  combiner: () => [inverter(), insulation(), { words: combiner(), ports: { first: 17, size: 8, bit: 12 } }],
  der: () => [
    { words: zero(model(701, 153), 4, 6, 7), state: [4, 1], events: 6 },
    { words: dcPorts(), ports: { first: 43, size: 25, bit: 0 } },
    insulation(),
  ],
};

/** Lays a device out from its base address on. */
export function registerMap(layout: Layout, base: number, serial: string): RegisterMap {
  const words = [0x5375, 0x6e53, ...commonModel(serial)];
  const second = base + words.length;
  let placed: Placed = { state: 0, stateLess: 0, events: 0, insulation: null, ports: [] };
  for (const part of PARTS[layout]()) {
    const address = base + words.length;
    words.push(...part.words);
    const { state, events, insulation: ohms, ports } = part;
    placed = {
      ...placed,
      ...(state === undefined ? {} : { state: address + state[0], stateLess: state[1] }),
      ...(events === undefined ? {} : { events: address + events }),
      ...(ohms === undefined ? {} : { insulation: address + ohms }),
      ...(ports === undefined ? {} : { ports: portsAt(address, ports) }),
    };
  }
  words.push(0xffff, 0);
  return { ...placed, base, second, words: Uint16Array.from(words) };
}

function portsAt(address: number, { first, size, bit }: NonNullable<Part["ports"]>): Placed["ports"] {
  return Array.from({ length: PORTS }, (_, port) => ({ address: address + first + size * port, bit }));
}

/** Whether devices of a layout tell their ports apart. */
export function portsOf(layout: Layout): number {
  return layout === "inverter" || layout === "floating-point" ? 0 : PORTS;
}

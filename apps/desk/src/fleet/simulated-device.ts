import { isOut, type FleetFault, insulationAt, type Scenario } from "./scenario.ts";
import { type Layout, type RegisterMap, registerMap } from "./register-map.ts";
import { type FleetPlace, weatherAt } from "./weather.ts";

/** What a simulated device answers to a request for registers. */
export type DeviceAnswer =
  | { readonly kind: "registers"; readonly words: Uint16Array; readonly from: number }
  | { readonly kind: "exception"; readonly exception: number }
  | { readonly kind: "silence" }
  | { readonly kind: "garbage" };

export interface SimulatedOptions {
  readonly layout: Layout;
  readonly base: number;
  readonly serial: string;
  readonly scenario: Scenario;
  readonly place: FleetPlace;
  /** Below this the device reports an earth fault and stays off [Ω]. */
  readonly thresholdOhms: number;
}

const SLEEPING = 2;
const RUNNING = 4;
const FAULT = 7;
const MINUTE = 60_000;
const ILLEGAL_ADDRESS = 2;
const BUSY = 6;
/** The largest count; the one above it says that the point is absent. */
const MOST_KILOOHMS = 65_534;

/** One simulated device: its registers as they are at an instant, and what it makes of a request. */
export class SimulatedDevice {
  private readonly options: SimulatedOptions;
  private map: RegisterMap;
  private fault: FleetFault | null;
  private silent = false;
  private minute = Number.NaN;

  constructor(options: SimulatedOptions) {
    this.options = options;
    this.fault = options.scenario.fault;
    this.map = this.laidOut(options.serial);
  }

  setFault(fault: FleetFault | null): void {
    this.fault = fault;
    this.minute = Number.NaN;
  }

  setSilent(silent: boolean): void {
    this.silent = silent;
  }

  /** Another device with the same unit takes its place. */
  replace(serial: string): void {
    this.map = this.laidOut(serial);
    this.minute = Number.NaN;
  }

  answer(address: number, count: number, at: number): DeviceAnswer {
    const { scenario } = this.options;
    if (this.silent || isOut(scenario, at)) return { kind: "silence" };
    if (scenario.lie === "garbled") return { kind: "garbage" };
    const { base, words, second } = this.map;
    if (scenario.lie === "refusing" && address >= second) return { kind: "exception", exception: BUSY };
    if (address < base || address + count > base + words.length)
      return { kind: "exception", exception: ILLEGAL_ADDRESS };
    this.update(at);
    return { kind: "registers", words: this.map.words, from: address - base };
  }

  /** Weather changes slowly: once a minute is enough. */
  private update(at: number): void {
    const minute = Math.floor(at / MINUTE);
    if (minute === this.minute) return;
    this.minute = minute;
    const { scenario, place, thresholdOhms } = this.options;
    if (scenario.lie === "sentinels") return;
    const weather = weatherAt(scenario.seed, place, at);
    const ohms = insulationAt(scenario, this.fault, weather, at);
    const awake = weather.sun > 0;
    // A hard fault is found whenever the device is asked; others by the check of a device that is awake.
    const faulty = ohms < thresholdOhms && (awake || this.fault?.kind === "hard");
    this.write(faulty ? FAULT : awake ? RUNNING : SLEEPING, faulty, awake || faulty ? ohms : 0);
    if (scenario.lie === "moving") this.move(at);
  }

  private write(state: number, faulty: boolean, ohms: number): void {
    const { map } = this;
    this.set(map.state, state - map.stateLess);
    this.setBit(map.events, 0, faulty);
    if (map.insulation !== null) this.set(map.insulation, Math.min(MOST_KILOOHMS, Math.floor(ohms / 1000)));
    const place = this.fault?.port ?? 1;
    for (const [at, { address, bit }] of map.ports.entries())
      this.setBit(address, bit, faulty && at + 1 === place);
  }

  private set(address: number, word: number): void {
    this.map.words[address - this.map.base] = word;
  }

  /** A bitfield of 32 bits, the high word first. */
  private setBit(address: number, bit: number, set: boolean): void {
    this.set(address, 0);
    this.set(address + 1, set ? 2 ** bit : 0);
  }

  private laidOut(serial: string): RegisterMap {
    const { layout, base, scenario } = this.options;
    const map = registerMap(layout, base, serial);
    const at = (address: number) => address - base;
    if (scenario.lie === "sentinels") map.words.fill(0xffff, at(map.second) + 2, at(map.second) + 40);
    if (scenario.lie === "chain") map.words[at(map.second) + 1] = 0xfff0;
    if (scenario.lie === "scale" && map.insulation !== null) map.words[at(map.insulation) + 1] = 20;
    return map;
  }

  /** The number of the second model changes every day. */
  private move(at: number): void {
    this.set(this.map.second, Math.floor(at / (1440 * MINUTE)) % 2 === 0 ? 101 : 103);
  }
}

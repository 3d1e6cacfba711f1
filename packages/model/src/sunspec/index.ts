/**
 * Decoding of SunSpec Modbus devices: what to read, and what the registers say. Nothing here talks to a device.
 *
 *   discover        which models a unit has
 *   planReads       the requests of a poll
 *   decode          registers of a poll → what the device says
 *   readingsOf      what it says → readings for the desk
 */
export {
  type Chain,
  discover,
  type Discovery,
  type Identity,
  identityOf,
  identityRead,
  type Reader,
  type RegisterAnswer,
  type SunspecProblem,
} from "./chain.ts";
export { chainHolds, decode, type DeviceReport } from "./decode.ts";
export { type Extra, makerRegistersOf, type SunspecDevice } from "./device.ts";
export { imageOf, type RegisterRun } from "./image.ts";
export { planReads, type PlannedRead } from "./plan.ts";
export { MOST_REGISTERS, type RegisterImage, type RegisterRead } from "./point.ts";
export { readingsOf, staled } from "./readings.ts";

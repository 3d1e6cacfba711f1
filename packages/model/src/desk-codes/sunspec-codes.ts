import type { CodePage } from "../watch/refusal.ts";

/** What can be wrong with a device that is read over SunSpec Modbus. */
export const sunspecCodes = {
  SUNSPEC_MARKER_MISSING: {
    title: "No SunSpec device was found",
    meaning: "None of the places where the registers of the standard can begin holds its marker.",
    next: "Check the unit number, and that the standard's registers are switched on in the device.",
  },
  SUNSPEC_NOTHING_TO_WATCH: {
    title: "A device offers nothing that can be watched",
    meaning:
      "Its models tell neither an earth fault nor insulation, so that this device cannot raise an alarm.",
    next: "Check the unit number, or map the maker's own registers.",
  },
  SUNSPEC_CHAIN_CUT: {
    title: "A device's list of models breaks off",
    meaning: "The device refuses a register that its list leads to. The models before it are watched.",
    next: "Ask the maker for a corrected firmware, and check whether a model is missing.",
  },
  SUNSPEC_CHAIN_PAST_END: {
    title: "A device's list of models has no end",
    meaning: "The list leads past the last register. The models before it are watched.",
    next: "Ask the maker for a corrected firmware, and check whether a model is missing.",
  },
  SUNSPEC_CHAIN_ENDLESS: {
    title: "A device's list of models does not end",
    meaning: "The list is longer than that of any device, as when registers repeat.",
    next: "Check the unit number, and ask the maker for a corrected firmware.",
  },
  SUNSPEC_MODEL_EMPTY: {
    title: "A model in a device's list is empty",
    meaning:
      "A model has the number 0 or no length. What follows it cannot be found; the models before it are watched.",
    next: "Ask the maker for a corrected firmware, and check whether a model is missing.",
  },
  SUNSPEC_LENGTH_ABSURD: {
    title: "A model in a device's list is impossibly long",
    meaning:
      "The length leads past the last register. What follows cannot be found; the models before it are watched.",
    next: "Ask the maker for a corrected firmware, and check whether a model is missing.",
  },
  SUNSPEC_LENGTH_UNUSUAL: {
    title: "A model has another length than the standard gives it",
    meaning: "Registers that the model has no room for are not read, and count as not offered.",
    next: "Check that the device still tells what it is watched for; a drill shows it.",
  },
  SUNSPEC_COUNT_MISMATCH: {
    title: "A device counts its ports otherwise than its registers have room for",
    meaning: "The length of the model decides how many ports are read, not the number that the device gives.",
    next: "Compare the ports that are mapped with the device's own display.",
  },
  SUNSPEC_COMMON_MISSING: {
    title: "A device does not name itself",
    meaning: "Without a serial number nobody can tell when the device is replaced.",
    next: "After replacing the device, check its mapping by hand.",
  },
  SUNSPEC_DEVICE_CHANGED: {
    title: "Another device answers at this place",
    meaning: "The serial number or the models differ from before: the device was replaced or altered.",
    next: "Check the mapping of its ports to arrays, and drill the path again.",
  },
  SUNSPEC_READ_REFUSED: {
    title: "A device refuses to be read",
    meaning: "The device answered with a Modbus exception instead of registers.",
    next: "Check the unit number and the mapped registers; a busy gateway needs a longer pause between requests.",
  },
  SUNSPEC_NO_ANSWER: {
    title: "A device does not answer",
    meaning: "The request was sent and nothing came back in time. A fault of its arrays would not be heard.",
    next: "Look at the device and its wiring to the gateway. At night some devices sleep: then it answers after sunrise.",
  },
  SUNSPEC_NO_CONNECTION: {
    title: "A gateway cannot be reached",
    meaning: "The connection was refused, broken or timed out. No fault behind this gateway would be heard.",
    next: "Look at the network, the gateway's power supply and its address; many gateways take one connection only.",
  },
  SUNSPEC_ANSWER_UNSOUND: {
    title: "A gateway sends what is no answer",
    meaning:
      "What came back does not follow the protocol, so that the connection was closed and opened again.",
    next: "Check that the port is a Modbus TCP port. If it goes on, ask the maker of the gateway.",
  },
} as const satisfies Readonly<Record<`SUNSPEC_${string}`, CodePage>>;

export type SunspecCode = keyof typeof sunspecCodes;

import type { Explanation } from "./explanation.ts";

/** Faults of how the settings map a device to its arrays and its maker's own points. */
export const deviceFaults = {
  DESK_PORT_NAME_INVALID: {
    title: "A port has a name that names no port",
    meaning:
      "Ports are counted from 1 in the order in which the device lists them: 3, or 401/3 for port 3 of model 401, or 401.2/3 for port 3 of the second model 401.",
    causes: [
      "the maker's name of the port was written",
      "the model has no ports",
      "ports were counted from 0",
    ],
    remedy: "Count the ports in the device's own list, the first being 1.",
  },
  DESK_ARRAY_UNLISTED: {
    title: "An array is mapped that is not in the device's list",
    meaning:
      "arrays lists every array of the device: a fault that the device cannot place is told of each of them, so that a missing one would hear nothing.",
    causes: ["the id is misspelt", "the list was not extended with a new array"],
    remedy: "Correct the id, or add the array to the list.",
  },
  DESK_POINT_UNKNOWN: {
    title: "A bit is mapped in a place that the standard does not have",
    meaning: "The model has no event bitfield of this name.",
    causes: ["the name is misspelt", "the number of the model is wrong"],
    remedy: "Use one of the names listed; for a register of the maker's own, is: register.",
  },
  DESK_UNIT_UNFIT: {
    title: "A mapped register has a unit that its kind cannot have",
    meaning:
      "Insulation is in ohms, kiloohms or megaohms, residual current in amperes or milliamperes; bits have no unit.",
    causes: ["kind and unit are of two different registers"],
    remedy: "Correct the kind or the unit.",
  },
  DESK_BIT_UNFIT: {
    title: "A mapped register has no such bit",
    meaning: "Bits are counted from 0, and only registers without a sign are looked at bit by bit.",
    causes: [
      "bits were counted from 1",
      "the type is of another register",
      "a measured value was given a bit",
    ],
    remedy: "Give a bit that the type has, or leave it out.",
  },
  DESK_REGISTER_PAST_END: {
    title: "A mapped register lies past the last one",
    meaning: "Addresses end at 65535, and a value of 32 bits takes two of them.",
    causes: ["the address was written with a prefix that says its kind"],
    remedy: "Give the address as it is sent, counted from 0.",
  },
} as const satisfies Readonly<Record<`DESK_${string}`, Explanation>>;

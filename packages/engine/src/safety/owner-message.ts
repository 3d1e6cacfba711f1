import type { Sourced } from "../provenance.ts";

/** What every message to an owner about an operated alarm must say; the papers word it for the site. */
export const OWNER_MUST_BE_TOLD: readonly Sourced<string>[] = [
  {
    value: "Do not touch the roof, the frames, the cables or the gutters, and keep others away from them.",
    source: "Earthbell's own rule",
    tag: "design choice",
  },
  { value: "Call the number given here.", source: "Earthbell's own rule", tag: "design choice" },
  {
    value: "Shut the system down in the way shown on its notice, if you can do so without climbing.",
    source: "Earthbell's own rule",
    tag: "design choice",
  },
  {
    value: "The panels stay live in daylight even when the system is shut down.",
    source: "insulationtesting.com ?p=189; IEC 62446 poster, studylib.net 18490683",
    tag: "published",
  },
  {
    value:
      "A relay alarm and the inverter's light operate for any inverter fault, not only for an earth fault.",
    source: "common practice of the trade",
    tag: "common practice",
  },
];

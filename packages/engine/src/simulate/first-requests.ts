import type { RequestedReading } from "../finder/finding.ts";

/** The readings a visit begins with: + to −, each pole to earth, each pole again with 100 kΩ across the meter. */
export function firstRequests(on: string): RequestedReading[] {
  const meter = { with: "meter", on } as const;
  return [
    { ...meter, from: "+", to: "-" },
    { ...meter, from: "+", to: "earth" },
    { ...meter, from: "-", to: "earth" },
    { ...meter, from: "+", to: "earth", shunt: "100 kΩ" },
    { ...meter, from: "-", to: "earth", shunt: "100 kΩ" },
  ];
}

import type { RulePack } from "@earthbell/engine";

/** Where a pack binds, and by what it is chosen. */
export function placesOf({ jurisdictions, selectedBy }: RulePack): string {
  const places = jurisdictions.map(({ country, regions }) =>
    regions === undefined ? country : regions.map((region) => `${country}-${region}`).join(", "),
  );
  if (places.length === 0) return "binds only where a site file names it";
  return `${places.join(", ")}; ${selectedBy === "date" ? "chosen by the day of the work" : "chosen by the authority’s adoption"}`;
}

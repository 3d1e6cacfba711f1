import type { RulePack } from "./pack.ts";
import auNz2012 from "./packs/au-nz-5033-2012.json" with { type: "json" };
import auNz2014 from "./packs/au-nz-5033-2014.json" with { type: "json" };
import auNz2021 from "./packs/au-nz-5033-2021.json" with { type: "json" };
import euHd2016 from "./packs/eu-hd-60364-7-712-2016.json" with { type: "json" };
import gbBs2018 from "./packs/gb-bs-7671-2018-712.json" with { type: "json" };
import iec2023 from "./packs/iec-62548-1-2023.json" with { type: "json" };
import iec2016 from "./packs/iec-62548-2016.json" with { type: "json" };
import nz2010 from "./packs/nz-regulations-2010.json" with { type: "json" };
import nz2025 from "./packs/nz-regulations-2025.json" with { type: "json" };
import nec2014 from "./packs/us-nec-2014.json" with { type: "json" };
import nec2017 from "./packs/us-nec-2017.json" with { type: "json" };
import nec2020 from "./packs/us-nec-2020.json" with { type: "json" };
import nec2023 from "./packs/us-nec-2023.json" with { type: "json" };

/** The packs that come with the program, oldest edition first inside each country. */
export const BUILT_IN_PACKS: readonly RulePack[] = [
  auNz2012,
  auNz2014,
  auNz2021,
  nz2010,
  nz2025,
  nec2014,
  nec2017,
  nec2020,
  nec2023,
  gbBs2018,
  euHd2016,
  iec2016,
  iec2023,
] as readonly RulePack[];

/** The built-in packs with the user's: one with a known id replaces it, another is added. */
export function packsWith(own: readonly RulePack[]): readonly RulePack[] {
  const ids = new Set(own.map((pack) => pack.id));
  return [...BUILT_IN_PACKS.filter((pack) => !ids.has(pack.id)), ...own];
}

import type { RequestedReading } from "../finder/finding.ts";
import type { Terminal } from "../finder/visit.ts";

/** Any reading of a visit without its value; `shorted` joins both poles for an insulation tester. */
export type MeasuredRequest = Omit<RequestedReading, "from"> & { readonly from: Terminal | "shorted" };

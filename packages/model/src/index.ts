export type * from "./faults/input-fault.ts";

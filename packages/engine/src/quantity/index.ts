export type * from "./brands.ts";

export * from "./statistics/index.ts";

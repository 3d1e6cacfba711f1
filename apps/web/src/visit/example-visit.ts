import text from "../../../../demo/visits/creamery-2026-08-14.yaml?raw";

/** An invented visit of the demo, as a technician would hand it over. */
export const EXAMPLE_VISIT: string = text;

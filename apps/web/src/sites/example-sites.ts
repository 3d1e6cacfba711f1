import bakery from "../../../../demo/sites/bakery.yaml?raw";
import ferryShed from "../../../../demo/sites/ferry-shed.yaml?raw";

/** Invented sites of the demo. */
export const EXAMPLE_SITES: readonly { readonly file: string; readonly text: string }[] = [
  { file: "bakery.yaml", text: bakery },
  { file: "ferry-shed.yaml", text: ferryShed },
];

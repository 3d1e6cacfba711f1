import { list } from "../fields/list-field.ts";
import { count, map, patterned, text } from "../fields/plain-fields.ts";
import { quantityFields } from "../fields/quantity-field.ts";

/** Fields that several sections of a desk's settings share. */

const { quantity } = quantityFields("refuse");

/** A time with its unit, both ends of the range included; minutes once read. */
export const duration = (from: string, to: string) => quantity("duration", { from, to });

export const host = () => patterned(/^[\w.:-]{1,253}$/u, "a host name or an address without a port");
export const port = () => count(1, 65_535);
export const webAddress = () =>
  patterned(/^https?:\/\/\S+$/u, "a web address that begins with https:// or http://");

/** Where a secret is read from when the desk starts: one of the two. */
export const secret = map({
  env: patterned(/^[A-Za-z_]\w*$/u, "the name of an environment variable").exactOptional(),
  file: text().exactOptional(),
});

/** Addresses and networks inside that may be reached all the same. */
export const inner = () =>
  list(
    patterned(/^[\d.a-fA-F:]{2,45}(?:\/\d{1,3})?$/u, "an address, or a network such as 10.1.0.0/16"),
    0,
    100,
  ).exactOptional();

/** Levels that mean themselves: a message goes to one topic, never to a pattern. */
export const topic = () =>
  patterned(
    /^[^$+#/\p{C}][^+#/\p{C}]*(?:\/[^+#/\p{C}]+)*$/u,
    "levels separated by /, without + and #, none empty, and not beginning with $",
  );

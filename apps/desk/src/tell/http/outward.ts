import { lookup } from "node:dns/promises";
import { isIP } from "node:net";
import { allowedInner, isInnerAddress } from "./inner-address.ts";

/** Where the desk may send to. */
export interface OutwardOptions {
  /** Inner addresses and networks that may be reached, as `10.1.0.0/16`; absent: none. */
  readonly allowInner?: readonly string[];
  /** True lets addresses begin with http: what is sent can then be read on its way. Absent: false. */
  readonly allowPlainHttp?: boolean;
  /** Addresses of a name; absent: as the system resolves it. */
  readonly resolve?: (name: string) => Promise<readonly string[]>;
}

/** Where to connect to: addresses that were looked at, for the name that was asked for. */
export interface Destination {
  readonly url: URL;
  readonly addresses: readonly [string, ...string[]];
}

/** The address of a person or a service cannot be used as it stands. */
export class Unreachable extends Error {
  override readonly name = "Unreachable";
}

async function bySystem(name: string): Promise<readonly string[]> {
  return (await lookup(name, { all: true, verbatim: true })).map(({ address }) => address);
}

/**
 * Resolves the name once, and lets nothing through unless every address it has is outward or allowed. The connection is then
 * made to one of these addresses, so that a name that resolves differently a moment later gains nothing.
 *
 * @throws Unreachable for an address that must not be used, RangeError for a list that cannot be read
 */
export function outward(options: OutwardOptions): (address: string) => Promise<Destination> {
  const { allowInner = [], allowPlainHttp = false, resolve = bySystem } = options;
  const allowed = allowedInner(allowInner);
  return async (address) => {
    const url = URL.canParse(address) ? new URL(address) : null;
    if (url === null) throw new Unreachable("It is no web address.");
    if (url.protocol !== "https:" && !(allowPlainHttp && url.protocol === "http:"))
      throw new Unreachable(`It begins with ${url.protocol} and not with https:.`);
    if (url.username !== "" || url.password !== "")
      throw new Unreachable("It holds a name or password, which would end up in records.");
    const host = url.hostname.replace(/^\[|\]$/gu, "");
    const [first, ...more] = isIP(host) === 0 ? await resolve(host) : [host];
    if (first === undefined) throw new Error(`${host} has no address.`);
    const inner = [first, ...more].find((one) => isInnerAddress(one) && !allowed.has(one));
    if (inner !== undefined)
      throw new Unreachable(`${host} is ${inner}, which is inside the desk's own network and not allowed.`);
    return { url, addresses: [first, ...more] };
  };
}

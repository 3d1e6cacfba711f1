import { BlockList, isIP } from "node:net";

/**
 * Networks that are not the open internet, by the IANA registries of special-purpose addresses (RFC 6890 and its updates) [memory]:
 * this network, private, shared, loopback, link-local (machines describe themselves there to whoever asks), protocol assignments,
 * documentation, benchmarks, relays, multicast, reserved.
 */
const INNER_V4 = [
  ["0.0.0.0", 8],
  ["10.0.0.0", 8],
  ["100.64.0.0", 10],
  ["127.0.0.0", 8],
  ["169.254.0.0", 16],
  ["172.16.0.0", 12],
  ["192.0.0.0", 24],
  ["192.0.2.0", 24],
  ["192.88.99.0", 24],
  ["192.168.0.0", 16],
  ["198.18.0.0", 15],
  ["198.51.100.0", 24],
  ["203.0.113.0", 24],
  ["224.0.0.0", 4],
  ["240.0.0.0", 4],
] as const;

/** Global unicast; everything outside it is inner: loopback, mapped and translated IPv4, unique-local, link-local, multicast. */
const GLOBAL_V6 = ["2000::", 3] as const;

/** Parts of global unicast that are special, or carry an IPv4 address inside. */
const INNER_V6 = [
  ["2001::", 23],
  ["2001:db8::", 32],
  ["2002::", 16],
  ["3fff::", 20],
] as const;

const innerV4 = networks(INNER_V4, "ipv4");
const innerV6 = networks(INNER_V6, "ipv6");
const globalV6 = networks([GLOBAL_V6], "ipv6");

function networks(list: readonly (readonly [string, number])[], family: "ipv4" | "ipv6"): BlockList {
  const block = new BlockList();
  for (const [address, bits] of list) block.addSubnet(address, bits, family);
  return block;
}

/** An address that only the machine, its network or nobody can reach; text that is no address counts as one. */
export function isInnerAddress(address: string): boolean {
  switch (isIP(address)) {
    case 4:
      return innerV4.check(address, "ipv4");
    case 6:
      return !globalV6.check(address, "ipv6") || innerV6.check(address, "ipv6");
    default:
      return true;
  }
}

/** Inner addresses that may be reached all the same. */
export interface AllowedInner {
  readonly has: (address: string) => boolean;
}

/**
 * @param list  addresses, or networks as `10.1.0.0/16` or `fd00::/8`
 * @throws RangeError naming the entry that is neither
 */
export function allowedInner(list: readonly string[]): AllowedInner {
  const block = new BlockList();
  for (const entry of list) {
    const [address = "", bits, ...more] = entry.split("/");
    const version = isIP(address);
    const longest = version === 4 ? 32 : 128;
    const length = bits === undefined ? longest : Number(bits);
    const sound =
      version !== 0 && more.length === 0 && Number.isInteger(length) && length >= 0 && length <= longest;
    if (!sound || bits === "")
      throw new RangeError(`${JSON.stringify(entry)} is no address and no network, such as 10.1.0.0/16.`);
    block.addSubnet(address, length, version === 4 ? "ipv4" : "ipv6");
  }
  return {
    has: (address) => {
      const version = isIP(address);
      return version !== 0 && block.check(address, version === 4 ? "ipv4" : "ipv6");
    },
  };
}

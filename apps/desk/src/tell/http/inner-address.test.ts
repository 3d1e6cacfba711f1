import { describe, expect, it } from "vitest";
import { allowedInner, isInnerAddress } from "./inner-address.ts";

describe("an address of the open internet", () => {
  it.each([
    "8.8.8.8",
    "172.15.255.255",
    "172.32.0.1",
    "100.63.255.255",
    "193.0.0.1",
    "2606:4700::1",
    "2a00::1",
  ])("%s", (address) => {
    expect(isInnerAddress(address)).toBe(false);
  });
});

describe("an inner address", () => {
  it.each([
    ["loopback", "127.0.0.1"],
    ["all of the loopback net", "127.255.255.254"],
    ["this machine", "0.0.0.0"],
    ["private", "10.0.0.1"],
    ["private, edge", "172.31.255.255"],
    ["private, home", "192.168.1.1"],
    ["shared by a provider", "100.64.0.1"],
    ["link-local, where machines are described", "169.254.169.254"],
    ["documentation", "203.0.113.7"],
    ["multicast", "224.0.0.1"],
    ["broadcast", "255.255.255.255"],
    ["loopback, version 6", "::1"],
    ["unspecified", "::"],
    ["loopback, mapped", "::ffff:127.0.0.1"],
    ["loopback, mapped, in hexadecimal", "::ffff:7f00:1"],
    ["an open address, mapped", "::ffff:8.8.8.8"],
    ["loopback, compatible", "::127.0.0.1"],
    ["unique-local", "fd00::1"],
    ["unique-local, where machines are described", "fd00:ec2::254"],
    ["link-local", "fe80::1"],
    ["link-local with its zone", "fe80::1%eth0"],
    ["site-local of old", "fec0::1"],
    ["translated", "64:ff9b::7f00:1"],
    ["relayed, loopback inside", "2002:7f00:1::"],
    ["tunnelled", "2001:0:53aa:64c:0:fbff:80ff:fffe"],
    ["documentation, version 6", "2001:db8::1"],
    ["multicast, version 6", "ff02::1"],
    ["a name", "localhost"],
    ["nothing", ""],
  ])("%s: %s", (_, address) => {
    expect(isInnerAddress(address)).toBe(true);
  });
});

describe("the list of inner addresses that may be reached", () => {
  const allowed = allowedInner(["10.1.0.0/16", "192.168.7.9", "fd00:17::/32"]);
  it.each([
    ["10.1.255.1", true],
    ["10.2.0.1", false],
    ["192.168.7.9", true],
    ["192.168.7.10", false],
    ["fd00:17::5", true],
    ["fd00:18::5", false],
    ["localhost", false],
  ])("%s: %s", (address, has) => {
    expect(allowed.has(address)).toBe(has);
  });

  it.each([
    "localhost",
    "10.0.0.0/33",
    "10.0.0.0/",
    "10.0.0.0/8/8",
    "10.0.0.0/x",
    "",
    "fd00::/129",
    "10.0.0.0/-1",
  ])("does not take %j", (entry) => {
    expect(() => allowedInner([entry])).toThrow(RangeError);
  });
});

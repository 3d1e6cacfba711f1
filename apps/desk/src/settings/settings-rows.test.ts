import { readDesk } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import { settingsRows } from "./settings-rows.ts";

function rows(text: string): Readonly<Record<string, string>> {
  const read = readDesk(`format: earthbell.desk/1\n${text}`, "desk.yaml");
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return Object.fromEntries(settingsRows(read.record).map(({ field, value }) => [field, value]));
}

describe("settings in force", () => {
  it("stand at their place in the file, times with their unit", () => {
    expect(
      rows(`desk: {name: Skerry, linksHold: 3 d, behindProxy: true, signedIn: {unused: 90 min}}
gateways: [{id: g, host: 192.0.2.1, pollEvery: 30 s, devices: [{id: d, unit: 1, site: s, arrays: [A1, A2]}]}]
drops: []
limits: {floodAlarms: 5}
`),
    ).toEqual({
      "desk.name": "Skerry",
      "desk.linksHold": "3 d",
      "desk.behindProxy": "yes",
      "desk.signedIn.unused": "90 min",
      "gateways[0].id": "g",
      "gateways[0].host": "192.0.2.1",
      "gateways[0].pollEvery": "30 s",
      "gateways[0].devices[0].id": "d",
      "gateways[0].devices[0].unit": "1",
      "gateways[0].devices[0].site": "s",
      "gateways[0].devices[0].arrays": "A1, A2",
      drops: "none",
    });
  });

  it("tell of a secret only where it is read from", () => {
    const told = rows(`desk: {name: Skerry}
database: {kind: postgresql, url: {env: DATABASE_URL}}
email: {host: m, port: 25, security: tls, user: u, password: {file: secrets/mail}, from: a@b.c}
webhook: {keys: [{id: k1, secret: {env: HOOK}}]}
`);
    expect(told).toMatchObject({
      "database.url": "read from the variable DATABASE_URL",
      "email.password": "read from the file secrets/mail",
      "webhook.keys[0].secret": "read from the variable HOOK",
    });
  });

  it("count what is too many to list", () => {
    const devices = (n: number) => `{id: g${n}, host: h, devices: [{id: d${n}, unit: 1, site: s}]}`;
    const list = Array.from({ length: 51 }, (_, n) => devices(n)).join(", ");
    expect(rows(`desk: {name: Skerry}\ngateways: [${list}]\n`)["gateways"]).toBe("51 entries");
  });
});

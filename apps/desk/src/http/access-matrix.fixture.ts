import type { FastifyInstance } from "fastify";
import type { Bearer } from "../accounts/access.ts";
import { CREAMERY, DAWN } from "./served-desk.fixture.ts";

/** One request to an address as the server has it, with who may do it at the site that they are bound to, or at any. */
export interface Touched {
  /** Method and address as the server lists them. */
  readonly route: string;
  readonly url: string;
  readonly body?: unknown;
  /** What the body is sent as; left out: JSON, and a text as YAML. */
  readonly type?: string;
  readonly may: readonly Bearer["role"][];
}

const SERVICE = ["service"] as const;
const WORKS = ["service", "technician"] as const;
const KEEPS = ["service", "installer"] as const;
const WORKS_AND_KEEPS = ["service", "technician", "installer"] as const;
const LOOKS = [...WORKS_AND_KEEPS, "owner", "link"] as const;
const PUSHES = ["service", "site"] as const;

const PARAMS: Readonly<Record<string, string>> = {
  ...{ site: "creamery", array: "A1", path: "P1", person: "owner", sheet: "S1", section: "keepers" },
  ...{ drill: "D1", beacon: "B1", photo: "p-0001", draft: "x", token: "x" },
};

type More = Pick<Touched, "body" | "type"> & {
  readonly query?: string;
  /** What stands in the place of `:id` or `:name`. */
  readonly of?: string;
};

function touch(route: string, may: Touched["may"], { query = "", of = "x", ...more }: More = {}): Touched {
  const [, address = ""] = route.split(" ");
  const url = address.replace(/:(\w+)/gu, (_, name: string) => PARAMS[name] ?? of) + query;
  return { route, url, may, ...more };
}

const HOURS = { of: { site: "creamery", person: "owner" }, sites: null, change: { reads: "always" } };
const READING = { array: "A1", device: "INV1", at: DAWN, kind: "insulation", value: 1e6, unit: "ohm" };
const CSV = { body: "site,name\ncreamery,New name\n", type: "text/csv" };
const DRAFT = { kind: "owner-notice", site: "creamery" };
const OVERRIDE = { pack: "x", field: "alarm.leastAddresses", value: 3, because: "x", source: "x" };
const VISIT = {
  beginning: {
    ...{ title: "Creamery, A1", site: "creamery", case: null, begunAt: DAWN },
    setUp: {
      ...{ strings: [{ id: "S1", modules: 20 }], circuits: [], conditions: { wet: false }, readings: [] },
      ...{ instruments: [{ name: "meter", kind: "voltmeter" }], costs: {} },
    },
  },
  entries: [],
};

/** Every address that touches something. What ends something stands last. */
export const MATRIX: readonly Touched[] = [
  touch("GET /api/sites", LOOKS),
  touch("GET /api/sites/:site", LOOKS),
  touch("GET /api/sites/:site/record", LOOKS),
  touch("GET /api/sites/:site/insulation-tests", LOOKS),
  touch("GET /api/sites/:site/arrays/:array/history", LOOKS),
  touch("GET /api/site-names", LOOKS),
  touch("PUT /api/sites/:site", KEEPS, { body: CREAMERY }),
  touch("POST /api/sites/:site/tokens", SERVICE, { body: { label: "x" } }),
  touch("POST /api/register/preview", KEEPS, CSV),
  touch("POST /api/register/apply", KEEPS, CSV),
  touch("GET /api/drift", LOOKS),
  touch("POST /api/drift", LOOKS, {
    body: "array,module\ncreamery/A1,M1\n",
    type: "text/csv",
  }),

  touch("GET /api/now", LOOKS),
  touch("GET /api/live", LOOKS),
  touch("GET /api/case-lines", LOOKS),
  touch("GET /api/cases", LOOKS),
  touch("GET /api/cases/:id", LOOKS, { of: "C1" }),
  touch("POST /api/cases/:id/steps", WORKS_AND_KEEPS, { of: "C1", body: { step: "remark", text: "x" } }),
  touch("POST /api/cases/:id/steps", WORKS_AND_KEEPS, { of: "C1", body: { step: "acknowledge" } }),
  touch("POST /api/cases/:id/steps", WORKS, { of: "C1", body: { step: "close" } }),
  touch("GET /api/alarms", LOOKS),
  touch("POST /api/alarms/:id/steps", WORKS, {
    of: "creamery:array:A1:earth-fault-bit",
    body: { step: "unshelve" },
  }),
  touch("GET /api/visits", LOOKS),
  touch("POST /api/visits/:id/entries", WORKS_AND_KEEPS, { of: "v-0001", body: VISIT }),
  touch("GET /api/visits/:id", LOOKS, { of: "v-0001" }),
  touch("PUT /api/visits/:id/photos/:photo", WORKS_AND_KEEPS, {
    of: "v-0001",
    query: `?name=lid.jpg&takenAt=${String(DAWN)}`,
    ...{ body: Buffer.from([0xff, 0xd8, 0xff, 0xe0]), type: "image/jpeg" },
  }),
  touch("GET /api/visits/:id/photos/:photo", LOOKS, { of: "v-0001" }),

  touch("GET /api/drills", LOOKS),
  touch("GET /api/drill-plans", LOOKS),
  touch("GET /api/path-watches", LOOKS),
  touch("POST /api/sites/:site/paths/:path/drills", WORKS_AND_KEEPS),
  touch("PUT /api/sites/:site/paths/:path/next-drill", WORKS_AND_KEEPS, { body: { at: null } }),
  touch("POST /api/drills/:drill/beacons/:beacon/seen", WORKS_AND_KEEPS, { body: {} }),

  touch("GET /api/told-people", WORKS_AND_KEEPS),
  touch("GET /api/told-people/:site/:person", WORKS_AND_KEEPS),
  touch("POST /api/told-people/preview", KEEPS, { body: HOURS }),
  touch("POST /api/told-people/apply", KEEPS, { body: { ...HOURS, seen: "x" } }),
  touch("POST /api/told-people/tests", WORKS_AND_KEEPS, {
    body: { of: HOURS.of, channel: "email", address: "creamery@example.net" },
  }),
  touch("GET /api/messages", WORKS),
  touch("GET /api/broken-addresses", SERVICE),
  touch("POST /api/broken-addresses/mended", SERVICE, { body: { channel: "email", address: "x@y.example" } }),

  touch("GET /api/papers", LOOKS),
  touch("GET /api/papers/others", LOOKS),
  touch("GET /api/paper-states", LOOKS),
  touch("GET /api/paper-states/to-make", LOOKS, { query: "?paper=owner-notice" }),
  touch("GET /api/sites/:site/papers", LOOKS),
  touch("GET /api/papers/files/:name", LOOKS, { of: "owner-notice-creamery-1.html" }),
  touch("GET /api/papers/files/:name", WORKS, { of: "setting-sheet-s1-1.html" }),
  touch("POST /api/papers/verify", LOOKS, {
    ...{ body: Buffer.from("x"), type: "application/octet-stream" },
  }),
  touch("GET /api/papers/keys", LOOKS),
  touch("GET /api/papers/keys/:id", LOOKS),
  touch("POST /api/papers/drafts", LOOKS, { body: DRAFT }),
  touch("POST /api/papers/drafts", WORKS, { body: { kind: "fleet-register" } }),
  touch("GET /api/papers/drafts/:draft", LOOKS),
  touch("POST /api/papers", WORKS_AND_KEEPS, { body: { ...DRAFT, formats: ["html"] } }),
  touch("POST /api/papers", WORKS, { body: { kind: "fleet-register", formats: ["html"] } }),
  touch("GET /api/sites/:site/commissioning", LOOKS),
  touch("GET /api/setting-sheets/:sheet", WORKS),
  touch("GET /api/sites/:site/setting-sheets", WORKS_AND_KEEPS),
  touch("GET /api/sites/:site/setting-sheets/:sheet", WORKS_AND_KEEPS),

  touch("GET /api/rules", LOOKS),
  touch("GET /api/rules/overrides", LOOKS),
  touch("GET /api/rules/overrides/file", LOOKS),
  touch("POST /api/rules/overrides", SERVICE, { body: OVERRIDE }),
  touch("POST /api/rules/overrides/:id/end", SERVICE, { body: { because: "no longer" } }),

  touch("GET /api/people", SERVICE),
  touch("POST /api/invitations", SERVICE, { body: { role: "technician", sites: null } }),
  touch("GET /api/owner-links", SERVICE),
  touch("POST /api/owner-links", SERVICE, { body: { label: "x", sites: ["creamery"], days: 3 } }),
  touch("GET /api/listeners", SERVICE),
  touch("GET /api/mappings", SERVICE),
  touch("PUT /api/mappings/:name", SERVICE, { body: "format: earthbell.columns/1\ninstant: when\n" }),
  touch("GET /api/settings", SERVICE),
  touch("POST /api/settings/tests", SERVICE, { body: { channel: "email", to: "x@y.example" } }),
  touch("PUT /api/settings/sections/:section", SERVICE, { body: { from: "0".repeat(64) } }),
  touch("POST /api/settings/secrets", SERVICE, { body: { of: "email", secret: "x" } }),
  touch("GET /api/journal", SERVICE),
  touch("GET /api/journal/rows", SERVICE),
  touch("GET /api/journal/check", SERVICE),
  touch("GET /api/demonstration", [...LOOKS, "site"]),

  touch("POST /api/push/readings", PUSHES, { query: "?site=creamery", body: { readings: [READING] } }),
  touch("POST /api/push/table", PUSHES, {
    query: "?site=creamery&device=INV1",
    ...{ body: "when,Riso\n", type: "text/csv" },
  }),

  touch("POST /api/people/:id/end", SERVICE),
  touch("POST /api/owner-links/:id/end", SERVICE),
  touch("POST /api/papers/keys", SERVICE),
  touch("DELETE /api/sites/:site", SERVICE),
];

/** What concerns only whoever asks, and needs an account that is signed in. */
export const OWN_ACCOUNT: readonly Touched[] = [
  touch("GET /api/calendar", []),
  touch("POST /api/passkeys/question", []),
  touch("POST /api/passkeys", [], { body: { label: "x", response: { id: "x" } } }),
];

/** What stands open to somebody who is not signed in, and what keeps it safe. */
export const DOORS: Readonly<Record<string, string>> = {
  "GET /healthz": "names no site and no person",
  "GET /metrics": "names no site and no person",
  "GET /openapi.json": "what addresses there are",
  "GET /api/me": "says who asks",
  "POST /api/sign-in": "name and password",
  "POST /api/sign-in/passkey": "a passkey",
  "POST /api/sign-in/passkey/question": "a question to a passkey",
  "POST /api/sign-out": "ends the own session, if there is one",
  "GET /api/join/:token": "the secret of an invitation",
  "POST /api/join/:token": "the secret of an invitation",
  "POST /api/look": "the secret of an owner's link",
  "GET /api/calendar.ics": "the secret of a feed",
  "GET /a/:token": "the secret of a link in a message",
  "POST /a/:token": "the secret of a link in a message",
  "GET /a/sheet.css": "the look of that page",
};

/** The server's own list of what it answers, as `METHOD address`. */
export function routesOf(app: FastifyInstance): readonly string[] {
  const above: string[] = [];
  return app
    .printRoutes({ commonPrefix: false })
    .split("\n")
    .flatMap((line) => {
      const found = /^((?:[│ ] {3})*)[├└]── (\S+)(?: \(([A-Z, ]+)\))?$/u.exec(line);
      if (found === null) return [];
      const [, indent = "", part = "", methods = ""] = found;
      above.splice(indent.length / 4, Infinity, part);
      const listed = methods.split(", ").filter((method) => method !== "" && method !== "HEAD");
      return listed.map((method) => `${method} ${above.join("")}`);
    });
}

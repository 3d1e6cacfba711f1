import { formatHours, isDay, parseHours } from "@earthbell/model";
import * as z from "zod";
import type { ToldEntry } from "../../told/told-entry.ts";

export const toldQuery = z.strictObject({
  /** Words that stand in an address, an id, a role or a site. */
  find: z.string().max(200).default(""),
  only: z.enum(["broken", "away"]).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

const channel = z.enum(["email", "sms", "webhook"]);
const ref = z.object({ site: z.string(), person: z.string() });
const broken = { sinceAt: z.number(), reason: z.string() };
const absence = { from: z.string(), to: z.string() };
const sites = z.number();

const toldPerson = z.object({
  of: ref,
  ids: z.array(z.string()),
  roles: z.array(z.string()),
  ways: z.array(
    z.object({ channel, address: z.string(), used: z.boolean(), broken: z.object(broken).nullable() }),
  ),
  sites,
  paths: z.number(),
  aloneOn: z.array(z.object({ site: z.string(), path: z.string() })),
  habits: z.array(z.object({ reads: z.string().nullable(), checksPerDay: z.number().nullable(), sites })),
  zones: z.array(z.string()),
  away: z.array(z.object({ ...absence, now: z.boolean(), sites })),
  until: z.array(z.object({ until: z.string(), past: z.boolean(), sites })),
  message: z
    .object({
      at: z.number(),
      site: z.string(),
      channel: z.string(),
      kind: z.string(),
      state: z.enum(["waiting", "claimed", "sent", "refused"]),
      reply: z.string().nullable(),
    })
    .nullable(),
  /** The last message that was answered by its link. */
  answer: z.object({ at: z.number(), site: z.string(), kind: z.string(), tookMs: z.number() }).nullable(),
});

export const toldPage = z.object({
  /** Everybody, and how many of them have an address that reaches nobody, or are away or past their post. */
  all: z.number(),
  broken: z.number(),
  away: z.number(),
  found: z.number(),
  people: z.array(toldPerson),
  /** Addresses that reach nobody and that no site file names. */
  unnamed: z.array(z.object({ channel: z.string(), address: z.string(), ...broken })),
});

const entry = z.object({
  site: z.string(),
  siteName: z.string().nullable(),
  revision: z.number(),
  person: z.string(),
  role: z.string().nullable(),
  addresses: z.array(z.string()),
  reads: z.string().nullable(),
  checksPerDay: z.number().nullable(),
  zone: z.string(),
  away: z.array(z.object(absence)),
  until: z.string().nullable(),
  paths: z.array(
    z.object({ path: z.string(), afterMin: z.number().nullable(), others: z.array(z.string()) }),
  ),
});

export const toldWhole = toldPerson.extend({ entries: z.array(entry.extend({ mayChange: z.boolean() })) });

/** An entry of a site file as it is told. */
export function entryOfFile({
  site,
  siteName,
  revision,
  person,
  zone,
  paths,
}: ToldEntry): z.input<typeof entry> {
  const { id, role = null, address = {}, reads, checksPerDay = null, away = [], until = null } = person;
  return {
    ...{ site, siteName, revision, person: id, role, zone, checksPerDay, until },
    addresses: Object.values(address),
    reads: reads === undefined ? null : formatHours(reads),
    away: away.map(({ from, to }) => ({ from, to })),
    paths: paths.map(({ path, afterMin, others }) => ({ path, afterMin, others: [...others] })),
  };
}

const day = z.string().refine(isDay, "a day of the calendar, written YYYY-MM-DD");
const absences = z
  .array(z.strictObject({ from: day, to: day }).refine(({ from, to }) => from <= to, "ends before it begins"))
  .max(100);
/** Hours as a site file writes them. */
const hours = z
  .string()
  .max(500)
  .transform((written, context) => {
    const read = parseHours(written);
    if (read.ok) return read.hours;
    context.addIssue({ code: "custom", message: read.message });
    return z.NEVER;
  });
const line = z
  .string()
  .trim()
  .min(1)
  .max(500)
  .regex(/^[^\p{Cc}]*$/u);

/** A change of a person; what is left out stays, and null says that the file is not to say it. */
const change = z.strictObject({
  reads: hours.nullable().optional(),
  checksPerDay: z.number().min(0).max(1440).nullable().optional(),
  until: day.nullable().optional(),
  awayAdded: absences.optional(),
  awayRemoved: absences.optional(),
  address: z.strictObject({ channel, from: line, to: line }).optional(),
});

export const toldRef = z.strictObject({ site: z.string(), person: z.string() });
export const wanted = z.strictObject({
  of: toldRef,
  /** Sites to change; null: wherever the person stands and the asker may change. */
  sites: z.array(z.string()).min(1).max(20_000).nullable(),
  change,
});
export const wantedSeen = wanted.extend({ seen: z.string() });

export const planned = z.object({
  sites: z.array(
    z.object({
      site: z.string(),
      rewritten: z.boolean(),
      changes: z.array(
        z.object({
          person: z.string(),
          what: z.string(),
          before: z.string().nullable(),
          now: z.string().nullable(),
        }),
      ),
      /** The file before and after, of the first few sites. */
      texts: z.object({ before: z.string(), after: z.string() }).nullable(),
    }),
  ),
  unchanged: z.number(),
  /** Sites that the asker may see and not change. */
  notAllowed: z.number(),
  /** To be sent with the change: it is made only if it still comes to this. */
  seen: z.string(),
});

export const wayOfPerson = z.strictObject({ of: toldRef, channel, address: line });

export const testAnswer = z.object({
  outcome: z.enum(["accepted", "later", "refused"]),
  text: z.string(),
  said: z.array(z.object({ by: z.enum(["desk", "other-side", "note"]), text: z.string() })),
  /** The address was marked as one that reaches nobody, and is no longer. */
  mended: z.boolean(),
});

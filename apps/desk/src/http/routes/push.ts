import type { FastifyInstance, FastifyRequest } from "fastify";
import { createHash } from "node:crypto";
import { checkReading, type WatchReading } from "@earthbell/model";
import * as z from "zod";
import { allowed, callerOf } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const MOST_READINGS = 5000;

const pushed = z.strictObject({
  readings: z
    .array(
      z.strictObject({
        array: z.string().optional(),
        device: z.string(),
        at: z.union([z.int(), z.iso.datetime({ offset: true })]),
        kind: z.string(),
        value: z.union([z.boolean(), z.number(), z.string(), z.null()]),
        unit: z.string(),
        quality: z.string().default("good"),
        key: z.string().optional(),
      }),
    )
    .min(1)
    .max(MOST_READINGS),
});

const accepted = z.object({
  taken: z.number(),
  known: z.number(),
  setAside: z.array(z.object({ key: z.string(), reason: z.string() })),
});

/** Readings that a site sends by itself. The site is that of the token, whatever the body says. */
export function pushRoutes(app: FastifyInstance, parts: DeskParts): void {
  app.post<{ Body: z.output<typeof pushed>; Querystring: { site?: string } }>(
    "/api/push/readings",
    {
      schema: schemasOf({
        summary: "Push readings of a site; answered once they are stored",
        tag: "readings",
        query: z.strictObject({ site: z.string().optional() }),
        body: pushed,
        answer: accepted,
      }),
    },
    async (request) => {
      const site = await siteAsked(request, parts);
      return parts.watch.accept(readingsOf(request.body, site, request.headers["idempotency-key"]));
    },
  );
}

/** The site of the token; a person's token names one. @throws RequestFault REQUEST_NOT_ALLOWED */
async function siteAsked(
  request: FastifyRequest<{ Querystring: { site?: string } }>,
  parts: DeskParts,
): Promise<string> {
  const { role, sites } = await callerOf(request, parts);
  const site = request.query.site ?? (role === "site" ? sites?.[0] : undefined);
  if (site === undefined)
    throw new RequestFault("REQUEST_NOT_ALLOWED", "Use the token of the site, or name the site with ?site=.");
  await allowed(request, parts, "push", site);
  return site;
}

/** @throws RequestFault REQUEST_BODY_INVALID with every reading at fault, and then none is taken in */
function readingsOf(
  { readings }: z.output<typeof pushed>,
  site: string,
  idempotencyKey: string | string[] | undefined,
): readonly WatchReading[] {
  const results = readings.map(({ at, key, array, ...rest }, index) =>
    checkReading({
      ...rest,
      ...(array === undefined ? {} : { array }),
      site,
      at: typeof at === "number" ? at : Date.parse(at),
      source: "push",
      key: key ?? keyOf(site, idempotencyKey, index, { ...rest, array, at }),
    }),
  );
  const fields = results.flatMap((result, index) =>
    result.ok
      ? []
      : result.refusals.map(({ field, value, allowed, code }) => ({
          field: `body.readings.${String(index)}.${field}`,
          message: `${code}: ${value} is not ${allowed}`,
        })),
  );
  if (fields.length > 0)
    throw new RequestFault("REQUEST_BODY_INVALID", "Some readings are unsound; none was taken in.", fields);
  return results.flatMap((result) => (result.ok ? [result.reading] : []));
}

/** Without a key of its own a reading is known by the request's, and without that by everything that it says. */
function keyOf(
  site: string,
  requestKey: string | string[] | undefined,
  index: number,
  said: unknown,
): string {
  const basis = typeof requestKey === "string" ? [site, requestKey, index] : [site, JSON.stringify(said)];
  return `push-${createHash("sha256").update(JSON.stringify(basis)).digest("hex").slice(0, 40)}`;
}

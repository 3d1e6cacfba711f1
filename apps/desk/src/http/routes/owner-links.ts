import type { FastifyInstance } from "fastify";
import * as z from "zod";
import {
  LONGEST_DAYS,
  makeOwnerLink,
  noteOpened,
  openOwnerLink,
  revokeOwnerLink,
} from "../../accounts/owner-links.ts";
import { allowed, refuseForeign } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { lookIn } from "../session-cookie.ts";
import { schemasOf } from "../zod-schemas.ts";

const wanted = z.strictObject({
  label: z.string().trim().min(1).max(200),
  sites: z.array(z.string().min(1)).min(1).max(500),
  days: z.number().int().min(1).max(LONGEST_DAYS),
});
const line = z.object({
  id: z.string(),
  label: z.string(),
  sites: z.array(z.string()),
  issuedAt: z.number(),
  issuedBy: z.string(),
  expiresAt: z.number(),
  openedAt: z.number().nullable(),
});
const linkToken = z.strictObject({ token: z.string().min(20).max(200) });
const SELDOM = { rateLimit: { max: 20, timeWindow: "1 minute" } };

/** Links by which owners look at their own sites without an account. */
export function ownerLinkRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  app.get(
    "/api/owner-links",
    { schema: schemasOf({ summary: "Owners' links in force", tag: "people", answer: z.array(line) }) },
    async (request) => {
      await allowed(request, parts, "keep-desk", null);
      const rows = await store.db
        .selectFrom("owner_link")
        .selectAll()
        .where("revoked_at", "is", null)
        .where("expires_at", ">", clock.now())
        .orderBy("issued_at", "desc")
        .execute();
      return rows.map((row) => ({
        id: row.id,
        label: row.label,
        sites: JSON.parse(row.sites_json) as string[],
        issuedAt: row.issued_at,
        issuedBy: row.issued_by,
        expiresAt: row.expires_at,
        openedAt: row.opened_at,
      }));
    },
  );
  app.post<{ Body: z.output<typeof wanted> }>(
    "/api/owner-links",
    {
      schema: schemasOf({
        summary: "Make a link by which an owner looks at sites; it is shown once",
        tag: "people",
        body: wanted,
        answer: z.object({ url: z.string() }),
      }),
    },
    async (request) => {
      const { name: by } = await allowed(request, parts, "keep-desk", null);
      await refuseUnknown(parts, request.body.sites);
      const token = await makeOwnerLink(store, request.body, { by, at: clock.now() });
      return { url: `${parts.origin(request)}/look/${token}` };
    },
  );
  app.post<{ Params: { id: string } }>(
    "/api/owner-links/:id/end",
    {
      schema: schemasOf({
        summary: "Revoke an owner's link; whoever has it open sees nothing more",
        tag: "people",
        params: z.strictObject({ id: z.string() }),
        answer: z.object({}),
      }),
    },
    async (request) => {
      const { name: by } = await allowed(request, parts, "keep-desk", null);
      const ended = await revokeOwnerLink(store, request.params.id, { by, at: clock.now() });
      if (!ended) throw new RequestFault("REQUEST_UNKNOWN", "There is no such link in force.");
      return {};
    },
  );
  openRoute(app, parts);
}

/** A browser that is signed in keeps its account: the link is for those who have none. */
function openRoute(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  app.post<{ Body: z.output<typeof linkToken> }>(
    "/api/look",
    {
      config: SELDOM,
      schema: schemasOf({
        summary: "Open an owner's link in this browser",
        tag: "people",
        body: linkToken,
        answer: z.object({ name: z.string(), role: z.literal("owner"), sites: z.array(z.string()) }),
        open: true,
      }),
    },
    async (request, reply) => {
      refuseForeign(request, parts);
      const link = await openOwnerLink(store, request.body.token, clock.now());
      if (link === null)
        throw new RequestFault("ACCOUNT_LOOK_ENDED", "The link has expired or was revoked. Ask for another.");
      await noteOpened(store, link, clock.now());
      lookIn(reply, parts, request.body.token, (link.expires_at - clock.now()) / 1000);
      return { name: link.label, role: "owner", sites: JSON.parse(link.sites_json) as string[] };
    },
  );
}

async function refuseUnknown({ store }: DeskParts, sites: readonly string[]): Promise<void> {
  const rows = await store.db
    .selectFrom("site")
    .select("id")
    .where("id", "in", sites)
    .where("removed_at", "is", null)
    .execute();
  const known = new Set(rows.map(({ id }) => id));
  const strangers = sites.filter((site) => !known.has(site));
  if (strangers.length === 0) return;
  const fields = strangers.map((site) => ({
    field: "body.sites",
    message: `No site ${site} is watched here.`,
  }));
  throw new RequestFault("REQUEST_BODY_INVALID", `No such site is watched: ${strangers.join(", ")}.`, fields);
}

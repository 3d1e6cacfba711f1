import { fitsWords } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { disableAccount } from "../../accounts/accounts.ts";
import { invite } from "../../accounts/invitations.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const role = z.enum(["service", "technician", "installer", "owner"]);
const guest = z
  .strictObject({ role, sites: z.array(z.string().min(1)).min(1).max(5000).nullable() })
  .refine(({ role: of, sites }) => (of !== "installer" && of !== "owner") || sites !== null, {
    message: "an installer or owner is bound to sites",
    path: ["sites"],
  });
const listQuery = z.strictObject({
  /** Words of a name, or of the sites somebody is bound to. */
  find: z.string().max(200).default(""),
  limit: z.coerce.number().int().min(1).max(1001).default(1001),
});
const person = z.object({
  id: z.string(),
  name: z.string(),
  role,
  sites: z.array(z.string()).nullable(),
  createdAt: z.number(),
  createdBy: z.string(),
  passkeys: z.number(),
});

/** The people of the desk. */
export function peopleRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  app.get<{ Querystring: z.output<typeof listQuery> }>(
    "/api/people",
    {
      schema: schemasOf({
        summary: "Who can sign in, the first so many by their names",
        tag: "people",
        query: listQuery,
        answer: z.array(person),
      }),
    },
    async (request) => {
      await allowed(request, parts, "keep-desk", null);
      const rows = await store.db
        .selectFrom("account")
        .leftJoin("passkey", "passkey.account_id", "account.id")
        .select(["account.id", "account.name", "account.role", "account.sites_json"])
        .select(["account.created_at as createdAt", "account.created_by as createdBy"])
        .select(({ fn }) => fn.count<number>("passkey.id").as("passkeys"))
        .where("account.disabled_at", "is", null)
        .groupBy("account.id")
        .orderBy("account.name")
        .execute();
      const { find, limit } = request.query;
      const fits = fitsWords(find);
      return rows
        .filter(({ name, sites_json }) => fits(`${name} ${sites_json ?? ""}`))
        .slice(0, limit)
        .map(({ sites_json, ...one }) => ({
          ...one,
          sites: sites_json === null ? null : (JSON.parse(sites_json) as string[]),
        }));
    },
  );
  app.post<{ Body: z.output<typeof guest> }>(
    "/api/invitations",
    {
      schema: schemasOf({
        summary: "Make a link by which somebody makes an account, once",
        tag: "people",
        body: guest,
        answer: z.object({ url: z.string() }),
      }),
    },
    async (request) => {
      const { name: by } = await allowed(request, parts, "keep-desk", null);
      const token = await invite(store, request.body, { by, at: clock.now() });
      return { url: `${parts.origin(request)}/join/${token}` };
    },
  );
  app.post<{ Params: { id: string } }>(
    "/api/people/:id/end",
    {
      schema: schemasOf({
        summary: "End an account, and every browser that is signed in with it",
        tag: "people",
        params: z.strictObject({ id: z.string() }),
        answer: z.object({}),
      }),
    },
    async (request) => {
      const caller = await allowed(request, parts, "keep-desk", null);
      if (caller.account?.id === request.params.id)
        throw new RequestFault(
          "REQUEST_NOT_ALLOWED",
          "Nobody ends the own account: somebody has to be left who runs the desk.",
        );
      const ended = await disableAccount(store, request.params.id, { by: caller.name, at: clock.now() });
      if (!ended) throw new RequestFault("REQUEST_UNKNOWN", "There is no such account that can sign in.");
      return {};
    },
  );
}

import type { FastifyInstance } from "fastify";
import * as z from "zod";
import type { PaperOffice } from "../../papers/paper-office.ts";
import { appendJournal } from "../../store/journal.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const key = z.object({ id: z.string(), current: z.boolean(), since: z.number(), pem: z.string() });
type Key = z.infer<typeof key>;
const keyParams = z.strictObject({ id: z.string().max(100) });

/** The public keys by which papers were signed here. Private keys are never answered. */
export function paperKeyRoutes(app: FastifyInstance, parts: DeskParts, papers: PaperOffice): void {
  app.get(
    "/api/papers/keys",
    {
      schema: schemasOf({
        summary: "The public keys by which papers were signed here, the current one first",
        tag: "papers",
        answer: z.array(key),
      }),
    },
    async (request): Promise<Key[]> => {
      await allowed(request, parts, "see-site", null);
      return (await papers.keys.known()).map(({ id, current, since, pem }) => ({ id, current, since, pem }));
    },
  );
  app.get<{ Params: z.output<typeof keyParams> }>(
    "/api/papers/keys/:id",
    {
      schema: schemasOf({
        summary: "A public key as a file (PEM), for earthbell verify --key",
        tag: "papers",
        params: keyParams,
        answer: z.string(),
      }),
    },
    async (request, reply) => {
      await allowed(request, parts, "see-site", null);
      const { id } = request.params;
      const found = (await papers.keys.known()).find((one) => one.id === id);
      if (found === undefined)
        throw new RequestFault("REQUEST_UNKNOWN", `Nothing was signed here by a key ${id}.`);
      return reply
        .type("application/x-pem-file")
        .header("content-disposition", `attachment; filename="papers-${found.id}.pem"`)
        .serializer(String)
        .send(found.pem);
    },
  );
  app.post(
    "/api/papers/keys",
    {
      schema: schemasOf({
        summary: "Sign with a new key from now on; what was signed before stays valid by the keys before it",
        tag: "papers",
        answer: key,
      }),
    },
    async (request): Promise<Key> => {
      const { name: by } = await allowed(request, parts, "keep-desk", null);
      const { id, current, since, pem } = await papers.keys.replace();
      const text = `Papers are signed with the new key ${id} from now on.`;
      const happening = { at: parts.clock.now(), kind: "paper", site: null, subject: id, by, text };
      await parts.store.amend((tx) => appendJournal(tx, [happening]));
      return { id, current, since, pem };
    },
  );
}

import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { type Bearer, sees } from "../../accounts/access.ts";
import { checkSignature } from "../../papers/check-signature.ts";
import { type PaperOffice, SIGNATURE } from "../../papers/paper-office.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";
import { siteOfPaper } from "./paper-asked.ts";

const fileParams = z.strictObject({ name: z.string().max(250) });
/** Text of a signature file that lies beside the file at whoever asks. */
const verifyQuery = z.strictObject({ signature: z.string().max(4000).optional() });
const MOST_BYTES = 256 * 2 ** 20;

const TYPES: Readonly<Record<string, string>> = {
  pdf: "application/pdf",
  html: "text/html; charset=utf-8",
  csv: "text/csv; charset=utf-8",
  xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
  sig: "application/json",
};

/** Files that were issued, their signatures, and whether a file that somebody holds is one of them. */
export function paperFileRoutes(app: FastifyInstance, parts: DeskParts, papers: PaperOffice): void {
  app.get<{ Params: z.output<typeof fileParams> }>(
    "/api/papers/files/:name",
    {
      schema: schemasOf({
        summary: "A file that was issued, or, by its name with .sig, its signature",
        tag: "papers",
        params: fileParams,
        answer: z.string(),
      }),
    },
    async (request, reply) => {
      const { name } = request.params;
      const known = await papers.index.ofFile(
        name.endsWith(SIGNATURE) ? name.slice(0, -SIGNATURE.length) : name,
      );
      const site = known === null ? null : siteOfPaper(known.kind, known.of);
      await allowed(request, parts, site === null ? "issue-paper" : "see-site", site);
      const bytes = known === null ? null : await papers.read(name);
      if (bytes === null) throw new RequestFault("REQUEST_UNKNOWN", `No file ${name} was issued here.`);
      return reply
        .type(TYPES[name.slice(name.lastIndexOf(".") + 1)] ?? "application/octet-stream")
        .header("content-disposition", `attachment; filename*=UTF-8''${encodeURIComponent(name)}`)
        .serializer((body: unknown) => body as string)
        .send(Buffer.from(bytes));
    },
  );
  app.addContentTypeParser("application/octet-stream", { parseAs: "buffer" }, (_, body, done) => {
    done(null, body);
  });
  app.post<{ Body: Buffer; Querystring: z.output<typeof verifyQuery> }>(
    "/api/papers/verify",
    {
      bodyLimit: MOST_BYTES,
      schema: schemasOf({
        summary:
          "Whether a file is one that was issued here, by its bytes; whether it is the newest; and what a signature says of it",
        tag: "papers",
        query: verifyQuery,
        consumes: "application/octet-stream",
        answer: z.object({
          issued: z
            .object({
              name: z.string(),
              number: z.string(),
              revision: z.number(),
              date: z.string(),
              by: z.string().nullable(),
              newest: z.number(),
            })
            .nullable(),
          /** By the signature that was sent along, else by the one that lies here; null where there is neither. */
          signature: z
            .object({
              verdict: z.enum(["valid", "altered", "unknown-key", "unsigned"]),
              key: z.string().nullable(),
            })
            .nullable(),
        }),
      }),
    },
    async (request) => {
      const caller = await allowed(request, parts, "see-site", null);
      const { body, query } = request;
      const issued = await issuedHere(body, caller, papers);
      const known = await papers.keys.known();
      if (query.signature !== undefined)
        return { issued, signature: checkSignature(body, query.signature, known) };
      const beside = issued === null ? null : await papers.read(`${issued.name}${SIGNATURE}`);
      const text = beside === null ? null : Buffer.from(beside).toString("utf8");
      return { issued, signature: text === null ? null : checkSignature(body, text, known) };
    },
  );
}

/** What was issued here with these bytes; null where nothing was, or nothing that the caller may see. */
async function issuedHere(bytes: Buffer, caller: Bearer, { index, digestOfBytes }: PaperOffice) {
  const found = await index.ofDigest(digestOfBytes(bytes));
  if (found === null) return null;
  const { paper: known, name } = found;
  const site = siteOfPaper(known.kind, known.of);
  if (site === null ? caller.sites !== null : !sees(caller, site)) return null;
  const { revision, date, by } = known.revisions.find(({ files }) =>
    files.some((file) => file.name === name),
  )!;
  return { name, number: known.number, revision, date, by, newest: known.revisions.at(-1)!.revision };
}

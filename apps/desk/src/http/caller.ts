import type { FastifyRequest } from "fastify";
import type { DeskStore } from "../store/index.ts";
import { RequestFault } from "./request-fault.ts";
import { tokenHash } from "./token.ts";

/** Who asks. */
export type Caller =
  /** A person, or a program in a person's name, who answers for what is done. */
  | { readonly kind: "person"; readonly name: string }
  /** Devices and data loggers of one site; they push readings. */
  | { readonly kind: "site"; readonly site: string };

/** @throws RequestFault REQUEST_TOKEN_MISSING | REQUEST_TOKEN_UNKNOWN */
export async function callerOf(request: FastifyRequest, store: DeskStore): Promise<Caller> {
  const token = /^Bearer (\S+)$/u.exec(request.headers.authorization ?? "")?.[1];
  if (token === undefined)
    throw new RequestFault("REQUEST_TOKEN_MISSING", "Send the header Authorization: Bearer TOKEN.");
  const hash = tokenHash(token);
  const person = await store.db
    .selectFrom("person_token")
    .select("person")
    .where("token_hash", "=", hash)
    .where("revoked_at", "is", null)
    .executeTakeFirst();
  if (person !== undefined) return { kind: "person", name: person.person };
  const site = await store.db
    .selectFrom("site_token")
    .select("site")
    .where("token_hash", "=", hash)
    .where("revoked_at", "is", null)
    .executeTakeFirst();
  if (site !== undefined) return { kind: "site", site: site.site };
  throw new RequestFault(
    "REQUEST_TOKEN_UNKNOWN",
    "No token that is in force fits. Check it, or make another.",
  );
}

/** @throws RequestFault as above, and REQUEST_NOT_ALLOWED for a site's token */
export async function personOf(request: FastifyRequest, store: DeskStore): Promise<string> {
  const caller = await callerOf(request, store);
  if (caller.kind === "person") return caller.name;
  throw new RequestFault(
    "REQUEST_NOT_ALLOWED",
    "A site's token pushes readings; this is for a person's token.",
  );
}

import type { FastifyRequest } from "fastify";
import { type Action, type Bearer, mayDo } from "../accounts/access.ts";
import { accountOfSession, SESSION_TIMES } from "../accounts/sessions.ts";
import { openOwnerLink } from "../accounts/owner-links.ts";
import type { AccountTable, DeskStore } from "../store/index.ts";
import type { DeskParts } from "./desk-parts.ts";
import { RequestFault } from "./request-fault.ts";
import { lookName } from "./session-cookie.ts";
import { tokenHash } from "../token.ts";

/** Who asks, and in whose name it is recorded. */
export interface Caller extends Bearer {
  readonly name: string;
  /** The account that is signed in; null for a token. */
  readonly account: AccountTable | null;
}

/** A request may carry this instead of the check of its origin, which some browsers leave out; no form can send it. */
const OWN_HEADER = "x-earthbell-request";

/**
 * Who asks: the bearer of a token, or the browser that is signed in.
 *
 * @throws RequestFault REQUEST_TOKEN_MISSING | REQUEST_TOKEN_UNKNOWN | REQUEST_FOREIGN
 */
export async function callerOf(request: FastifyRequest, parts: DeskParts): Promise<Caller> {
  const token = /^Bearer (\S+)$/u.exec(request.headers.authorization ?? "")?.[1];
  if (token !== undefined) return bearerOf(token, parts.store);
  const cookie = request.cookies[parts.cookieName];
  const account =
    cookie === undefined
      ? null
      : await accountOfSession(parts.store, cookie, parts.clock.now(), parts.signedIn ?? SESSION_TIMES);
  if (account === null) return lookerOf(request, parts);
  refuseForeign(request, parts);
  return { ...bearer(account), name: account.name, account };
}

/**
 * Who asks, if that may be done.
 *
 * @param site  the site that is touched; null for the desk as a whole
 * @throws RequestFault as above, and REQUEST_NOT_ALLOWED
 */
export async function allowed(
  request: FastifyRequest,
  parts: DeskParts,
  action: Action,
  site: string | null,
): Promise<Caller> {
  const caller = await callerOf(request, parts);
  const access = mayDo(caller, action, site);
  if (!access.ok) throw new RequestFault("REQUEST_NOT_ALLOWED", access.text);
  return caller;
}

/** Somebody without an account who has opened an owner's link. */
async function lookerOf(request: FastifyRequest, parts: DeskParts): Promise<Caller> {
  const token = request.cookies[lookName(parts.cookieName)];
  const link = token === undefined ? null : await openOwnerLink(parts.store, token, parts.clock.now());
  if (link === null)
    throw new RequestFault(
      "REQUEST_TOKEN_MISSING",
      "Sign in, or send the header Authorization: Bearer TOKEN.",
    );
  refuseForeign(request, parts);
  const sites = JSON.parse(link.sites_json) as readonly string[];
  return { role: "link", sites, name: `${link.label}, by a link`, account: null };
}

export function bearer({ role, sites_json }: Pick<AccountTable, "role" | "sites_json">): Bearer {
  return { role, sites: sites_json === null ? null : (JSON.parse(sites_json) as readonly string[]) };
}

async function bearerOf(token: string, store: DeskStore): Promise<Caller> {
  const hash = tokenHash(token);
  const person = await store.db
    .selectFrom("person_token")
    .select("person")
    .where("token_hash", "=", hash)
    .where("revoked_at", "is", null)
    .executeTakeFirst();
  if (person !== undefined) return { role: "service", sites: null, name: person.person, account: null };
  const row = await store.db
    .selectFrom("site_token")
    .select(["site", "label"])
    .where("token_hash", "=", hash)
    .where("revoked_at", "is", null)
    .executeTakeFirst();
  if (row !== undefined) return { role: "site", sites: [row.site], name: row.label, account: null };
  throw new RequestFault(
    "REQUEST_TOKEN_UNKNOWN",
    "No token that is in force fits. Check it, or make another.",
  );
}

/** A page of somebody else can make a browser send its cookie; it cannot make it say that the request is the desk's own. */
export function refuseForeign(request: FastifyRequest, { origin }: Pick<DeskParts, "origin">): void {
  if (request.method === "GET" || request.method === "HEAD") return;
  const from = request.headers.origin;
  const own = from === undefined ? request.headers[OWN_HEADER] !== undefined : from === origin(request);
  if (own) return;
  throw new RequestFault("REQUEST_FOREIGN", "The request does not come from the desk's own page.");
}

import type { AuthenticationResponseJSON, RegistrationResponseJSON } from "@simplewebauthn/server";
import type { FastifyInstance, FastifyRequest } from "fastify";
import * as z from "zod";
import { Passkeys } from "../../accounts/passkeys.ts";
import type { AccountTable } from "../../store/index.ts";
import { bearer, callerOf, refuseForeign } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { signBrowserIn } from "../session-cookie.ts";
import { schemasOf } from "../zod-schemas.ts";

const question = z.record(z.string(), z.unknown());
/** What a browser answers is checked by the library, which knows the open standard. */
const answer = z.looseObject({ id: z.string().max(2000) });
const SELDOM = { rateLimit: { max: 20, timeWindow: "1 minute" } };

/** Passkeys: a question to the browser, and its answer. */
export function passkeyRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock, name } = parts;
  const byOrigin = new Map<string, Passkeys>();
  const passkeys = (request: FastifyRequest): Passkeys => {
    const origin = parts.origin(request);
    const made = byOrigin.get(origin) ?? new Passkeys(store, { name, origin });
    if (byOrigin.size < 10) byOrigin.set(origin, made);
    return made;
  };
  const signedIn = async (request: FastifyRequest): Promise<AccountTable> => {
    const { account } = await callerOf(request, parts);
    if (account === null)
      throw new RequestFault("REQUEST_NOT_ALLOWED", "Passkeys belong to accounts, not to tokens.");
    return account;
  };
  const schema = (summary: string, body?: z.ZodType) =>
    schemasOf({ summary, tag: "people", ...(body === undefined ? {} : { body }), answer: question });

  app.post(
    "/api/passkeys/question",
    { schema: schema("What to ask the browser to add a passkey") },
    async (request) => passkeys(request).askToAdd(await signedIn(request), clock.now()),
  );
  const added = z.strictObject({ label: z.string().trim().min(1).max(100), response: answer });
  app.post<{ Body: { label: string; response: RegistrationResponseJSON } }>(
    "/api/passkeys",
    { schema: schema("Add a passkey to the account that is signed in", added) },
    async (request) => {
      const account = await signedIn(request);
      const { label, response } = request.body;
      if (!(await passkeys(request).add(account, response, label, clock.now()))) throw failed();
      return { label };
    },
  );
  app.post(
    "/api/sign-in/passkey/question",
    { config: SELDOM, schema: schema("What to ask the browser to sign in") },
    async (request) => {
      refuseForeign(request, parts);
      return passkeys(request).askToSignIn(clock.now());
    },
  );
  app.post<{ Body: AuthenticationResponseJSON }>(
    "/api/sign-in/passkey",
    { config: SELDOM, schema: schema("Sign in with a passkey", answer) },
    async (request, reply) => {
      refuseForeign(request, parts);
      const account = await passkeys(request).signIn(request.body, clock.now());
      if (account === null) throw failed();
      await signBrowserIn(request, reply, parts, account);
      return { name: account.name, ...bearer(account) };
    },
  );
}

function failed(): RequestFault {
  return new RequestFault("ACCOUNT_PASSKEY_FAILED", "The passkey could not be checked. Try again.");
}

import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { accountByName, join } from "../../accounts/accounts.ts";
import { Attempts } from "../../accounts/attempts.ts";
import { openInvitation } from "../../accounts/invitations.ts";
import { LONGEST_PASSWORD, passwordFits, SHORTEST_PASSWORD } from "../../accounts/password.ts";
import { bearer, callerOf, refuseForeign } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { signBrowserIn, signBrowserOut } from "../session-cookie.ts";
import { schemasOf } from "../zod-schemas.ts";

const name = z
  .string()
  .trim()
  .min(1)
  .max(100)
  .regex(/^[^\p{Cc}]*$/u);
const credentials = z.strictObject({ name, password: z.string().min(1).max(LONGEST_PASSWORD) });
const newcomer = z.strictObject({
  name,
  password: z.string().min(SHORTEST_PASSWORD).max(LONGEST_PASSWORD),
});
const me = z.object({
  name: z.string(),
  role: z.enum(["service", "technician", "installer", "owner", "site"]),
  sites: z.array(z.string()).nullable(),
  /** Looks by an owner's link, without an account. */
  byLink: z.boolean().optional(),
});
const joinParams = z.strictObject({ token: z.string().min(20).max(200) });

/** Signing in and proving who one is: few tries a minute from one sender, whatever the name. */
const SELDOM = { rateLimit: { max: 20, timeWindow: "1 minute" } };

/** Who is signed in, and how one comes in: by name and password, or by a link that makes an account once. */
export function signInRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  const attempts = new Attempts();
  app.get(
    "/api/me",
    { schema: schemasOf({ summary: "Who asks", tag: "people", answer: me }) },
    async (request) => {
      const { name: who, role, sites } = await callerOf(request, parts);
      return { name: who, role: role === "link" ? "owner" : role, sites, byLink: role === "link" };
    },
  );
  app.post<{ Body: z.output<typeof credentials> }>(
    "/api/sign-in",
    {
      config: SELDOM,
      schema: schemasOf({
        summary: "Sign in by name and password",
        tag: "people",
        body: credentials,
        answer: me,
        open: true,
      }),
    },
    async (request, reply) => {
      refuseForeign(request, parts);
      const { name: who, password } = request.body;
      const now = clock.now();
      const waitMs = attempts.waitMs(who, now);
      if (waitMs > 0) {
        reply.header("retry-after", String(Math.ceil(waitMs / 1000)));
        throw new RequestFault(
          "ACCOUNT_WAIT",
          "Too many wrong passwords at this name; wait as long as Retry-After says.",
        );
      }
      const account = await accountByName(store, who);
      if (!(await passwordFits(password, account?.password_hash ?? null)) || account === null) {
        attempts.failed(who, now);
        throw new RequestFault("ACCOUNT_SIGN_IN_FAILED", "Name and password do not fit together.");
      }
      attempts.succeeded(who);
      await signBrowserIn(request, reply, parts, account);
      return { name: account.name, ...bearer(account) };
    },
  );
  app.post(
    "/api/sign-out",
    {
      schema: schemasOf({
        summary: "Sign this browser out",
        tag: "people",
        answer: z.object({}),
        open: true,
      }),
    },
    async (request, reply) => {
      refuseForeign(request, parts);
      await signBrowserOut(request, reply, parts);
      return {};
    },
  );
  joinRoutes(app, parts);
}

function joinRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  app.get<{ Params: { token: string } }>(
    "/api/join/:token",
    {
      config: SELDOM,
      schema: schemasOf({
        summary: "What a link to join is for; looking does not use it",
        tag: "people",
        params: joinParams,
        answer: z.object({ role: z.string(), sites: z.array(z.string()).nullable(), expiresAt: z.number() }),
        open: true,
      }),
    },
    async (request) => {
      const invitation = await openInvitation(store, request.params.token, clock.now());
      if (invitation === null) throw spent();
      return { ...bearer(invitation), expiresAt: invitation.expires_at };
    },
  );
  app.post<{ Params: { token: string }; Body: z.output<typeof newcomer> }>(
    "/api/join/:token",
    {
      config: SELDOM,
      schema: schemasOf({
        summary: "Make the account of a link, and sign this browser in",
        tag: "people",
        params: joinParams,
        body: newcomer,
        answer: me,
        open: true,
      }),
    },
    async (request, reply) => {
      refuseForeign(request, parts);
      const joined = await join(store, request.params.token, request.body, clock.now());
      if (!joined.ok)
        throw joined.code === "ACCOUNT_NAME_TAKEN"
          ? new RequestFault("ACCOUNT_NAME_TAKEN", "The name is taken. Choose another.")
          : spent();
      await signBrowserIn(request, reply, parts, joined.account);
      return { name: joined.account.name, ...bearer(joined.account) };
    },
  );
}

function spent(): RequestFault {
  return new RequestFault(
    "ACCOUNT_LINK_SPENT",
    "The link was used, has expired, or is not known. Ask for another.",
  );
}

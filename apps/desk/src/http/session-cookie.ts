import type { FastifyReply, FastifyRequest } from "fastify";
import { beginSession, endSession, SESSION_TIMES } from "../accounts/sessions.ts";
import type { AccountTable } from "../store/index.ts";
import type { DeskParts } from "./desk-parts.ts";

/** Over TLS the name itself binds the cookie to this host; without TLS, on one's own machine, a plain name has to do. */
export function cookieNameFor(publicUrl: string | undefined): string {
  return publicUrl?.startsWith("https://") ? "__Host-earthbell" : "earthbell";
}

/** Signs the browser in with a session of its own; one that it had before ends. */
export async function signBrowserIn(
  request: FastifyRequest,
  reply: FastifyReply,
  parts: DeskParts,
  account: AccountTable,
): Promise<void> {
  await signBrowserOut(request, reply, parts);
  const token = await beginSession(parts.store, account.id, parts.clock.now());
  const { longestMs } = parts.signedIn ?? SESSION_TIMES;
  reply.setCookie(parts.cookieName, token, { ...attributes(parts), maxAge: Math.ceil(longestMs / 1000) });
}

export async function signBrowserOut(
  request: FastifyRequest,
  reply: FastifyReply,
  parts: DeskParts,
): Promise<void> {
  const before = request.cookies[parts.cookieName];
  if (before !== undefined) await endSession(parts.store, before);
  reply.clearCookie(parts.cookieName, attributes(parts));
  reply.clearCookie(lookName(parts.cookieName), attributes(parts));
}

/** Cookie of a browser that looks by an owner's link: the link itself, so that it ends with it. */
export function lookName(cookieName: string): string {
  return `${cookieName}-look`;
}

export function lookIn(reply: FastifyReply, parts: DeskParts, token: string, forS: number): void {
  reply.setCookie(lookName(parts.cookieName), token, { ...attributes(parts), maxAge: Math.ceil(forS) });
}

function attributes({ cookieName }: DeskParts) {
  return { path: "/", httpOnly: true, sameSite: "strict", secure: cookieName.startsWith("__Host-") } as const;
}

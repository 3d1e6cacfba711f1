import type { FastifyInstance, FastifyReply } from "fastify";
import * as z from "zod";
import { escaped, page, SHEET } from "../page.ts";
import type { DeskParts } from "../desk-parts.ts";
import type { LinkView } from "../../watch/watch.ts";
import { schemasOf } from "../zod-schemas.ts";

const params = z.strictObject({ token: z.string().min(20).max(200) });

/**
 * The page behind the link of a message. Opening it changes nothing, so that a mail scanner that follows links does not
 * acknowledge; the button does.
 */
export function acknowledgePage(app: FastifyInstance, { watch, name }: DeskParts): void {
  app.addContentTypeParser("application/x-www-form-urlencoded", { parseAs: "string" }, (_, body, done) => {
    done(null, body);
  });
  app.get("/a/sheet.css", { schema: { hide: true } }, (_request, reply) =>
    reply.type("text/css; charset=utf-8").serializer(String).send(SHEET),
  );
  const schema = {
    ...schemasOf({ summary: "", tag: "", params, answer: z.string(), open: true }),
    hide: true,
  };
  app.get<{ Params: { token: string } }>("/a/:token", { schema }, async (request, reply) => {
    const link = await watch.openLink(request.params.token);
    return send(reply, link === null ? 404 : 200, link === null ? unknownLink(name) : linkPage(name, link));
  });
  app.post<{ Params: { token: string } }>("/a/:token", { schema }, async (request, reply) => {
    const answer = await watch.redeemLink(request.params.token);
    const [title, text, status] = answer.ok
      ? ["Acknowledged", answer.text, 200]
      : ["Not acknowledged", answer.refusal.text, 409];
    return send(reply, status, page(name, title, [`<p>${escaped(text)}</p>`]));
  });
}

function send(reply: FastifyReply, status: number, html: string): FastifyReply {
  return reply
    .status(status)
    .type("text/html; charset=utf-8")
    .header("cache-control", "no-store")
    .header("referrer-policy", "no-referrer")
    .header("x-robots-tag", "noindex")
    .serializer(String)
    .send(html);
}

function unknownLink(name: string): string {
  return page(name, "This link is not known", [
    "<p>It may have been cut off by a mail program. Open the whole link, or acknowledge at the desk.</p>",
  ]);
}

function linkPage(name: string, link: LinkView): string {
  const sites = link.sites.map(escaped).join(", ");
  if (link.state === "expired")
    return page(name, "This link has expired", [
      `<p>It concerned ${sites}. Acknowledge at the desk, or with the link of the newest message.</p>`,
    ]);
  if (link.state === "used")
    return page(name, "Acknowledged before", [
      `<p>${escaped(link.person)} acknowledged ${sites} with this link. Nothing more is to be done here.</p>`,
    ]);
  return page(name, `Acknowledge: ${link.sites.join(", ")}`, [
    `<p>You answer as <b>${escaped(link.person)}</b>. When you press the button:</p>`,
    `<ul>${link.lines.map((line) => `<li>${escaped(line)}</li>`).join("")}</ul>`,
    `<form method="post"><button type="submit">Acknowledge</button></form>`,
    "<p>Nothing happens until you press it. Acknowledging repairs nothing: do not touch modules, cables or connectors, and leave the search to licensed people.</p>",
  ]);
}

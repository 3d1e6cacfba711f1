import fastifyStatic from "@fastify/static";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { faultBody, RequestFault } from "./request-fault.ts";

/**
 * Serves the web app, whose places all have addresses of their own: a browser that asks for one gets the app, and the app
 * knows the place. Files with a digest in their name never change; the rest is asked for again.
 */
export async function serveWeb(app: FastifyInstance, folder: string | null): Promise<void> {
  if (folder !== null)
    await app.register(fastifyStatic, {
      root: folder,
      wildcard: false,
      cacheControl: false,
      // Beside a file may lie the same, packed when the app was built.
      preCompressed: true,
      setHeaders: (reply, path) => {
        const named = path.includes("/assets/");
        reply.setHeader("cache-control", named ? "public, max-age=31536000, immutable" : "no-cache");
      },
    });
  app.setNotFoundHandler((request, reply) =>
    folder !== null && isForPerson(request) ? reply.sendFile("index.html") : nothingThere(reply),
  );
}

function isForPerson({ method, url, headers }: FastifyRequest): boolean {
  const accepts = headers.accept ?? "";
  return method === "GET" && accepts.includes("text/html") && !/^\/(?:api|a|assets)\//u.test(url);
}

function nothingThere(reply: FastifyReply): FastifyReply {
  const fault = new RequestFault("REQUEST_UNKNOWN", "There is nothing at this address.");
  return reply.status(fault.statusCode).send(faultBody(fault));
}

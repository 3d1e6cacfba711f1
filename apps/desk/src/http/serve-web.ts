import fastifyStatic from "@fastify/static";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { faultBody, RequestFault } from "./request-fault.ts";

/** Files that the app's page loads. A worker is left out: like a page, it goes by the policy that comes with itself. */
const PART = /^\/assets\/(?![^/]*\.worker-)[^/]+\.(?:js|css|woff2)$/u;

/** Headers that tell a browser how to treat a page; on a file that a page loads they say nothing. */
const WITHOUT_PAGE_HEADERS = {
  contentSecurityPolicy: false,
  crossOriginOpenerPolicy: false,
  originAgentCluster: false,
  dnsPrefetchControl: false,
  ieNoOpen: false,
  frameguard: false,
  permittedCrossDomainPolicies: false,
  xssFilter: false,
} as const;

/**
 * Keeps what the app's page loads small for a slow phone: without the headers of a page, which together are longer than some of
 * those files. Nor are they counted against a sender's requests, since one page loads many. To be called before the plugins that
 * set headers and count requests.
 */
export function slimParts(app: FastifyInstance): void {
  app.addHook("onRoute", (route) => {
    if (!PART.test(route.url)) return;
    route.helmet = WITHOUT_PAGE_HEADERS;
    route.config = { ...route.config, rateLimit: false };
  });
}

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

import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, normalize } from "node:path";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".woff2": "font/woff2",
};

/** The built web app, with the answers that a desk would give at these addresses. */
export async function servedApp(
  answers: Readonly<Record<string, unknown>>,
): Promise<{ readonly address: string; readonly stop: () => void }> {
  const server = createServer((request, response) => {
    const { pathname } = new URL(request.url ?? "/", "http://bench");
    const answer = answers[pathname];
    if (answer !== undefined) {
      response.writeHead(200, { "content-type": "application/json" }).end(JSON.stringify(answer));
      return;
    }
    if (pathname.startsWith("/api/")) {
      response.writeHead(404, { "content-type": "application/json" }).end("{}");
      return;
    }
    const name = extname(pathname) === "" ? "/index.html" : normalize(pathname);
    readFile(join("dist/web", name)).then(
      (body) => response.writeHead(200, { "content-type": TYPES[extname(name)] ?? "text/plain" }).end(body),
      () => response.writeHead(404).end(),
    );
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const bound = server.address();
  if (bound === null || typeof bound === "string") throw new Error("the server has no port");
  return {
    address: `http://127.0.0.1:${String(bound.port)}`,
    stop: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

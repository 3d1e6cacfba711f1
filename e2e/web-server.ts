import { readFile } from "node:fs/promises";
import { createServer, type Server, type ServerResponse } from "node:http";
import { extname, join, normalize, resolve } from "node:path";

const folder = resolve("dist/web");

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".woff2": "font/woff2",
  ".webmanifest": "application/manifest+json",
};

/** As strict as a page can be served: nothing inline, nothing from elsewhere. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "font-src 'self'",
  "img-src 'self' blob:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

export interface WebServer {
  readonly address: string;
  /** Ends it and every connection to it, as a lost signal would. */
  readonly stop: () => Promise<void>;
}

async function answer(path: string, response: ServerResponse): Promise<void> {
  const name = extname(path) === "" ? "/index.html" : normalize(path);
  try {
    const body = await readFile(join(folder, name));
    response.writeHead(200, {
      "content-type": TYPES[extname(name)] ?? "application/octet-stream",
      "content-security-policy": POLICY,
      "x-content-type-options": "nosniff",
      "cache-control": "no-cache",
    });
    response.end(body);
  } catch {
    response.writeHead(404).end();
  }
}

/** Serves the built web app and nothing else; every address without an ending is a page of it. */
export async function startWebServer(port = 0): Promise<WebServer> {
  const server: Server = createServer((request, response) => {
    void answer(new URL(request.url ?? "/", "http://web").pathname, response);
  });
  await new Promise<void>((listening) => server.listen(port, "127.0.0.1", listening));
  const bound = server.address();
  if (bound === null || typeof bound === "string") throw new Error("the web server has no port");
  return {
    address: `http://127.0.0.1:${bound.port}`,
    stop: async () => {
      server.closeAllConnections();
      await new Promise<void>((closed) => {
        server.close(() => {
          closed();
        });
      });
    },
  };
}

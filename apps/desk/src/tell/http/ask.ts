import { type IncomingMessage, request as plainRequest, type RequestOptions } from "node:http";
import { request as tlsRequest } from "node:https";
import { isIP } from "node:net";
import type { Destination } from "./outward.ts";

export interface Question {
  readonly method: "POST" | "PUT" | "GET";
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
  /** Certificates (PEM) to trust instead of the system's. */
  readonly ca?: string;
}

export interface Reply {
  readonly status: number;
  /** The first part of the body. */
  readonly body: string;
}

/** Longest part of a reply that is read. */
const REPLY_BYTES = 16 * 1024;
/** Another address is tried only where nothing was sent to the one before. */
const NOT_CONNECTED = ["ECONNREFUSED", "EHOSTUNREACH", "ENETUNREACH", "EADDRNOTAVAIL", "ETIMEDOUT"];

/** One request over one connection, to an address that was looked at before; follows no redirect and reads no long reply. */
export async function ask(
  { url, addresses }: Destination,
  question: Question,
  signal: AbortSignal,
): Promise<Reply> {
  const [last, ...others] = [...addresses].reverse();
  for (const address of others.reverse()) {
    try {
      return await askAt(address, url, question, signal);
    } catch (error) {
      if (!NOT_CONNECTED.includes((error as NodeJS.ErrnoException).code ?? "")) throw error;
    }
  }
  return askAt(last!, url, question, signal);
}

function askAt(address: string, url: URL, question: Question, signal: AbortSignal): Promise<Reply> {
  const secure = url.protocol === "https:";
  const name = url.hostname.replace(/^\[|\]$/gu, "");
  const options: RequestOptions & { servername?: string; ca?: string } = {
    host: address,
    port: url.port === "" ? (secure ? 443 : 80) : Number(url.port),
    path: `${url.pathname}${url.search}`,
    method: question.method,
    headers: {
      ...question.headers,
      host: url.host,
      "content-length": String(Buffer.byteLength(question.body)),
      connection: "close",
    },
    agent: false,
    signal,
    // The certificate is checked against the name that was asked for, not against the address.
    ...(isIP(name) === 0 ? { servername: name } : {}),
    ...(question.ca === undefined ? {} : { ca: question.ca }),
  };
  return new Promise((resolve, reject) => {
    const asked = (secure ? tlsRequest : plainRequest)(options, (reply) => {
      read(reply).then(resolve, reject);
    });
    asked.on("error", reject);
    asked.end(question.body);
  });
}

async function read(reply: IncomingMessage): Promise<Reply> {
  const parts: Buffer[] = [];
  let length = 0;
  for await (const part of reply as AsyncIterable<Buffer>) {
    parts.push(part);
    length += part.length;
    if (length >= REPLY_BYTES) break;
  }
  const body = Buffer.concat(parts).subarray(0, REPLY_BYTES).toString("utf8");
  return { status: reply.statusCode ?? 0, body };
}

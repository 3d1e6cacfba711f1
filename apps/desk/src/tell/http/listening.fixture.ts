import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import type { Clock } from "../../clock.ts";
import type { Envelope } from "../channel.ts";

export interface Heard {
  readonly method: string;
  readonly url: string;
  readonly headers: IncomingMessage["headers"];
  readonly body: string;
}

export interface Listening {
  readonly port: number;
  readonly heard: readonly Heard[];
  stop(): Promise<void>;
}

/** A server on loopback that answers as it is told and remembers what it heard. */
export async function listening(answer: (heard: Heard, reply: ServerResponse) => void): Promise<Listening> {
  const heard: Heard[] = [];
  const server = createServer((request, reply) => {
    const parts: Buffer[] = [];
    request.on("data", (part: Buffer) => parts.push(part));
    request.on("end", () => {
      const { method = "", url = "", headers } = request;
      const one = { method, url, headers, body: Buffer.concat(parts).toString("utf8") };
      heard.push(one);
      answer(one, reply);
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    port: (server.address() as AddressInfo).port,
    heard,
    stop: () =>
      new Promise((resolve) => {
        server.closeAllConnections();
        server.close(() => {
          resolve();
        });
      }),
  };
}

/** A clock that stands at one instant; its pauses end with their signal, or at once where told so. */
export function stillClock(now: number, ringAtOnce = false): Clock {
  return {
    now: () => now,
    pause: (_, signal) =>
      new Promise((resolve) => {
        if (ringAtOnce || signal.aborted) resolve();
        signal.addEventListener("abort", () => {
          resolve();
        });
      }),
  };
}

export const T = Date.UTC(2026, 5, 1, 5, 12);

export function envelopeTo(address: string, change: Partial<Envelope> = {}): Envelope {
  return {
    key: '["C1","P1","ann","first",1]',
    channel: "webhook",
    address,
    person: "ann",
    site: "tarn",
    matter: "C1",
    kind: "first",
    sequence: 1,
    subject: "Alarm: Tarn Mill",
    text: 'Do not touch the roof.\n"Call" & wait {to} Ω',
    writtenAt: T,
    ...change,
  };
}

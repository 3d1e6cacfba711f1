import { type AddressInfo, createServer, type Server, type Socket } from "node:net";
import fc from "fast-check";
import { afterEach, describe, expect, it } from "vitest";
import { cutFrames, answerOf, requestFrame } from "./modbus-frame.ts";
import { openModbusTcp } from "./modbus-tcp.ts";
import { PlayedClock } from "./played-clock.fixture.ts";
import type { RegisterLink } from "./register-link.ts";

const READ = { address: 40_000, count: 2 };

let server: Server | null = null;
const sockets = new Set<Socket>();

/** A server that hands every request to the test. */
async function serve(respond: (socket: Socket, request: Buffer) => void): Promise<number> {
  server = createServer((socket) => {
    sockets.add(socket);
    socket.on("data", (request: Buffer) => {
      respond(socket, request);
    });
    socket.on("error", () => undefined);
  });
  await new Promise<void>((resolve) => {
    server!.listen(0, "127.0.0.1", resolve);
  });
  return (server.address() as AddressInfo).port;
}

afterEach(async () => {
  for (const socket of sockets) socket.destroy();
  sockets.clear();
  const open = server;
  server = null;
  if (open?.listening === true) await new Promise((resolve) => open.close(resolve));
});

async function open(port: number, clock = new PlayedClock(0)): Promise<RegisterLink> {
  return openModbusTcp({ host: "127.0.0.1", port }, 2000, clock);
}

/** The answer to a request: its transaction, then unit and body. */
function answer(request: Buffer, unit: number, ...body: number[]): Buffer {
  const frame = Buffer.from([0, 0, 0, 0, 0, body.length + 1, unit, ...body]);
  request.copy(frame, 0, 0, 2);
  return frame;
}

describe("a connection that can only read", () => {
  // The example of the protocol's specification: function 03, address and count as two bytes each [published].
  it("sends function 03 and takes registers back", async () => {
    const seen: Buffer[] = [];
    const port = await serve((socket, request) => {
      seen.push(request);
      socket.write(answer(request, 7, 3, 4, 0x53, 0x75, 0x6e, 0x53));
    });
    const link = await open(port);
    expect(await link.read(7, READ)).toEqual({ ok: true, registers: [0x5375, 0x6e53] });
    expect([...seen[0]!.subarray(2)]).toEqual([0, 0, 0, 6, 7, 3, 0x9c, 0x40, 0, 2]);
    link.close();
  });

  it("puts an answer together that comes byte by byte", async () => {
    const port = await serve((socket, request) => {
      for (const byte of answer(request, 1, 3, 4, 1, 2, 3, 4)) socket.write(Buffer.from([byte]));
    });
    const link = await open(port);
    expect(await link.read(1, READ)).toEqual({ ok: true, registers: [0x0102, 0x0304] });
    link.close();
  });

  it("hands on the device's refusal", async () => {
    const port = await serve((socket, request) => socket.write(answer(request, 1, 0x83, 2)));
    const link = await open(port);
    expect(await link.read(1, READ)).toEqual({ ok: false, exception: 2 });
    link.close();
  });

  it("gives up a request in time, and passes over its late answer", async () => {
    const clock = new PlayedClock(0);
    const requests: Buffer[] = [];
    let arrived: () => void = () => undefined;
    const first = new Promise<void>((resolve) => (arrived = resolve));
    const port = await serve((socket, request) => {
      requests.push(request);
      arrived();
      if (requests.length > 1) {
        socket.write(answer(requests[0]!, 1, 3, 4, 9, 9, 9, 9));
        socket.write(answer(request, 1, 3, 4, 0, 1, 0, 2));
      }
    });
    const link = await open(port, clock);
    const late = expect(link.read(1, READ)).rejects.toMatchObject({ kind: "no-answer" });
    await first;
    await clock.pass(2000);
    await late;
    expect(await link.read(1, READ)).toEqual({ ok: true, registers: [1, 2] });
    expect(clock.waiting).toBe(0);
    link.close();
  });

  it.each<[string, (request: Buffer) => Buffer]>([
    ["another unit", (request) => answer(request, 9, 3, 4, 0, 1, 0, 2)],
    ["another function", (request) => answer(request, 1, 4, 4, 0, 1, 0, 2)],
    ["too few registers", (request) => answer(request, 1, 3, 2, 0, 1)],
    ["a byte count that lies", (request) => answer(request, 1, 3, 9, 0, 1, 0, 2)],
    ["another protocol", () => Buffer.from("HTTP/1.1 400 Bad Request\r\n\r\n")],
    ["a length of zero", () => Buffer.alloc(12)],
  ])("gives the connection up when it gets %s", async (_, reply) => {
    const port = await serve((socket, request) => socket.write(reply(request)));
    const link = await open(port);
    await expect(link.read(1, READ)).rejects.toMatchObject({ kind: "unsound" });
    await expect(link.read(1, READ)).rejects.toMatchObject({ kind: "unsound" });
  });

  it("says that it was closed when the gateway resets", async () => {
    const port = await serve((socket) => socket.resetAndDestroy());
    const link = await open(port);
    await expect(link.read(1, READ)).rejects.toMatchObject({ kind: "closed" });
  });

  it("says that nobody listens", async () => {
    const port = await serve(() => undefined);
    await new Promise((resolve) => server!.close(resolve));
    await expect(open(port)).rejects.toMatchObject({ kind: "no-connection" });
  });

  it("settles every request, whatever bytes come back", async () => {
    let reply = Buffer.alloc(0);
    const port = await serve((socket, request) => {
      request.copy(reply, 0, 0, Math.min(2, reply.length));
      socket.end(reply);
    });
    const byte = fc.oneof(fc.constantFrom(0, 1, 3, 4, 5, 7, 0x83), fc.nat(255));
    await fc.assert(
      fc.asyncProperty(fc.array(byte, { maxLength: 300 }), async (bytes) => {
        reply = Buffer.from(bytes);
        const link = await open(port);
        const outcome = await link.read(1, READ).catch((error: unknown) => error);
        expect(outcome).toSatisfy(
          (one: { ok?: boolean; kind?: string }) => one.ok !== undefined || one.kind !== undefined,
        );
        link.close();
      }),
      { numRuns: 150 },
    );
  });
});

describe("frames", () => {
  it("are cut the same however the bytes are parted, and never read past their end", () => {
    const frame = fc.tuple(fc.nat(0xffff), fc.nat(255), fc.uint8Array({ minLength: 2, maxLength: 252 }));
    fc.assert(
      fc.property(fc.array(frame, { maxLength: 4 }), fc.nat(600), (frames, cut) => {
        const bytes = Buffer.concat(
          frames.map(([transaction, unit, body]) => {
            const head = Buffer.alloc(7);
            head.writeUInt16BE(transaction, 0);
            head.writeUInt16BE(body.length + 1, 4);
            head.writeUInt8(unit, 6);
            return Buffer.concat([head, body]);
          }),
        );
        const first = cutFrames(bytes.subarray(0, cut));
        const second = cutFrames(Buffer.concat([first.rest, bytes.subarray(cut)]));
        const found = [...first.frames, ...second.frames];
        expect(found.map(({ transaction, unit, body }) => [transaction, unit, [...body]])).toEqual(
          frames.map(([transaction, unit, body]) => [transaction, unit, [...body]]),
        );
        for (const one of found) answerOf(one, 1, READ);
      }),
    );
  });

  it("of a request hold its numbers", () => {
    expect([...requestFrame(0x0102, 247, { address: 0x0304, count: 125 })]).toEqual([
      1, 2, 0, 0, 0, 6, 247, 3, 3, 4, 0, 125,
    ]);
  });
});

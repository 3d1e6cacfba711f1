import { connect, type Socket } from "node:net";
import { MOST_REGISTERS, type RegisterAnswer, type RegisterRead } from "@earthbell/model";
import type { Clock } from "../../clock.ts";
import { answerOf, cutFrames, type Frame, requestFrame } from "./modbus-frame.ts";
import { type GatewayPlace, LinkFault, type OpenLink, type RegisterLink } from "./register-link.ts";

/**
 * Opens a Modbus TCP connection that can send function 03 only.
 *
 * Nothing is kept of an answered request, so that thousands of connections stay small over years.
 */
export const openModbusTcp: OpenLink = async (place, timeoutMs, clock) => {
  const socket = connect({ ...place, noDelay: true, keepAlive: true, keepAliveInitialDelay: 60_000 });
  const connected = new AbortController();
  const tooLate = clock.pause(timeoutMs, connected.signal);
  try {
    await new Promise<void>((resolve, reject) => {
      socket.once("connect", resolve);
      socket.once("error", (error) => {
        reject(new LinkFault("no-connection", connectText(place, error.message)));
      });
      void tooLate.then(() => {
        reject(new LinkFault("no-connection", connectText(place, "no answer in time")));
      });
    });
  } catch (error) {
    socket.on("error", () => undefined);
    socket.destroy();
    throw error;
  } finally {
    connected.abort();
  }
  return new ModbusTcpLink(socket, timeoutMs, clock);
};

function connectText({ host, port }: GatewayPlace, why: string): string {
  return `No connection to ${host}, port ${String(port)}: ${why}.`;
}

interface Request {
  readonly transaction: number;
  readonly unit: number;
  readonly read: RegisterRead;
  readonly resolve: (answer: RegisterAnswer) => void;
  readonly reject: (fault: LinkFault) => void;
  readonly answered: AbortController;
}

class ModbusTcpLink implements RegisterLink {
  private readonly socket: Socket;
  private readonly timeoutMs: number;
  private readonly clock: Clock;
  private transaction = 0;
  private waiting: Request | null = null;
  private rest: Buffer = Buffer.alloc(0);
  private closedBy: LinkFault | null = null;

  constructor(socket: Socket, timeoutMs: number, clock: Clock) {
    this.socket = socket;
    this.timeoutMs = timeoutMs;
    this.clock = clock;
    socket.removeAllListeners("error");
    socket.on("data", (bytes: Buffer) => {
      this.take(bytes);
    });
    socket.on("error", (error) => {
      this.end(new LinkFault("closed", `The connection broke: ${error.message}.`));
    });
    socket.on("close", () => {
      this.end(new LinkFault("closed", "The gateway closed the connection."));
    });
  }

  read(unit: number, read: RegisterRead): Promise<RegisterAnswer> {
    if (this.closedBy !== null) return Promise.reject(this.closedBy);
    if (this.waiting !== null) throw new Error("A request is under way on this connection.");
    if (read.count < 1 || read.count > MOST_REGISTERS)
      throw new Error(`No device serves ${read.count} registers.`);
    this.transaction = (this.transaction + 1) % 0x1_0000;
    const { transaction } = this;
    return new Promise((resolve, reject) => {
      const request = { transaction, unit, read, resolve, reject, answered: new AbortController() };
      this.waiting = request;
      void this.clock.pause(this.timeoutMs, request.answered.signal).then(() => {
        // A late answer is known by its transaction and passed over.
        this.settle(request, new LinkFault("no-answer", `Unit ${String(unit)} gave no answer in time.`));
      });
      this.socket.write(requestFrame(transaction, unit, read));
    });
  }

  close(): void {
    this.end(new LinkFault("closed", "The connection was closed."));
  }

  private take(bytes: Buffer): void {
    const { frames, rest, sound } = cutFrames(
      this.rest.length === 0 ? bytes : Buffer.concat([this.rest, bytes]),
    );
    this.rest = rest;
    for (const frame of frames) this.answer(frame);
    if (!sound) this.end(new LinkFault("unsound", "What comes back is not Modbus TCP."));
  }

  private answer(frame: Frame): void {
    const request = this.waiting;
    if (request?.transaction !== frame.transaction) return;
    const answer = answerOf(frame, request.unit, request.read);
    if (typeof answer === "string") this.end(new LinkFault("unsound", answer));
    else this.settle(request, answer);
  }

  private settle(request: Request, outcome: RegisterAnswer | LinkFault): void {
    if (this.waiting !== request) return;
    this.waiting = null;
    request.answered.abort();
    if (outcome instanceof LinkFault) request.reject(outcome);
    else request.resolve(outcome);
  }

  private end(fault: LinkFault): void {
    if (this.closedBy !== null) return;
    this.closedBy = fault;
    this.socket.destroy();
    if (this.waiting !== null) this.settle(this.waiting, fault);
  }
}

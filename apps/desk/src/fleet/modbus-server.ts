import { type AddressInfo, createServer, type Server, type Socket } from "node:net";
import type { DeviceAnswer } from "./simulated-device.ts";

/** Answers for one unit; undefined where no such unit exists. */
export type AnswerUnit = (unit: number, address: number, count: number) => DeviceAnswer | undefined;

const READ_HOLDING_REGISTERS = 3;
const ILLEGAL_FUNCTION = 1;
const ILLEGAL_VALUE = 3;
/** A gateway says so when the device behind it does not answer. */
const TARGET_SILENT = 11;
/** Header, function, address, count. */
const REQUEST = 12;

/** A Modbus TCP server that serves function 03 and refuses the rest, on a port that the system chooses unless one is given. */
export class ModbusServer {
  private readonly server: Server;
  private readonly sockets = new Set<Socket>();
  private readonly answer: AnswerUnit;

  constructor(answer: AnswerUnit) {
    this.answer = answer;
    this.server = createServer({ noDelay: true }, (socket) => {
      this.sockets.add(socket);
      let rest: Buffer = Buffer.alloc(0);
      socket.on("data", (bytes: Buffer) => {
        rest = this.take(socket, rest.length === 0 ? bytes : Buffer.concat([rest, bytes]));
      });
      socket.on("error", () => undefined);
      socket.on("close", () => this.sockets.delete(socket));
    });
  }

  async listen(host: string, port = 0): Promise<number> {
    await new Promise<void>((resolve, reject) => {
      this.server.once("error", reject);
      this.server.listen(port, host, resolve);
    });
    return (this.server.address() as AddressInfo).port;
  }

  /** Breaks every connection off, as a gateway does that is switched off and on. */
  reset(): void {
    for (const socket of this.sockets) socket.resetAndDestroy();
  }

  async close(): Promise<void> {
    this.reset();
    await new Promise((resolve) => this.server.close(resolve));
  }

  /** Answers every whole request; what is left waits for more. */
  private take(socket: Socket, bytes: Buffer): Buffer {
    let rest = bytes;
    while (rest.length >= REQUEST) {
      const end = 6 + rest.readUInt16BE(4);
      if (rest.length < end) break;
      this.respond(socket, rest.subarray(0, end));
      rest = rest.subarray(end);
    }
    return rest;
  }

  private respond(socket: Socket, request: Buffer): void {
    const unit = request.readUInt8(6);
    if (request.readUInt8(7) !== READ_HOLDING_REGISTERS || request.length !== REQUEST) {
      socket.write(exception(request, ILLEGAL_FUNCTION));
      return;
    }
    const [address, count] = [request.readUInt16BE(8), request.readUInt16BE(10)];
    if (count < 1 || count > 125) {
      socket.write(exception(request, ILLEGAL_VALUE));
      return;
    }
    const answer = this.answer(unit, address, count);
    if (answer === undefined) socket.write(exception(request, TARGET_SILENT));
    else if (answer.kind === "exception") socket.write(exception(request, answer.exception));
    else if (answer.kind === "registers") socket.write(registers(request, answer.words, answer.from, count));
    else if (answer.kind === "garbage") socket.write(Buffer.alloc(9, 0xaa));
  }
}

function exception(request: Buffer, code: number): Buffer {
  const frame = Buffer.alloc(9);
  request.copy(frame, 0, 0, 8);
  frame.writeUInt16BE(3, 4);
  frame.writeUInt8(request.readUInt8(7) | 0x80, 7);
  frame.writeUInt8(code, 8);
  return frame;
}

function registers(request: Buffer, words: Uint16Array, from: number, count: number): Buffer {
  const frame = Buffer.allocUnsafe(9 + 2 * count);
  request.copy(frame, 0, 0, 8);
  frame.writeUInt16BE(3 + 2 * count, 4);
  frame.writeUInt8(2 * count, 8);
  for (let at = 0; at < count; at++) frame.writeUInt16BE(words[from + at]!, 9 + 2 * at);
  return frame;
}

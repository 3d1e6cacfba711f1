import type { RegisterAnswer, RegisterRead } from "@earthbell/model";

/** Modbus over TCP: the header of 7 bytes and function 03 (Modbus messaging on TCP/IP V1.0b, application protocol V1.1b3) [published]. */
const HEADER = 7;
const READ_HOLDING_REGISTERS = 3;
const EXCEPTION = 0x80 | READ_HOLDING_REGISTERS;
/** Bytes after the length field in the longest answer: unit, function, byte count, 125 registers. */
const LONGEST = 3 + 250;

export function requestFrame(transaction: number, unit: number, { address, count }: RegisterRead): Buffer {
  const frame = Buffer.allocUnsafe(HEADER + 5);
  frame.writeUInt16BE(transaction, 0);
  frame.writeUInt16BE(0, 2);
  frame.writeUInt16BE(6, 4);
  frame.writeUInt8(unit, 6);
  frame.writeUInt8(READ_HOLDING_REGISTERS, 7);
  frame.writeUInt16BE(address, 8);
  frame.writeUInt16BE(count, 10);
  return frame;
}

export interface Frame {
  readonly transaction: number;
  readonly unit: number;
  /** From the function code on. */
  readonly body: Buffer;
}

/** Cuts whole frames from what has arrived; what is left waits for more. `sound` is false once the bytes are no frames. */
export function cutFrames(bytes: Buffer): {
  readonly frames: readonly Frame[];
  readonly rest: Buffer;
  readonly sound: boolean;
} {
  const frames: Frame[] = [];
  let rest = bytes;
  while (rest.length >= HEADER) {
    const length = rest.readUInt16BE(4);
    if (rest.readUInt16BE(2) !== 0 || length < 3 || length > LONGEST) return { frames, rest, sound: false };
    const end = 6 + length;
    if (rest.length < end) break;
    frames.push({
      transaction: rest.readUInt16BE(0),
      unit: rest.readUInt8(6),
      body: rest.subarray(HEADER, end),
    });
    rest = rest.subarray(end);
  }
  return { frames, rest, sound: true };
}

/** What a frame answers to a request; a text where it is no answer to it. */
export function answerOf(frame: Frame, unit: number, { count }: RegisterRead): RegisterAnswer | string {
  const { body } = frame;
  if (frame.unit !== unit) return `Unit ${String(frame.unit)} answers for unit ${String(unit)}.`;
  const code = body[0];
  if (code === EXCEPTION && body.length === 2) return { ok: false, exception: body[1]! };
  if (code !== READ_HOLDING_REGISTERS) return `Function ${String(code)} comes back for function 3.`;
  if (body[1] !== 2 * count || body.length !== 2 + 2 * count)
    return `${String(body.length - 2)} bytes come back for ${String(count)} registers.`;
  const registers = Array.from({ length: count }, (_, at) => body.readUInt16BE(2 + 2 * at));
  return { ok: true, registers };
}

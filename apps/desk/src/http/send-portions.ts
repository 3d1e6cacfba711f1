import type { FastifyReply, FastifyRequest } from "fastify";
import { Readable } from "node:stream";
import { createGzip, constants } from "node:zlib";

/**
 * Sends a long list as JSON a portion at a time: it is nowhere held whole, and the desk hears in between. Packed where the
 * asker can unpack.
 *
 * @throws whatever the first portion throws; a later fault ends the answer, which then is no JSON
 */
export async function sendPortions<Row>(
  request: FastifyRequest,
  reply: FastifyReply,
  portions: AsyncGenerator<readonly Row[]>,
): Promise<FastifyReply> {
  const first = await portions.next();
  const text = Readable.from(jsonOf(first.done === true ? [] : first.value, portions));
  reply.type("application/json; charset=utf-8").header("vary", "accept-encoding");
  if (!/\bgzip\b/u.test(request.headers["accept-encoding"] ?? "")) return reply.send(text);
  const packer = createGzip({ level: constants.Z_BEST_SPEED });
  text.on("error", (error) => packer.destroy(error));
  return reply.header("content-encoding", "gzip").send(text.pipe(packer));
}

async function* jsonOf<Row>(
  first: readonly Row[],
  rest: AsyncGenerator<readonly Row[]>,
): AsyncGenerator<string> {
  yield `[${piece(first)}`;
  let begun = first.length > 0;
  for await (const rows of rest) {
    if (rows.length === 0) continue;
    yield begun ? `,${piece(rows)}` : piece(rows);
    begun = true;
  }
  yield "]";
}

function piece(rows: readonly unknown[]): string {
  return JSON.stringify(rows).slice(1, -1);
}

import type { FastifyReply, FastifyRequest } from "fastify";
import * as z from "zod";
import type { Answer, Request } from "../watch/watch.ts";

/** A step that was taken, or was refused by the rules of the watch: nothing has changed then, and the text says what to do. */
export const stepAnswer = z.object({ text: z.string() });

/** 200 for a step that was taken, 409 with its code for one that the watch refused. */
export async function sendAnswer(reply: FastifyReply, answer: Answer): Promise<FastifyReply> {
  if (!answer.ok)
    return reply.status(409).send({ error: { code: answer.refusal.code, message: answer.refusal.text } });
  const { ok: _, ...said } = answer;
  return reply.send(said);
}

/** The idempotency key of a request, kept apart by who asks. */
export function requestOf(request: FastifyRequest, by: string): Request {
  const key = request.headers["idempotency-key"];
  return typeof key === "string" && key !== "" ? { requestKey: `${by}\n${request.url}\n${key}` } : {};
}

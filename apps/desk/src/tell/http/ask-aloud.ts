import type { Hear } from "../conversation.ts";
import { ask, type Question, type Reply } from "./ask.ts";
import type { Destination } from "./outward.ts";

/** Headers whose values may be shown; what others hold may be a secret. */
const SHOWN: readonly string[] = ["content-type", "earthbell-sent-at", "earthbell-message-key"];

/** One request as `ask` makes it, told to whoever hears. Neither query nor secrets are told, and of the reply only its status. */
export async function askAloud(
  destination: Destination,
  question: Question,
  signal: AbortSignal,
  hear: Hear | undefined,
): Promise<Reply> {
  const { url, addresses } = destination;
  hear?.({ by: "note", text: `${url.hostname} is ${addresses.join(", ")}.` });
  hear?.({ by: "desk", text: `${question.method} ${url.origin}${url.pathname}` });
  for (const [name, value] of Object.entries(question.headers))
    hear?.({
      by: "desk",
      text: `${name}: ${SHOWN.includes(name.toLowerCase()) ? value : "(sent, not shown)"}`,
    });
  hear?.({ by: "desk", text: `A body of ${Buffer.byteLength(question.body)} bytes` });
  const reply = await ask(destination, question, signal);
  hear?.({ by: "other-side", text: `Status ${reply.status}` });
  return reply;
}

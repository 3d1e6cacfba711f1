import type { Answer, Request } from "./watch.ts";
import type { Draft } from "./draft.ts";

/** Carries a request out once: the same key again gets the answer that was given, and changes nothing. */
export async function once<More>(
  { tx, now }: Draft,
  { requestKey }: Request,
  work: () => Promise<Answer<More>>,
): Promise<Answer<More>> {
  if (requestKey === undefined) return work();
  const done = await tx
    .selectFrom("done_request")
    .select("answer_json")
    .where("key", "=", requestKey)
    .executeTakeFirst();
  if (done !== undefined) return JSON.parse(done.answer_json) as Answer<More>;
  const answer = await work();
  await tx
    .insertInto("done_request")
    .values({ key: requestKey, answer_json: JSON.stringify(answer), at: now })
    .execute();
  return answer;
}

import {
  ADVICE_QUESTIONS,
  type AdviceAnswers,
  type AdviceQuestion,
  type QuestionId,
} from "@earthbell/engine";
import { ADVICE_FORMAT, readAdvice } from "@earthbell/model";
import type { Call } from "../command.ts";
import { eachLine } from "../input/lines.ts";
import { chunksOf } from "../input/source.ts";
import { withoutControls } from "../terminal/printable.ts";
import { readingText } from "../terminal/section.ts";
import { TYPED_FORMS } from "./typed-forms.ts";

/** Longest answer, in bytes. */
const LONGEST = 4096;
const COUNT = ADVICE_QUESTIONS.length;

interface Answer {
  readonly text: string;
  readonly field: unknown;
}

type Answers = Map<QuestionId, Answer>;

/**
 * Asks for the answers one after the other on standard error and reads them from standard input, so that the advice alone
 * is on standard output. Each can be changed until the end; the end of the input leaves the rest unknown.
 */
export async function askAnswers(call: Call): Promise<AdviceAnswers> {
  const answers: Answers = new Map();
  await call.complain(readingText(HOW, call.page));
  let at = 0;
  await put(call, answers, at);
  for await (const { bytes } of eachLine(chunksOf("-", call.world), { longest: LONGEST })) {
    const typed = bytes === null ? "" : withoutControls(new TextDecoder().decode(bytes)).trim();
    const next = await take(call, answers, at, typed);
    if (next === "done") break;
    at = next;
    await put(call, answers, at);
  }
  await call.world.err.write("\n");
  return readAll(answers);
}

const HOW = `${COUNT} questions. Enter leaves an answer as it is, or unknown; ? makes it unknown; # and a number goes to that question, to change it; done ends at once.`;

/** Puts the question at a place, or the summary after the last. */
async function put({ complain, page, world }: Call, answers: Answers, at: number): Promise<void> {
  const question = ADVICE_QUESTIONS[at];
  const lines = question === undefined ? summary(answers) : questionLines(question, at, answers);
  await complain(lines.flatMap((line) => (line === "" ? [""] : readingText(line, page))));
  await world.err.write("> ");
}

function questionLines(
  { id, asks, decides }: AdviceQuestion,
  at: number,
  answers: Answers,
): readonly string[] {
  const now = answers.get(id);
  return [
    "",
    `${at + 1} of ${COUNT}. ${asks}`,
    `It decides ${decides}.`,
    `Type ${TYPED_FORMS[id].form}.`,
    ...(now === undefined ? [] : [`Now: ${now.text}`]),
  ];
}

function summary(answers: Answers): readonly string[] {
  return [
    "",
    ...ADVICE_QUESTIONS.map(({ id }, at) => `${at + 1}. ${id}: ${answers.get(id)?.text ?? "unknown"}`),
    "Enter ends; # and a number changes that answer.",
  ];
}

/** Takes one line; gives the place of the question to put next. */
async function take(
  { complain, page }: Call,
  answers: Answers,
  at: number,
  typed: string,
): Promise<number | "done"> {
  const question = ADVICE_QUESTIONS[at];
  if (typed === "done" || (question === undefined && typed === "")) return "done";
  const asked = /^#\s*(\d+)$/u.exec(typed)?.[1];
  if (asked !== undefined && Number(asked) >= 1 && Number(asked) <= COUNT) return Number(asked) - 1;
  if (typed.startsWith("#") || question === undefined) {
    await complain(readingText(`Type # and a number from 1 to ${COUNT}.`, page));
    return at;
  }
  if (typed === "?") answers.delete(question.id);
  if (typed === "" || typed === "?") return at + 1;
  const field = TYPED_FORMS[question.id].field(typed);
  const faults = faultsOf(question.id, field);
  if (faults.length > 0) {
    await complain(faults.flatMap((line) => readingText(line, page)));
    return at;
  }
  answers.set(question.id, { text: typed, field });
  return at + 1;
}

function recordOf(fields: Readonly<Record<string, unknown>>): ReturnType<typeof readAdvice> {
  return readAdvice(JSON.stringify({ format: ADVICE_FORMAT, ...fields }), "answers");
}

/** What is wrong with one answer, in the words of the reader of files. */
function faultsOf(id: QuestionId, field: unknown): readonly string[] {
  const read = recordOf({ [id]: field });
  return read.ok
    ? []
    : read.faults.map(({ message, allowed, code }) => `${message} Allowed: ${allowed} (${code}).`);
}

/** Each answer was read by itself when it was taken, so all of them together are sound. */
function readAll(answers: Answers): AdviceAnswers {
  const read = recordOf(Object.fromEntries([...answers].map(([id, { field }]) => [id, field])));
  if (!read.ok) throw new Error(`answers that were accepted are refused: ${read.faults[0]?.message ?? ""}`);
  return read.record;
}

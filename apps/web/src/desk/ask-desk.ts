import { unreachedWords } from "./unreached.ts";

/** One field of what was sent that does not fit. */
interface FieldFault {
  readonly field: string;
  readonly message: string;
}

/** One fault of a file that was sent, as the reader of files tells it. */
export interface FileFault {
  readonly code: string;
  readonly file: string;
  readonly line: number | null;
  readonly field: string;
  readonly value: string | null;
  readonly allowed: string;
  readonly message: string;
}

/** What the desk said instead of an answer, or that it could not be reached. Its message is for people. */
export class DeskFault extends Error {
  override readonly name = "DeskFault";

  constructor(
    readonly code: string,
    message: string,
    readonly fields: readonly FieldFault[] = [],
    readonly faults: readonly FileFault[] = [],
  ) {
    super(message);
  }
}

/** What passes by itself: no way there, or a desk that is busy, stopping or full for a moment. */
const PASSES = /^(?:DESK_UNREACHABLE|REQUEST_TOO_MANY|REQUEST_NOT_STORED|HTTP_(?:429|5\d\d))$/u;

/** How long a page waits before it asks something again by itself. */
export const ASK_AGAIN_MS = 10_000;

/** Whether asking again a little later may well be answered. */
export function passes({ code }: DeskFault): boolean {
  return PASSES.test(code);
}

interface Refusal {
  readonly error?: {
    readonly code: string;
    readonly message: string;
    readonly fields?: readonly FieldFault[];
    readonly faults?: readonly FileFault[];
  };
}

const SIGN_IN_CODES = new Set(["REQUEST_TOKEN_MISSING", "REQUEST_TOKEN_UNKNOWN"]);
let whenLost: () => void = () => undefined;

/** Says what is done when the desk no longer knows this browser. */
export function onSessionLost(done: () => void): void {
  whenLost = done;
}

let journalNoted: (sequence: number) => void = () => undefined;

/** Says what is done with how far the desk's journal was before an answer was read. */
export function onJournal(noted: (sequence: number) => void): void {
  journalNoted = noted;
}

interface Ahead {
  readonly coming: Promise<Response>;
  /** Time on the page's own clock, in milliseconds. */
  readonly at: number;
}

/** Questions that were asked before the page that needs them was there. */
const asked = new Map<string, Ahead>();
/** What is told to a page that came later than this may have changed meanwhile. */
const FRESH_MS = 10_000;

/** Asks a question of which it is known that the page to come asks it; its first reader takes the answer. */
export function askAhead(path: string): void {
  // In a turn of its own: on a slow phone a few of them at once are felt.
  const coming = new Promise((turn) => setTimeout(turn)).then(() => request("GET", path));
  const ahead = { coming, at: performance.now() };
  asked.set(path, ahead);
  // Whoever waits for it hears of a fault; who comes later asks anew.
  coming.catch(() => {
    if (asked.get(path) === ahead) asked.delete(path);
  });
}

async function question(path: string): Promise<Response> {
  const ahead = asked.get(path);
  asked.delete(path);
  const fresh = ahead !== undefined && performance.now() - ahead.at < FRESH_MS;
  return await (fresh ? ahead.coming : request("GET", path));
}

async function request(method: string, path: string, body?: unknown): Promise<Response> {
  const raw = typeof body === "string" || body instanceof Blob;
  const headers: Record<string, string> = { accept: "application/json, text/yaml" };
  if (method !== "GET") {
    headers["x-earthbell-request"] = "1";
    // The same step sent twice, after a lost answer, is carried out once.
    headers["idempotency-key"] = crypto.randomUUID();
  }
  if (body !== undefined) headers["content-type"] = typeOf(body);
  const sent = body === undefined ? {} : { body: raw ? body : JSON.stringify(body) };
  let response: Response;
  try {
    response = await fetch(path, { method, headers, cache: "no-store", credentials: "same-origin", ...sent });
  } catch {
    throw new DeskFault("DESK_UNREACHABLE", unreachedWords(method, path, navigator.onLine));
  }
  if (response.ok) {
    const sequence = response.headers.get("earthbell-journal");
    if (sequence !== null) journalNoted(Number(sequence));
    return response;
  }
  throw await faultOf(response);
}

function typeOf(body: unknown): string {
  if (body instanceof Blob) return body.type === "" ? "application/octet-stream" : body.type;
  return typeof body === "string" ? "text/yaml" : "application/json";
}

async function faultOf(response: Response): Promise<DeskFault> {
  const said = (await response.json().catch(() => ({}))) as Refusal;
  const { code, message, fields, faults } = said.error ?? {
    code: `HTTP_${response.status}`,
    message: `The desk answered ${response.status} without a reason.`,
  };
  if (response.status === 401 && SIGN_IN_CODES.has(code)) whenLost();
  const wait = response.headers.get("retry-after");
  return new DeskFault(
    code,
    wait === null ? message : `${message} Wait ${wait} s.`,
    fields ?? [],
    faults ?? [],
  );
}

async function jsonOf<Answer>(response: Response): Promise<Answer> {
  if (!(response.headers.get("content-type") ?? "").includes("json"))
    throw new DeskFault("DESK_ABSENT", "No desk answers at this address.");
  return (await response.json()) as Answer;
}

/**
 * Reads something of the desk.
 *
 * @throws DeskFault with the desk's code and words
 */
export async function readDesk<Answer>(path: string): Promise<Answer> {
  return await jsonOf<Answer>(await question(path));
}

/** Reads a text of the desk, such as a site file. @throws DeskFault */
export async function readDeskText(path: string): Promise<string> {
  return await (await request("GET", path)).text();
}

/** Reads a picture of the desk. @throws DeskFault */
export async function readDeskPicture(path: string): Promise<Blob> {
  return await (await request("GET", path)).blob();
}

/** Asks the desk to do something. @throws DeskFault; nothing has changed then, unless it gave no answer */
export async function tellDesk<Answer = { readonly text: string }>(
  path: string,
  body?: unknown,
  method: "POST" | "PUT" | "DELETE" = "POST",
): Promise<Answer> {
  return await jsonOf<Answer>(await request(method, path, body));
}

import type * as z from "zod";
import type { FaultCode } from "../faults/catalogue.ts";
import type { Path } from "../yaml/reading.ts";
import { fieldName, type FieldFault } from "./field-fault.ts";
import { nearestName } from "./nearest-name.ts";
import type { Refusal } from "./refusal.ts";

type Issue = z.core.$ZodIssue;

/** One more unknown key of a map than a report lists, so that the report still says that there are more. */
const MOST_UNKNOWN = 1001;

/**
 * Turns what the schema library found into field faults. The library's messages are not used: the error text of each field
 * in `plain-fields.ts` says what it allows, and the code follows from the kind of issue and the value.
 */
export function fieldFaultsOf(issues: readonly Issue[], data: unknown): FieldFault[] {
  const seen = new Set<string>();
  // Where the type is wrong the library may check the length as well; the first issue of a place tells the slip.
  const first = issues.filter(
    (issue) => issue.code === "unrecognized_keys" || isNew(fieldName(issue.path as Path), seen),
  );
  return first.flatMap((issue) => faultsOf(issue, data));
}

function isNew(field: string, seen: Set<string>): boolean {
  return !seen.has(field) && seen.add(field).size > 0;
}

function faultsOf(issue: Issue, data: unknown): FieldFault[] {
  const path = issue.path as Path;
  if (issue.code === "unrecognized_keys")
    return issue.keys.slice(0, MOST_UNKNOWN).map((key) => unknownField(key, path, issue.message, data));
  const value = valueAt(data, path);
  if (issue.code === "invalid_key") return [unfitName(issue, path)];
  const refusal = issue.code === "custom" ? (issue.params?.refusal as Refusal | undefined) : undefined;
  if (refusal) return [{ path, part: "value", value, ...refusal }];
  const code = codeOf(issue, value);
  const part = code === "INPUT_FIELD_EMPTY" ? "key" : "value";
  return [
    { code, path, part, value, allowed: issue.message, message: messageOf(code, path, value, issue.message) },
  ];
}

function codeOf(issue: Issue, value: unknown): FaultCode {
  if (value === undefined) return "INPUT_FIELD_MISSING";
  if (value === null) return "INPUT_FIELD_EMPTY";
  if (issue.code === "invalid_value")
    return typeof value === "object" ? "INPUT_TYPE_WRONG" : "INPUT_CHOICE_UNKNOWN";
  if (issue.code === "invalid_union" && "discriminator" in issue) return "INPUT_CHOICE_UNKNOWN";
  // The other unions are quantities, which take every number but NaN and the infinities.
  if (issue.code === "invalid_union" && typeof value === "number") return "QUANTITY_NOT_A_NUMBER";
  if (issue.code === "invalid_format") return "INPUT_TEXT_INVALID";
  if (issue.code !== "too_small" && issue.code !== "too_big") return wrongNumber(issue, value);
  if (issue.origin === "array") return "INPUT_LIST_LENGTH_WRONG";
  return issue.origin === "string" ? "INPUT_TEXT_INVALID" : "INPUT_NUMBER_OUT_OF_RANGE";
}

/** A fraction where a whole number is wanted, NaN and Infinity are numbers that do not fit, not another type. */
function wrongNumber(issue: Issue, value: unknown): FaultCode {
  const numberWanted =
    issue.code === "invalid_type" && (issue.expected === "number" || issue.expected === "int");
  return numberWanted && typeof value === "number" ? "INPUT_NUMBER_OUT_OF_RANGE" : "INPUT_TYPE_WRONG";
}

function messageOf(code: FaultCode, path: Path, value: unknown, allowed: string): string {
  const step = path.at(-1);
  const name = typeof step === "string" ? step : step === undefined ? "The record" : "The entry";
  if (code === "INPUT_FIELD_MISSING") return `${name} is missing.`;
  if (code === "INPUT_FIELD_EMPTY") return `Nothing is written for ${name}.`;
  if (code === "QUANTITY_NOT_A_NUMBER") return `${name} is not a number that can be calculated with.`;
  if (code === "INPUT_TYPE_WRONG") return `${name} is ${kindOf(value)}, and ${allowed} is wanted here.`;
  if (code !== "INPUT_CHOICE_UNKNOWN") return `${name} must be ${allowed}.`;
  return `${name} must be one of ${allowed}.${suggestion(value, allowed.split(", "))}`;
}

function kindOf(value: unknown): string {
  if (Array.isArray(value)) return "a list";
  if (typeof value === "object") return "a map";
  return typeof value === "string" ? "text" : typeof value === "boolean" ? "true or false" : "a number";
}

/** A key that its writer chose, and that cannot be a name. */
function unfitName(issue: z.core.$ZodIssueInvalidKey, path: Path): FieldFault {
  const name = String(path.at(-1));
  const allowed = issue.issues[0]?.message ?? issue.message;
  return {
    code: "INPUT_TEXT_INVALID",
    path,
    part: "key",
    value: name,
    allowed,
    message: "The key cannot be a name.",
  };
}

function unknownField(key: string, parent: Path, names: string, data: unknown): FieldFault {
  const known = names.split(", ");
  const path = [...parent, key];
  const value = valueAt(data, path);
  const comma =
    /^\s*\d+\s*\S{0,6}$/u.test(key) && value === null
      ? " Is it the rest of a number with a decimal comma?"
      : "";
  const message = `${key} is not a field here.${comma || suggestion(key, known)}`;
  return { code: "INPUT_FIELD_UNKNOWN", path, part: "key", value, allowed: names, message };
}

function suggestion(written: unknown, known: readonly string[]): string {
  const nearest = typeof written === "string" ? nearestName(written, known) : undefined;
  return nearest === undefined ? "" : ` Is ${nearest} meant?`;
}

function valueAt(data: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (value, step) =>
      typeof value === "object" && value !== null && Object.hasOwn(value, step)
        ? (value as Record<string | number, unknown>)[step]
        : undefined,
    data,
  );
}

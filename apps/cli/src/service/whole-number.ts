import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call } from "../command.ts";

/** The whole number that an option gives, undefined where it is left out; null after its fault has been told. */
export async function wholeNumber(
  { arguments: given, complain, page }: Call,
  {
    option,
    least,
    most,
    command,
  }: { readonly option: string; readonly least: number; readonly most: number; readonly command: string },
): Promise<number | undefined | null> {
  const text = given.value(option);
  if (text === undefined) return undefined;
  const value = /^\d{1,9}$/u.test(text) ? Number(text) : NaN;
  if (value >= least && value <= most) return value;
  const fault: UsageFault = {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `--${option} ${text} is not a whole number from ${String(least)} to ${String(most)}.`,
    suggestions: [`--${option} ${String(least)}`],
    lead: "example",
  };
  await complain(usageText([fault], `earthbell help ${command}`, page));
  return null;
}

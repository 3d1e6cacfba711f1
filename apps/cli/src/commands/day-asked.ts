import { checkDate } from "../command-line/date.ts";
import type { Option } from "../command-line/option.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call } from "../command.ts";

/** The option with which a site is looked at as on another day. */
export const onOption: Option = {
  name: "on",
  value: "DATE",
  help: "judge for this day (today when left out)",
};

/** The day given with `--on`, or today; null after a wrong one has been told. */
export async function dayAsked(
  { arguments: given, complain, page, world }: Call,
  command: string,
): Promise<string | null> {
  const on = given.value(onOption.name);
  const fault = on === undefined ? null : checkDate("on", on);
  if (fault === null) return on ?? world.today();
  await complain(usageText([fault], `earthbell help ${command}`, page));
  return null;
}

import { type Drawing, svgText } from "@earthbell/engine";
import type { Option } from "../command-line/option.ts";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { writeWhole } from "../output/write-whole.ts";

/** The option that writes a drawing beside the page. */
export const svgOption = (what: string): Option => ({
  name: "svg",
  value: "FILE",
  help: `write ${what} as a drawing to this file as well`,
});

/**
 * Writes the drawing that `--svg` asks for, where there is exactly one.
 *
 * @param drawings  what could be drawn, and how to ask for one of them
 */
export async function writeDrawing(
  { arguments: given, complain, page }: Call,
  command: string,
  drawings: readonly { readonly drawing: Drawing | null; readonly askedBy: string }[],
): Promise<ExitStatus> {
  const file = given.value("svg");
  if (file === undefined) return exitStatus.made;
  const drawn = drawings.flatMap(({ drawing, askedBy }) => (drawing === null ? [] : [{ drawing, askedBy }]));
  const [only] = drawn;
  const fault =
    only !== undefined && drawn.length === 1
      ? await writeWhole(file, `${svgText(only.drawing)}\n`)
      : notOne(drawn.map(({ askedBy }) => askedBy));
  if (fault === null) return exitStatus.made;
  await complain(usageText([fault], `earthbell help ${command}`, page));
  return exitStatus.wrongInput;
}

function notOne(ways: readonly string[]): UsageFault {
  return {
    code: "COMMAND_DRAWING_NOT_ONE",
    message: `--svg writes one drawing, and there are ${ways.length} to draw.`,
    suggestions: ways,
    lead: "all",
  };
}

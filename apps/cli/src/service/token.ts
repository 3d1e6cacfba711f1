import type { Call, Command } from "../command.ts";
import { usageText } from "../command-line/usage-text.ts";
import { fileStatuses } from "../commands/statuses.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { paragraph } from "../terminal/section.ts";
import { dataOption, withFolderStore } from "./folder-store.ts";

export const token: Command = {
  name: "token",
  summary: "make a token for a person, or for a site that pushes its readings",
  operands: { shape: "", least: 0, most: 0, what: "" },
  options: [
    dataOption,
    {
      name: "person",
      value: "NAME",
      help: "a token in the name of this person, who answers for what is done with it",
    },
    { name: "site", value: "SITE", help: "a token by which this site pushes readings, and nothing else" },
  ],
  description: ["The token is printed once. The desk keeps its hash, from which it cannot be had again."],
  example: {
    line: 'earthbell token --data /srv/desk --person "Ann Lee"',
    shows: "The token, alone on a line.",
  },
  statuses: fileStatuses("the token was made"),
  run: makeToken,
};

async function makeToken(call: Call): Promise<ExitStatus> {
  const [person, site] = [call.arguments.value("person"), call.arguments.value("site")];
  const { complain, page, print } = call;
  if ((person === undefined) === (site === undefined) || person?.trim() === "") {
    const message = "Name who the token is for: --person NAME or --site SITE, one of the two.";
    const fault = {
      code: "COMMAND_VALUE_MISSING",
      message,
      suggestions: ["--person NAME"],
      lead: "example",
    } as const;
    await complain(usageText([fault], "earthbell help token", page));
    return exitStatus.wrongInput;
  }
  return withFolderStore(call, "token", async (store, { makePersonToken, makeSiteToken, machineClock }) => {
    const made = { by: "earthbell token", at: machineClock.now() };
    const text =
      person !== undefined
        ? await makePersonToken(store, person.trim(), made)
        : await makeSiteToken(store, site!, { ...made, label: "made on the command line" });
    if (text === null) {
      await complain(paragraph(`No site ${site!} is watched by this desk. Put its file in first.`, page));
      return exitStatus.wrongInput;
    }
    await print([text]);
    return exitStatus.made;
  });
}

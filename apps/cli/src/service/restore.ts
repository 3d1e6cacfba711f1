import type { Command } from "../command.ts";
import { fileStatuses } from "../commands/statuses.ts";
import { exitStatus } from "../exit-status.ts";
import { paragraph } from "../terminal/section.ts";
import { dataOption, folderAsked } from "./folder-store.ts";
import { withDesk } from "./service-fault.ts";

export const restore: Command = {
  name: "restore",
  summary: "lay a copy of a desk into an empty folder",
  operands: { shape: "FOLDER", least: 1, most: 1, what: "a copy made by earthbell backup" },
  options: [dataOption],
  description: [
    "The folder of --data must be empty or missing; the store of the copy is checked before anything else is laid into it. What happened since the copy was made is not in it: when the desk starts, it tells its keepers since when it may have missed something. To run it beside the original, delete desk.id first.",
  ],
  example: {
    line: "earthbell restore --data /srv/desk /backup/desk-2026-11-25",
    shows: "What lies where now.",
  },
  statuses: fileStatuses("the copy is a desk's folder now"),
  run: async (call) => {
    const path = await folderAsked(call, "restore");
    if (path === null) return exitStatus.wrongInput;
    return withDesk(call, async ({ storeFileIn, takeBack }) => {
      const { files } = await takeBack(call.arguments.operands[0]!, path, storeFileIn);
      const text = `The store and ${String(files)} other files lie in ${path} now.`;
      await call.print(paragraph(text, call.page));
      return exitStatus.made;
    });
  },
};

import type { Command } from "../command.ts";
import { fileStatuses } from "../commands/statuses.ts";
import { exitStatus } from "../exit-status.ts";
import { paragraph } from "../terminal/section.ts";
import { dataOption, folderAsked } from "./folder-store.ts";
import { withDesk } from "./service-fault.ts";

export const restore: Command = {
  name: "restore",
  summary: "put a copy in the place of a desk's store",
  operands: { shape: "FILE", least: 1, most: 1, what: "a copy made by earthbell backup" },
  options: [dataOption],
  description: [
    "The desk must not run. The copy is checked first; the store that was there is kept beside it. What happened since the copy was made is not in it: when the desk starts, it tells its keepers since when it may have missed something.",
  ],
  example: {
    line: "earthbell restore --data /srv/desk /backup/desk-2026-11-25.db",
    shows: "What lies where now.",
  },
  statuses: fileStatuses("the copy is the store now"),
  run: async (call) => {
    const path = await folderAsked(call, "restore");
    if (path === null) return exitStatus.wrongInput;
    return withDesk(call, async ({ deskFolder, lockFolder, machineClock, takeBack }) => {
      const folder = deskFolder(path);
      const lock = await lockFolder(folder.lockFile, process.pid);
      try {
        const aside = await takeBack(call.arguments.operands[0]!, folder.storeFile, machineClock.now());
        const kept = aside === null ? "" : ` The store that was there is now ${aside}.`;
        await call.print(paragraph(`The copy is the store of ${path} now.${kept}`, call.page));
        return exitStatus.made;
      } finally {
        await lock.release();
      }
    });
  },
};

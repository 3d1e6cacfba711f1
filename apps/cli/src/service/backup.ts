import type { Command } from "../command.ts";
import { fileStatuses } from "../commands/statuses.ts";
import { exitStatus } from "../exit-status.ts";
import { paragraph } from "../terminal/section.ts";
import { dataOption, withFolderStore } from "./folder-store.ts";

export const backup: Command = {
  name: "backup",
  summary: "copy the store of a desk into a file while it runs",
  operands: { shape: "FILE", least: 1, most: 1, what: "the file to write" },
  options: [dataOption],
  description: [
    "The copy is right as of one instant and is checked before it gets its name; an existing file is never written over. The settings, site files, secrets, photos and issued papers of the folder are plain files: copy them too, after the store, so that every photo and paper it knows of is there.",
    "For a store on PostgreSQL take the copy with pg_dump.",
  ],
  example: {
    line: "earthbell backup --data /srv/desk /backup/desk-2026-11-25.db",
    shows: "Where the copy lies.",
  },
  statuses: fileStatuses("the copy was made and is sound"),
  run: (call) =>
    withFolderStore(call, "backup", async (store, { copyOut }) => {
      const file = call.arguments.operands[0]!;
      await copyOut(store, file);
      await call.print(paragraph(`The store was copied to ${file}; the copy is sound.`, call.page));
      return exitStatus.made;
    }),
};

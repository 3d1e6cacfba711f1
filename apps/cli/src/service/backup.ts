import type { Command } from "../command.ts";
import { fileStatuses } from "../commands/statuses.ts";
import { exitStatus } from "../exit-status.ts";
import { paragraph } from "../terminal/section.ts";
import { dataOption, withFolderStore } from "./folder-store.ts";

export const backup: Command = {
  name: "backup",
  summary: "copy the folder of a desk while it runs",
  operands: { shape: "FOLDER", least: 1, most: 1, what: "the folder to make" },
  options: [dataOption],
  description: [
    "The copy holds everything that a desk needs: its store, right as of one instant and checked, settings, site files, rules, mappings, photos, papers, keys, and the secrets that lie in the folder, each with the mode it has. Keep it where only those may look who run the desk. A folder that exists is never written over.",
    "For a store on PostgreSQL take the copy with pg_dump, and copy the folder as files.",
  ],
  example: {
    line: "earthbell backup --data /srv/desk /backup/desk-2026-11-25",
    shows: "Where the copy lies, and of how many files.",
  },
  statuses: fileStatuses("the copy was made and is sound"),
  run: (call) =>
    withFolderStore(call, "backup", async (store, { copyOut }, { folder, place }) => {
      const to = call.arguments.operands[0]!;
      const storeFile = place.kind === "sqlite" ? place.file : folder;
      const { files } = await copyOut(store, { folder, storeFile }, to);
      const text = `The store, which is sound, and ${String(files)} other files were copied to ${to}.`;
      await call.print(paragraph(text, call.page));
      return exitStatus.made;
    }),
};

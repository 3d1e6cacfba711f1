import type { CodePage } from "../watch/refusal.ts";

/** Why a desk was not started from its folder, or a copy of it not made or taken back. */
export const folderCodes = {
  DESK_FOLDER_UNUSABLE: {
    title: "The desk's folder cannot be used",
    meaning: "The folder does not exist and cannot be made, or may not be written to.",
    next: "Check the path, and who owns it; the desk needs to read and write there.",
  },
  DESK_SETTINGS_MISSING: {
    title: "The folder holds no settings",
    meaning: "A desk is described by the file desk.yaml in its folder, and there is none.",
    next: "Write one; earthbell schema desk prints its schema, and the documentation has an example.",
  },
  DESK_SECRET_MISSING: {
    title: "A secret cannot be read",
    meaning: "The settings name a variable that is not set, or a file that cannot be read or is empty.",
    next: "Set the variable for the service, or put the secret into the file, readable by the desk alone.",
  },
  DESK_ALREADY_RUNNING: {
    title: "A desk already runs from this folder",
    meaning:
      "Two desks on one store would tell everybody twice, and a copy taken back under a running desk would be lost.",
    next: "Stop the one that runs, or name another folder. If the machine lost power the mark is left over; it is seen through by itself.",
  },
  DESK_DRIVER_MISSING: {
    title: "The database driver is not installed",
    meaning: "better-sqlite3 is native and is installed beside the program; on this machine it could not be.",
    next: "Install it with the compiler that its page asks for, or set database: {kind: postgresql}.",
  },
  DESK_PORT_TAKEN: {
    title: "The desk's port is not free",
    meaning: "Another program listens at the address, or the desk may not listen there.",
    next: "Stop the other program, or set another port under desk: listen, or with --port.",
  },
  DESK_COPY_UNSOUND: {
    title: "The copy holds no sound store",
    meaning: "The folder is no copy of a desk, its store is damaged, or a newer version wrote it.",
    next: "Take an older copy. Nothing was laid into the folder.",
  },
  DESK_COPY_EXISTS: {
    title: "The folder for the copy exists",
    meaning: "A copy never writes over what is there.",
    next: "Name another folder, one for each copy.",
  },
  DESK_COPY_INSIDE: {
    title: "The copy would lie inside what it is a copy of",
    meaning: "It would be part of the next copy, and be lost with the folder.",
    next: "Name a folder outside, best on another machine or disk.",
  },
  DESK_FOLDER_NOT_EMPTY: {
    title: "The folder is not empty",
    meaning: "A copy is taken back as a whole, and writes over nothing that is there.",
    next: "Name a folder that is empty or does not exist; rename the old one first, and keep it until the desk runs.",
  },
} as const satisfies Readonly<Record<string, CodePage>>;

export type FolderCode = keyof typeof folderCodes;

import type { CodePage } from "../watch/refusal.ts";

/** What the store of the desk says when it cannot do what was asked. */
export const storeCodes = {
  STORE_OPEN_FAILED: {
    title: "The store cannot be opened",
    meaning: "The database file or server could not be reached, or is not a store of this desk.",
    next: "Check the path or the address, who may read and write there, and that no other program holds it.",
  },
  STORE_VERSION_NEWER: {
    title: "The store was written by a newer desk",
    meaning: "It has tables that this version does not know, and writing to them could spoil it.",
    next: "Run the newer version, or restore the backup taken before the update.",
  },
  STORE_FULL: {
    title: "The disk of the store is full",
    meaning:
      "Nothing can be stored. What is pushed is refused, what the desk reads by itself is kept and offered again; nothing that was acknowledged is lost.",
    next: "Make room on that disk. The desk goes on by itself within seconds.",
  },
  STORE_READ_ONLY: {
    title: "The store can be read and not written",
    meaning:
      "The disk, the file or the database was set to read-only, often by the system after an error of the disk. What is pushed is refused until it can be stored.",
    next: "Look in the log of the system for the disk's error; mend the cause and make it writable. Restart the desk where the disk was taken off meanwhile.",
  },
  STORE_FAILING: {
    title: "The store cannot be written",
    meaning:
      "The disk gives errors, another program holds the database, or its server does not answer. What is pushed is refused until it can be stored.",
    next: "Look at the code in brackets and in the log of the system. Before mending anything, copy the store.",
  },
  STORE_BACKUP_EXISTS: {
    title: "There is a file already where the backup should go",
    meaning: "A backup never writes over a file, since that may be the only good copy.",
    next: "Name a file that does not exist.",
  },
  STORE_BACKUP_UNSOUND: {
    title: "The copy is not sound",
    meaning:
      "The backup was read again after it was written, and the check of the copy failed. It was removed.",
    next: "Check the disk on both sides, then the store itself, and take the backup again.",
  },
  STORE_BACKUP_ELSEWHERE: {
    title: "This store is not backed up by the desk",
    meaning: "A PostgreSQL database is copied by its own tools, which know its users and settings as well.",
    next: "Run pg_dump against the database, or have its server archive continuously.",
  },
} as const satisfies Readonly<Record<`STORE_${string}`, CodePage>>;

import type { Entry } from "./entry.ts";

const group = "files";

/** What can keep a file from being read at all. */
export const fileCodes = [
  {
    code: "FILE_PATH_NOT_FOUND",
    group,
    title: "There is no such file",
    meaning: "Nothing of this name is there, seen from the folder the command runs in.",
    next: "Check the spelling and the folder.",
  },
  {
    code: "FILE_PATH_IS_FOLDER",
    group,
    title: "This is a folder",
    meaning: "A file was asked for and the name is that of a folder.",
    next: "Name the files in it: `folder/*.yaml`.",
  },
  {
    code: "FILE_PATH_NOT_READABLE",
    group,
    title: "The file cannot be opened",
    meaning: "The system refuses to read it.",
    next: "Look at the file's permissions, or copy it to a place of your own.",
  },
  {
    code: "FILE_PATH_NOT_WRITABLE",
    group,
    title: "The file cannot be written",
    meaning: "The system refuses to write it, or its folder is not there.",
    next: "Name a file in a folder that exists and in which you may write, on a disk with room.",
  },
  {
    code: "FILE_FOLDER_UNUSABLE",
    group,
    title: "The folder cannot be used",
    meaning: "Files were to be kept in it, and the system refuses to make it, or to write or read in it.",
    next: "Name a folder of your own, or one on a disk with room; or look at who may write there.",
  },
] as const satisfies readonly Entry[];

export type FileCode = (typeof fileCodes)[number]["code"];

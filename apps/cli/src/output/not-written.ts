/** What the commonest refusals of a system mean, for somebody who has never seen their codes, and what to do. */
const WHY: Readonly<Record<string, readonly [why: string, next: string]>> = {
  ENOENT: ["its folder is not there", "Make the folder, or name one that exists."],
  ENOTDIR: ["its folder is not there", "Make the folder, or name one that exists."],
  EISDIR: ["it is a folder", "Name a file in it."],
  EACCES: ["the system does not permit it", "Name a folder of your own, or look at who may write there."],
  EPERM: ["the system does not permit it", "Name a folder of your own, or look at who may write there."],
  EROFS: ["the disk can only be read", "Name a folder on another disk."],
  ENOSPC: ["the disk is full", "Make room, or name a folder on another disk."],
  EDQUOT: ["the disk is full", "Make room, or name a folder on another disk."],
  EIO: ["the disk does not answer as it should", "Name a folder on another disk."],
  ENAMETOOLONG: ["its name is too long", "Choose a shorter name."],
};

/** Why the system did not write, in words, and what to do about it. */
export function notWritten(systemCode: string): { readonly why: string; readonly next: string } {
  const [why, next] = WHY[systemCode] ?? [systemCode, "Name another folder."];
  return { why, next };
}

/** The code of a refusal of the system; null for any other error. */
export function systemCodeOf(error: unknown): string | null {
  return error instanceof Error && "syscall" in error && "code" in error ? String(error.code) : null;
}

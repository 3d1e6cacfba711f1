/** What the shell is told when the command ends. */
export const exitStatus = {
  /** A finding or an assessment was made, whatever it says. */
  made: 0,
  /** A fault of this program or of the machine under it. */
  bug: 1,
  /** The file or the command line is wrong; the message says where and what is expected. */
  wrongInput: 2,
} as const;

export type ExitStatus = (typeof exitStatus)[keyof typeof exitStatus];

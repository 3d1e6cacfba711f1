import type { Command } from "../command.ts";

/** Exit statuses of a command that works on files. */
export function fileStatuses(made: string): Command["statuses"] {
  return [
    { status: 0, when: made },
    { status: 2, when: "a file or the command line is wrong; the message says where and what is expected" },
    { status: 1, when: "a bug of this program, or the output could not be written" },
  ];
}

/** Exit statuses of a command that only tells. */
export const tellingStatuses: Command["statuses"] = [
  { status: 0, when: "told" },
  { status: 2, when: "the command line is wrong; the message says what is known" },
  { status: 1, when: "a bug of this program, or the output could not be written" },
];

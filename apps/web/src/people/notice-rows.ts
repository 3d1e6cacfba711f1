import type { NoticeAnswer } from "@earthbell/engine";

/** The time to notice is followed for so long. */
export const MOST_DAYS = 28;

interface NoticeRow {
  readonly paths: string;
  readonly was: NoticeAnswer;
  readonly is: NoticeAnswer;
}

/** All paths together first, then each path alone whose figures the change moves. */
export function rowsOfNotice(
  before: readonly NoticeAnswer[],
  after: readonly NoticeAnswer[],
): readonly NoticeRow[] {
  const rows = after.flatMap((is): NoticeRow[] => {
    const paths = is.channels.join(", ");
    const was = before.find(({ channels }) => channels.join(", ") === paths);
    return was === undefined ? [] : [{ paths, was, is }];
  });
  const together = rows.slice(-1);
  return [...together, ...rows.slice(0, -1).filter(({ was, is }) => was.meanHours !== is.meanHours)];
}

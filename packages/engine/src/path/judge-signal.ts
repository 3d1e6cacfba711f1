import type { Path } from "../assess/site.ts";
import { judgeAnnunciator } from "./annunciator.ts";
import type { PathContext } from "./context.ts";
import { judgeIndicator } from "./indicator.ts";
import type { Remark } from "./judgement.ts";
import { judgeMessage } from "./message.ts";
import { judgeOwnerTold } from "./owner-told.ts";

/** What there is to say about the signal of a path and the people it is meant for. */
export function judgeSignal(path: Path, context: PathContext): readonly Remark[] {
  switch (path.signal) {
    case "message":
      return judgeMessage(path, context);
    case "annunciator":
      return [...judgeAnnunciator(path, context), ...judgeOwnerTold(path, context)];
    case "indicator":
      return [...judgeIndicator(path, context), ...judgeOwnerTold(path, context)];
  }
}

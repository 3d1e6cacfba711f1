import { useState } from "react";
import { announce } from "../page/announce.tsx";
import { DeskFault } from "./ask-desk.ts";

export interface Stepping {
  readonly busy: boolean;
  readonly fault: DeskFault | null;
  /** What the desk said of the last step that was taken. */
  readonly said: string | null;
  readonly take: (work: () => Promise<string | null>, after?: () => void) => void;
}

/** One step at a time; what the desk says of it stays on the page and is read aloud. */
export function useStep(): Stepping {
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState<DeskFault | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  const take: Stepping["take"] = (work, after) => {
    setBusy(true);
    setFault(null);
    setSaid(null);
    work()
      .then((text) => {
        setSaid(text);
        if (text !== null) announce(text);
        after?.();
      })
      .catch((error: unknown) => {
        const words = error instanceof Error ? error.message : String(error);
        setFault(error instanceof DeskFault ? error : new DeskFault("PAGE_FAULT", words));
      })
      .finally(() => {
        setBusy(false);
      });
  };
  return { busy, fault, said, take };
}

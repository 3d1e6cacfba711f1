import type { Site } from "@earthbell/engine";
import { useEffect, useReducer, useState } from "react";
import { DeskFault, passes, readDesk } from "./ask-desk.ts";
import { siteRecordPath } from "./questions.ts";
import { useAgain } from "./use-again.ts";

/** The site as the desk has read it, so that nothing has to be read again here; undefined until it has answered. */
export function useSiteFile(id: string | null): {
  readonly site: Site | undefined;
  readonly fault: DeskFault | null;
} {
  const [site, setSite] = useState<Site>();
  const [fault, setFault] = useState<DeskFault | null>(null);
  const [round, again] = useReducer((count: number) => count + 1, 0);
  useAgain(again, fault !== null && passes(fault));
  useEffect(() => {
    if (id === null) return;
    let gone = false;
    readDesk<Site>(siteRecordPath(id)).then(
      (record) => {
        if (gone) return;
        setSite(record);
        setFault(null);
      },
      (error: unknown) => {
        if (!gone) setFault(error instanceof DeskFault ? error : new DeskFault("PAGE_FAULT", String(error)));
      },
    );
    return () => {
      gone = true;
    };
  }, [id, round]);
  return { site, fault };
}

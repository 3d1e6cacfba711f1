import type { Site } from "@earthbell/engine";
import { useEffect, useState } from "react";
import { DeskFault, readDesk } from "./ask-desk.ts";
import { siteRecordPath } from "./questions.ts";

/** The site as the desk has read it, so that nothing has to be read again here; undefined until it has answered. */
export function useSiteFile(id: string | null): {
  readonly site: Site | undefined;
  readonly fault: DeskFault | null;
} {
  const [site, setSite] = useState<Site>();
  const [fault, setFault] = useState<DeskFault | null>(null);
  useEffect(() => {
    if (id === null) return;
    let gone = false;
    readDesk<Site>(siteRecordPath(id)).then(
      (record) => {
        if (!gone) setSite(record);
      },
      (error: unknown) => {
        if (!gone) setFault(error instanceof DeskFault ? error : new DeskFault("PAGE_FAULT", String(error)));
      },
    );
    return () => {
      gone = true;
    };
  }, [id]);
  return { site, fault };
}

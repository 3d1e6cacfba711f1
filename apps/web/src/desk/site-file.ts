import type { Site } from "@earthbell/engine";
import { useEffect, useState } from "react";
import { ask } from "../engine/ask.ts";
import type { Desk } from "../keep/desk.ts";
import { DeskFault, readDesk, readDeskText } from "./ask-desk.ts";
import { siteRecordPath } from "./questions.ts";

interface SiteFile {
  readonly text: string;
  readonly site: Site;
}

/** The file of a site as the desk has it, read by this app's own reader. @throws DeskFault */
async function siteFile(id: string): Promise<SiteFile> {
  const text = await readDeskText(`/api/sites/${encodeURIComponent(id)}`);
  const read = await ask("readSite", text, `${id}.yaml`);
  if (!read.ok) {
    const words = read.faults.map(({ message }) => message).join(" ");
    throw new DeskFault(read.faults[0]?.code ?? "PAGE_FAULT", words);
  }
  return { text, site: read.record };
}

/** Takes the desk's file of a site onto this device, so that its pages and a visit there work without signal. @throws DeskFault */
export async function takeSite(desk: Desk, id: string): Promise<void> {
  const { text, site } = await siteFile(id);
  const file = `${id}.yaml, from the desk`;
  await desk.sites.keep({ id, name: site.name ?? id, file, text, site, opened: new Date().toISOString() });
}

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

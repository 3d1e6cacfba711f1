import { useEffect, useRef, useState } from "react";
import type { KeptVisit } from "../keep/kept.ts";
import { mergeKept } from "../keep/kept-entries.ts";
import { useDesk } from "../keep/use-desk.ts";
import { recordNotes } from "./change-visit.ts";

export type ChangeVisit = (change: (kept: KeptVisit) => KeptVisit) => void;

/** `lost`: neither this device nor the desk has such a visit. `saved`: the last change is in the database. */
export interface OpenVisit {
  readonly kept: KeptVisit | null;
  readonly lost: boolean;
  readonly saved: boolean;
  readonly refused: string | null;
  readonly change: ChangeVisit;
}

/** Counts what is entered in this open page, apart from every other page and device. */
const WRITER = crypto.randomUUID();

/**
 * A kept visit and the way to change it: every change is written before anything else happens to it, and what others enter
 * comes in beside it.
 */
export function useVisit(id: string): OpenVisit {
  const desk = useDesk();
  const [kept, setKept] = useState<KeptVisit | null>(null);
  const [lost, setLost] = useState(false);
  const [unsaved, setUnsaved] = useState(0);
  const [refused, setRefused] = useState<string | null>(null);
  const latest = useRef<KeptVisit | null>(null);
  const change: ChangeVisit = (how) => {
    if (latest.current === null) return;
    const changed = { ...how(latest.current), changed: new Date().toISOString() };
    latest.current = changed;
    setKept(changed);
    setUnsaved((count) => count + 1);
    void desk.visits
      .keep(changed)
      .then(() => null, words)
      .then((why) => {
        setUnsaved((count) => count - 1);
        setRefused(why);
      });
  };
  useEffect(() => {
    let gone = false;
    const show = (found: KeptVisit | null): void => {
      if (gone) return;
      if (found === null) setLost(latest.current === null);
      else latest.current = withNews(latest.current, found);
      setKept(latest.current);
    };
    const opening = desk.visits.one(id).then((found) => {
      show(found);
      // Notes that were being written when the page was closed or killed.
      if (!gone && found !== null && found.draftNotes !== null)
        change((now) => recordNotes(now, new Date().toISOString()));
    });
    const stop = desk.watch(() => {
      void opening.then(async () => {
        const stored = await desk.visits.here(id);
        if (stored !== null) show(stored);
      });
    });
    return () => {
      gone = true;
      latest.current = null;
      stop();
    };
    // `change` is written anew in every rendering and always does the same.
  }, [desk, id]);
  return { kept, lost, saved: unsaved === 0, refused, change };
}

/** What is open with what was entered elsewhere or confirmed by the desk; the same object where there is nothing new. */
function withNews(open: KeptVisit | null, stored: KeptVisit): KeptVisit {
  if (open?.id !== stored.id) return { ...stored, writer: WRITER };
  const merged = mergeKept(open, stored);
  const taken = ({ entries }: KeptVisit): number => entries.filter(({ by }) => by !== null).length;
  const news =
    merged.entries.length !== open.entries.length ||
    taken(merged) !== taken(open) ||
    merged.known !== open.known ||
    merged.photosAtDesk.length !== open.photosAtDesk.length;
  return news ? merged : open;
}

function words(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

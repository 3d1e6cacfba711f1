import { useEffect, useRef, useState } from "react";
import type { KeptVisit } from "../keep/kept.ts";
import { useDesk } from "../keep/use-desk.ts";

export type ChangeVisit = (change: (kept: KeptVisit) => KeptVisit) => void;

/** `lost`: this device has no such visit. `saved`: the last change is in the database. */
export interface OpenVisit {
  readonly kept: KeptVisit | null;
  readonly lost: boolean;
  readonly saved: boolean;
  readonly refused: string | null;
  readonly change: ChangeVisit;
}

/** A kept visit and the way to change it: every change is written before anything else happens to it. */
export function useVisit(id: string): OpenVisit {
  const desk = useDesk();
  const [kept, setKept] = useState<KeptVisit | null>(null);
  const [lost, setLost] = useState(false);
  const [unsaved, setUnsaved] = useState(0);
  const [refused, setRefused] = useState<string | null>(null);
  const latest = useRef<KeptVisit | null>(null);
  useEffect(() => {
    void desk.visits.one(id).then((found) => {
      latest.current = found;
      setKept(found);
      setLost(found === null);
    });
  }, [desk, id]);
  const change: ChangeVisit = (how) => {
    if (latest.current === null) return;
    const changed = { ...how(latest.current), changed: new Date().toISOString() };
    latest.current = changed;
    setKept(changed);
    setUnsaved((count) => count + 1);
    desk.visits.keep(changed).then(
      () => {
        setUnsaved((count) => count - 1);
      },
      (error: unknown) => {
        setUnsaved((count) => count - 1);
        setRefused(error instanceof Error ? error.message : String(error));
      },
    );
  };
  return { kept, lost, saved: unsaved === 0, refused, change };
}

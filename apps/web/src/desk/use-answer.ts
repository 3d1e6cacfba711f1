import { startTransition, useCallback, useEffect, useRef, useState } from "react";
import { DeskFault, passes, readDesk } from "./ask-desk.ts";
import { type HappeningKind, hear, onHeardAgain } from "./live.ts";

export interface Answered<Value> {
  readonly value: Value | undefined;
  readonly fault: DeskFault | null;
  readonly again: () => void;
}

/** A burst of happenings is one question. */
const GATHER_MS = 300;
/** A desk with much to say is left alone for so many times as long as its last answer took. */
const REST_SHARE = 4;
const MOST_REST_MS = 5000;
/** A question that failed for a reason that passes is asked again by itself. */
const AFTER_FAULT_MS = 10_000;

interface Asking<Value> extends Answered<Value> {
  readonly forget: () => void;
  /** How long the last answer took. */
  readonly tookMs: () => number;
}

/** One question at a time: of several answers under way the newest question's counts. */
function useAsking<Value>(path: string | null): Asking<Value> {
  const [value, setValue] = useState<{ readonly path: string; readonly value: Value }>();
  const [fault, setFault] = useState<DeskFault | null>(null);
  const round = useRef(0);
  const tookMs = useRef(0);
  const later = useRef<ReturnType<typeof setTimeout>>(undefined);
  const forget = useCallback((): number => {
    clearTimeout(later.current);
    return ++round.current;
  }, []);
  const again = useCallback((): void => {
    if (path === null) return;
    const mine = forget();
    const asked = performance.now();
    readDesk<Value>(path).then(
      (answer) => {
        if (mine !== round.current) return;
        tookMs.current = performance.now() - asked;
        // Drawn in slices: who types meanwhile is heard first.
        startTransition(() => {
          setValue({ path, value: answer });
          setFault(null);
        });
      },
      (error: unknown) => {
        if (mine !== round.current) return;
        const failed = asFault(error);
        setFault(failed);
        if (passes(failed)) later.current = setTimeout(again, AFTER_FAULT_MS);
      },
    );
  }, [forget, path]);
  return {
    ...{ value: value?.path === path ? value.value : undefined, fault, again, forget },
    tookMs: () => tookMs.current,
  };
}

/**
 * What the desk answers at a path, asked again whenever something of these kinds happens, and after a fault that passes.
 *
 * @param path  null asks nothing
 */
export function useAnswer<Value>(path: string | null, on: readonly HappeningKind[]): Answered<Value> {
  const { value, fault, again, forget, tookMs } = useAsking<Value>(path);
  const kinds = on.join(" ");
  useEffect(() => {
    // Where nothing is asked, there may be no desk to hear from.
    if (path === null) return undefined;
    // In a turn of its own: a slow phone takes as long to put a question as to draw a part of the page.
    const first = setTimeout(again);
    let timer: ReturnType<typeof setTimeout> | null = null;
    const stop = hear(({ kind }) => {
      if (timer !== null || !kinds.split(" ").includes(kind)) return;
      const restMs = Math.max(GATHER_MS, Math.min(MOST_REST_MS, REST_SHARE * tookMs()));
      timer = setTimeout(() => {
        timer = null;
        again();
      }, restMs);
    });
    // What happened without signal was not heard.
    window.addEventListener("online", again);
    const stopWaiting = onHeardAgain(again);
    return () => {
      window.removeEventListener("online", again);
      stopWaiting();
      forget();
      clearTimeout(first);
      if (timer !== null) clearTimeout(timer);
      stop();
    };
    // `tookMs` is written anew in every rendering and always does the same.
  }, [again, forget, kinds, path]);
  return { value, fault, again };
}

function asFault(error: unknown): DeskFault {
  if (error instanceof DeskFault) return error;
  return new DeskFault("PAGE_FAULT", error instanceof Error ? error.message : String(error));
}

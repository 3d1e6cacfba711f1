import { startTransition, useCallback, useEffect, useRef, useState } from "react";
import { DeskFault, passes, readDesk } from "./ask-desk.ts";
import { type HappeningKind, hear, onHeardAgain } from "./live.ts";
import { useAgain } from "./use-again.ts";

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

/**
 * What the desk answers at a path, asked again whenever something of these kinds happens, and after a fault that passes.
 *
 * @param path  null asks nothing
 */
export function useAnswer<Value>(path: string | null, on: readonly HappeningKind[]): Answered<Value> {
  const [value, setValue] = useState<{ readonly path: string; readonly value: Value }>();
  const [fault, setFault] = useState<DeskFault | null>(null);
  const round = useRef(0);
  const tookMs = useRef(0);
  const again = useCallback((): void => {
    if (path === null) return;
    const mine = ++round.current;
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
        if (mine === round.current) setFault(asFault(error));
      },
    );
  }, [path]);
  useAgain(again, fault !== null && passes(fault));
  const kinds = on.join(" ");
  useEffect(() => {
    // Where nothing is asked, there may be no desk to hear from.
    if (path === null) return undefined;
    // In a turn of its own: a slow phone takes as long to put a question as to draw a part of the page.
    const first = setTimeout(again);
    let timer: ReturnType<typeof setTimeout> | null = null;
    const stop = hear(({ kind }) => {
      if (timer !== null || !kinds.split(" ").includes(kind)) return;
      const restMs = Math.max(GATHER_MS, Math.min(MOST_REST_MS, REST_SHARE * tookMs.current));
      timer = setTimeout(() => {
        timer = null;
        again();
      }, restMs);
    });
    // With signal again it is asked at once, and need not wait until the desk is heard.
    window.addEventListener("online", again);
    const stopWaiting = onHeardAgain(again);
    return () => {
      window.removeEventListener("online", again);
      stopWaiting();
      round.current += 1;
      clearTimeout(first);
      if (timer !== null) clearTimeout(timer);
      stop();
    };
  }, [again, kinds, path]);
  return { value: value?.path === path ? value.value : undefined, fault, again };
}

function asFault(error: unknown): DeskFault {
  if (error instanceof DeskFault) return error;
  return new DeskFault("PAGE_FAULT", error instanceof Error ? error.message : String(error));
}

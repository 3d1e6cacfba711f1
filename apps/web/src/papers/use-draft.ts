import { useEffect, useRef, useState } from "react";
import { DeskFault, type FileFault, tellDesk } from "../desk/ask-desk.ts";
import { type Stepping, useStep } from "../desk/use-step.ts";
import type { Drafted } from "./paper-records.ts";

/** A draft is made once the fields have been left alone for so long. */
const STILL_MS = 500;

export type Looks = "at-once" | "when-chosen" | "when-asked";

export interface Drafting {
  readonly step: Stepping;
  /** The newest draft that was made; null: none yet. */
  readonly drafted: Drafted | null;
  /** It is of what is asked now, and not of before the last change. */
  readonly current: boolean;
  /** Whether a draft follows what is chosen without being asked for. */
  readonly follows: boolean;
  readonly look: () => void;
}

/**
 * The draft of a paper, made again after what is asked has changed. One is made at a time: whatever changes meanwhile is asked for
 * afterwards, once.
 *
 * @param key      what the desk is asked, as text; "null" while something is missing
 * @param refused  told which faults the desk found in the files, none where it made a draft
 */
export function useDraft(
  key: string,
  looks: Looks,
  refused?: (faults: readonly FileFault[]) => void,
): Drafting {
  const step = useStep();
  const [draft, setDraft] = useState<{ readonly of: string; readonly drafted: Drafted } | null>(null);
  const [first] = useState(key);
  const asked = useRef<string | null>(null);
  const look = (): void => {
    asked.current = key;
    step.take(async () => {
      const drafted = await tellingFaults(
        tellDesk<Drafted>("/api/papers/drafts", JSON.parse(key) as unknown),
        refused,
      );
      setDraft({ of: key, drafted });
      return draftWords(drafted);
    });
  };
  const follows = looks === "at-once" || (looks === "when-chosen" && (key !== first || draft !== null));
  useEffect(() => {
    if (!follows || step.busy || key === "null" || asked.current === key) return;
    const timer = setTimeout(look, STILL_MS);
    return () => {
      clearTimeout(timer);
    };
    // `look` is written anew in every rendering and asks for what `key` says.
  }, [key, follows, step.busy]);
  return { step, drafted: draft?.drafted ?? null, current: draft?.of === key, follows, look };
}

/** What the desk answers; the faults that it finds in files are told on the way. */
export async function tellingFaults<Answer>(
  answer: Promise<Answer>,
  refused: ((faults: readonly FileFault[]) => void) | undefined,
): Promise<Answer> {
  try {
    const given = await answer;
    refused?.([]);
    return given;
  } catch (error) {
    refused?.(error instanceof DeskFault ? error.faults : []);
    throw error;
  }
}

function draftWords({ number, revision, again, changed }: Drafted): string {
  if (again) return `Nothing has changed since revision ${revision} of ${number}.`;
  if (revision === 1) return `It would be the first issue of ${number}.`;
  return `It would be revision ${revision} of ${number}; ${changed === 1 ? "one thing" : `${changed} things`} changed.`;
}

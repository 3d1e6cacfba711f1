import type { Finding } from "@earthbell/engine";
import { type RefObject, useEffect, useRef, useState } from "react";
import type { Answer } from "../engine/use-answer.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { holdUntilTouched } from "./held-on-screen.ts";

/** Where the page goes when a step is done, and how it is told of it. */
export interface AfterStep {
  /** Around what the readings say. */
  readonly said: RefObject<HTMLDivElement | null>;
  /** Names the next step. */
  readonly heading: RefObject<HTMLHeadingElement | null>;
  /** The step is done and the next one not yet known: the last finding asks for what is done already. */
  readonly unknown: boolean;
  /** Called with the last reading of a step, before it is recorded. */
  readonly done: () => void;
  /** Called where that reading did not come after all: the step stands as before. */
  readonly undone: () => void;
}

/** The heading of the next step stands no further down the screen than this, so that what follows it is seen [design choice]. */
const LOWEST = 0.75;

/**
 * After the last reading of a step: what the readings say and the next step are brought on the screen as soon as they are
 * calculated, from above, so that nobody meets a button before the cautions over it.
 */
export function useAfterStep(step: KeptVisit["step"] | undefined, answer: Answer<Finding>): AfterStep {
  const { value: finding, underWay, failed } = answer;
  const said = useRef<HTMLDivElement>(null);
  const heading = useRef<HTMLHeadingElement>(null);
  const leave = useRef<() => void>(() => undefined);
  const [left, setLeft] = useState<Finding | null | undefined>(undefined);
  const calculated = failed !== null || (finding !== left && !underWay);
  const unknown = left !== undefined && step === null && !calculated;
  useEffect(() => {
    if (!unknown) return;
    leave.current();
    leave.current = holdUntilTouched(() => {
      bring(said.current, heading.current);
    });
  }, [unknown]);
  useEffect(() => {
    if (left === undefined || !calculated) return;
    setLeft(undefined);
    // The field that had the focus is gone. Where the person has put it elsewhere meanwhile, it stays.
    if (step === null && document.activeElement === document.body)
      heading.current?.focus({ preventScroll: true });
  }, [left, calculated, step]);
  useEffect(
    () => () => {
      leave.current();
    },
    [],
  );
  const done = (): void => {
    setLeft(finding);
  };
  const undone = (): void => {
    setLeft(undefined);
  };
  return { said, heading, unknown, done, undone };
}

/** What the readings say at the top and the next step under it; where there is no room for both, the next step at the top. */
function bring(said: HTMLElement | null, heading: HTMLElement | null): void {
  said?.scrollIntoView();
  if (heading === null) return;
  if (said === null || heading.getBoundingClientRect().bottom > LOWEST * window.innerHeight)
    heading.scrollIntoView();
}

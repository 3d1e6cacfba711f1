import type { ReactNode } from "react";
import type { Answer } from "../engine/use-answer.ts";

interface AwaitedProps<Value> {
  readonly answer: Answer<Value>;
  readonly children: (value: Value) => ReactNode;
}

/** Shows an answer once it is there; until then, or where it failed, says so. */
export function Awaited<Value>({ answer: { value, failed }, children }: AwaitedProps<Value>) {
  if (failed !== null)
    return (
      <p className="wrong" role="alert">
        This could not be calculated: {failed}
      </p>
    );
  if (value === null) return <p className="soft">Calculating…</p>;
  return <>{children(value)}</>;
}

import type { ReactNode } from "react";
import { Field } from "./field.tsx";
import { useNarrow } from "./use-narrow.ts";

interface FiltersProps {
  /** In what the words are looked for. */
  readonly within?: string;
  readonly find: string;
  readonly typed: (words: string) => void;
  /** What the choices are now, as a sentence. */
  readonly chosen: string;
  readonly children: ReactNode;
}

/** Which rows are shown. On a phone the choices fold behind what they are now, so that the rows are on the first screen. */
export function Filters({ within = "a name or id", find, typed, chosen, children }: FiltersProps) {
  const phone = useNarrow("fields");
  return (
    <>
      <p className="on-paper">
        {chosen}
        {find.trim() === "" ? "" : `, with “${find.trim()}” in ${within}`}.
      </p>
      <div className="fields controls">
        <Field words="Find" hint={`words of ${within}`} value={find} typed={typed} />
        {phone ? null : children}
      </div>
      {phone ? (
        <details className="controls">
          <summary>{chosen}</summary>
          <div className="fields">{children}</div>
        </details>
      ) : null}
    </>
  );
}

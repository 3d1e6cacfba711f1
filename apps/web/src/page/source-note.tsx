import { isAside, isOverridden, type Provenance } from "@earthbell/engine";
import { useNarrow } from "./use-narrow.ts";

/** Where a value comes from, in the margin beside it; where there is no margin it unfolds under its line. */
export function SourceNote({ source, tag }: Provenance) {
  const folded = useNarrow("margin");
  if (!folded)
    return (
      <p className="note">
        {source} ({tag})
      </p>
    );
  return (
    <details className="note folded">
      <summary>{wordOf({ source, tag })}</summary>
      {source}
    </details>
  );
}

function wordOf(from: Provenance): string {
  if (isOverridden(from)) return "overridden";
  return isAside(from) ? `${from.tag}, override set aside` : from.tag;
}

import { isAside, isOverridden, type Provenance } from "@earthbell/engine";
import { useSyncExternalStore } from "react";

const narrow = window.matchMedia("(max-width: 60rem)");

function listen(changed: () => void): () => void {
  narrow.addEventListener("change", changed);
  return () => {
    narrow.removeEventListener("change", changed);
  };
}

/** Where a value comes from, in the margin beside it; where there is no margin it unfolds under its line. */
export function SourceNote({ source, tag }: Provenance) {
  const folded = useSyncExternalStore(listen, () => narrow.matches);
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

import type { Provenance } from "@earthbell/engine";

/** Where a value comes from, in the margin beside it; on a narrow page under it. */
export function SourceNote({ source, tag }: Provenance) {
  return (
    <p className="note">
      {source} <span className="tag">({tag})</span>
    </p>
  );
}

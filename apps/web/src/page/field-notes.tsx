interface Notes {
  readonly hint?: string | undefined;
  readonly fault?: string | undefined;
}

/** The ids of the notes of a field, for its description; undefined where it has none. */
export function notesOf(at: string, { hint, fault }: Notes): string | undefined {
  const ids = [
    ...(hint === undefined ? [] : [`${at}-hint`]),
    ...(fault === undefined ? [] : [`${at}-fault`]),
  ];
  return ids.length === 0 ? undefined : ids.join(" ");
}

/** What stands below a field: how it is filled in, and what is wrong with what stands there. */
export function FieldNotes({ at, hint, fault }: Notes & { readonly at: string }) {
  return (
    <>
      {hint === undefined ? null : (
        <span id={`${at}-hint`} className="hint">
          {hint}
        </span>
      )}
      {fault === undefined ? null : (
        <span id={`${at}-fault`} className="wrong">
          {fault}
        </span>
      )}
    </>
  );
}

interface LongerProps {
  /** Rows that are not shown: their number, or "some" where nobody counts them. */
  readonly more: number | "some";
  readonly what: string;
  /** null: so many are shown as the desk names at once. */
  readonly longer: (() => void) | null;
  /** Where the others are found. */
  readonly otherwise: string;
}

/** The end of a list that holds more than is shown. */
export function Longer({ more, what, longer, otherwise }: LongerProps) {
  if (more === 0) return null;
  return (
    <p className="row">
      {more === "some" ? `There are more ${what}.` : `${more} more ${what}.`}
      {longer === null ? (
        ` ${otherwise}`
      ) : (
        <button type="button" className="word" onClick={longer}>
          Show more
        </button>
      )}
    </p>
  );
}

import { type ReactNode, useState } from "react";

/** Starts work that takes a while, and says on the page when it failed: nothing fails unseen. */
export function useWork(): { readonly start: (work: Promise<unknown>) => void; readonly failure: ReactNode } {
  const [failed, setFailed] = useState<string | null>(null);
  const start = (work: Promise<unknown>): void => {
    setFailed(null);
    work.catch((error: unknown) => {
      setFailed(error instanceof Error ? error.message : String(error));
    });
  };
  const failure =
    failed === null ? null : (
      <p className="wrong" role="alert">
        This did not work: {failed}. What is kept on this device is untouched; load the page again and try
        once more.
      </p>
    );
  return { start, failure };
}

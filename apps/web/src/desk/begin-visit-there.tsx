import { FaultText } from "./fault-text.tsx";
import type { GoingThere } from "./take-site.ts";
import { useStep } from "./use-step.ts";

/** Begins a visit for a site of the desk. What that needs is fetched when it is pressed: most who look at a case do not. */
export function BeginVisitThere(there: GoingThere) {
  const { busy, fault, take } = useStep();
  return (
    <>
      <button
        type="button"
        disabled={busy}
        onClick={() => {
          const now = new Date().toISOString();
          take(async () => {
            const { goThere } = await import("./take-site.ts");
            await goThere(there, now);
            return null;
          });
        }}
      >
        Begin a visit there{there.of === undefined ? "" : "; I have read the cautions above"}
      </button>
      <FaultText fault={fault} />
    </>
  );
}
